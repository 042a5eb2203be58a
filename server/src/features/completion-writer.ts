/** A snippet writer for a place: its line ends, its indentation, what readings there may be. */
import { type Context, nearest } from './completion-context.ts';
import { indentedBy } from './completion-item.ts';
import { readingOf } from './completion-readings.ts';
import { SnippetWriter } from './completion-snippet.ts';

/** `finding`: what readings are of, where the place itself does not say. */
export function writerAt(
  context: Context,
  finding: string | undefined = nearest(context, 'finding'),
): SnippetWriter {
  const { ask, piece } = context;
  const layout = {
    snippets: ask.client.snippets,
    indented: indentedBy(context),
    eol: piece.text.includes('\r\n') ? '\r\n' : '\n',
    today: ask.today,
  };
  return new SnippetWriter(layout, readingOf(context, finding));
}
