#!/usr/bin/env node
/** Starts the language server as a process: `--stdio`, `--node-ipc`, `--socket=<port>` or `--pipe=<name>`. */
import { createConnection } from 'vscode-languageserver/node';
import { DISK_FILES } from './lsp/disk-files.ts';
import { serve } from './lsp.ts';

const connection = createConnection();
for (const event of ['uncaughtException', 'unhandledRejection'])
  process.on(event, (error: unknown) =>
    connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error)),
  );
serve(connection, DISK_FILES);
