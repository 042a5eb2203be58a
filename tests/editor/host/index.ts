/** What the editor's extension host runs. */
import './activation.ts';
import './checking.ts';
import './writing.ts';
import './navigating.ts';
import './client.ts';
import { runAll } from './suite.ts';

export function run(): Promise<void> {
  return runAll();
}
