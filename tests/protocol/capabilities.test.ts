import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ServerCapabilities } from 'vscode-languageserver/node';
import { BOOK, JOB } from './book.ts';
import { ADVERTISED, ALWAYS, FULL } from './capabilities.ts';
import { Client } from './client.ts';
import { requests } from './meta-model.ts';

const METHOD_NOT_FOUND = -32601;

/** Whether the server has anyone to answer a request, whatever the answer is. */
async function answers(client: Client, method: string): Promise<boolean> {
  try {
    await client.ask(method, {
      textDocument: { uri: client.uri(JOB) },
      position: { line: 0, character: 0 },
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
      positions: [],
      previousResultIds: [],
      query: 'x',
      files: [],
      context: { diagnostics: [], includeDeclaration: true, triggerKind: 1 },
    });
    return true;
  } catch (error) {
    return (error as { code: number }).code !== METHOD_NOT_FOUND;
  }
}

describe.each([
  ['an editor that can do everything', FULL],
  ['an editor that can do nothing', {}],
])('capabilities for %s', (_name, capabilities) => {
  let client: Client;
  beforeAll(async () => {
    client = await Client.start(BOOK, { capabilities });
  });
  afterAll(() => client.stop());

  const methods = [...requests.values()]
    .filter((one) => one.messageDirection !== 'serverToClient' && !ALWAYS.has(one.method))
    .map((one) => one.method);

  it('covers every request of the protocol', () => {
    expect(methods.filter((method) => !ADVERTISED[method])).toEqual([]);
    expect(methods.length).toBe(Object.keys(ADVERTISED).length);
  });

  it.each(methods)('%s is answered exactly when it is advertised', async (method) => {
    const can = client.initialized.capabilities as ServerCapabilities;
    const says = ADVERTISED[method]!(can);
    expect(await answers(client, method)).toBe(says !== undefined && says !== false && says !== null);
  });
});
