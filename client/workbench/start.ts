/** Opens the sample shop book in an editor: the second half of `npm start`. */
import { join } from 'node:path';
import { openInEditor } from './open.ts';

const SAMPLE = join(import.meta.dirname, '../../samples/quarrow-creek');
const say = (text: string) => process.stdout.write(`${text}\n`);

if (process.env.CI) {
  say('To edit the sample shop book, run npm start where there is a screen.');
} else {
  try {
    say(await openInEditor(SAMPLE, say));
  } catch (error) {
    say(`No editor could be opened. ${error instanceof Error ? error.message : String(error)}`);
    say(`Open ${SAMPLE} in VS Code, or in any editor with a language client.`);
  }
}
