/** Starts the language server as a worker of a page, which the client reads files for. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { serve } from './lsp.ts';

/** What a worker is to itself. */
const self = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];

serve(createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self)));
