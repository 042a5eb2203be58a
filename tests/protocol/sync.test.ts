import { afterEach, describe, expect, it } from 'vitest';
import type { Diagnostic, LocationLink, WorkspaceSymbol } from 'vscode-languageserver/node';
import { BOOK, JOB, place } from './book.ts';
import { Client, type Setting } from './client.ts';

let client: Client;
const start = async (setting?: Setting, files = BOOK) => {
  client = await Client.start(files, setting);
  return client;
};
afterEach(async () => {
  expect(client.recorder.problems).toEqual([]);
  await client.stop();
});

const codes = async (name: string) => {
  const { items } = await client.about<{ items: Diagnostic[] }>('textDocument/diagnostic', name);
  return items.map((one) => one.code);
};
const names = async (query: string) =>
  (await client.ask<WorkspaceSymbol[]>('workspace/symbol', { query })).map((one) => one.name.split(' ')[0]);

const at = (line: number, from: number, to: number) => ({
  start: { line, character: from },
  end: { line, character: to },
});

describe('documents', () => {
  it('count as they are typed, not as they are on disk, until they are closed', async () => {
    await start();
    await client.open('b6.parts.yaml', BOOK['b6.parts.yaml']!);
    await client.change('b6.parts.yaml', { range: at(3, 2, 6), text: 'NEW-7' });
    expect(await names('NEW-7')).toEqual(['NEW-7']);
    expect(await codes(JOB)).toContain('unknown-reference');

    // What happens on disk meanwhile does not touch the open document.
    client.write('b6.parts.yaml', 'kind: parts\nparts: { DISK-1: { name: x, kind: soft } }\n');
    await client.watched(['b6.parts.yaml', 2]);
    await new Promise((done) => setTimeout(done, 150));
    expect(await names('DISK-1')).toEqual([]);

    await client.close('b6.parts.yaml');
    expect(await names('DISK-1')).toEqual(['DISK-1']);
    expect(await names('NEW-7')).toEqual([]);
  });

  it('take changes in UTF-16, several at a time, ranges and whole texts mixed', async () => {
    await start();
    const text = 'kind: parts\r\nparts:\r\n  "🔧-1": { name: "🔧", kind: soft }\r\n';
    await client.open('b6.parts.yaml', text);
    await client.change(
      'b6.parts.yaml',
      { range: at(2, 5, 7), text: '-🔧' },
      { range: at(2, 20, 20), text: '🔧🔧' },
      { range: { start: { line: 2, character: 0 }, end: { line: 2, character: 0 } }, text: '  A: {}\r\n' },
    );
    expect(await names('🔧-🔧')).toEqual(['🔧-🔧']);
    await client.change(
      'b6.parts.yaml',
      { text: 'kind: parts\nparts:\n  W-1: { name: x, kind: soft }\n' },
      { range: at(2, 4, 5), text: '22' },
    );
    expect(await names('W-22')).toEqual(['W-22']);
    expect(await names('🔧')).toEqual([]);
  });

  it('are known under any spelling of their name, and answered in the client’s', async () => {
    await start({}, { ...BOOK, 'jobs/J 1 (a).job.yaml': BOOK[JOB]!.replace('J-1', 'J-9') });
    // VS Code escapes brackets and quotes, which the URL standard leaves as they are.
    const uri = client.uri('jobs/J 1 (a).job.yaml').replace('(', '%28').replace(')', '%29');
    const text = BOOK[JOB]!.replace('J-1', 'J-9');
    const document = { uri, languageId: 'yaml', version: 1, text };
    await client.connection.sendNotification('textDocument/didOpen', { textDocument: document });
    expect(await names('J-9')).toEqual(['J-9']);
    const [symbol] = await client.ask<WorkspaceSymbol[]>('workspace/symbol', { query: 'J-9' });
    expect(symbol!.location.uri).toBe(uri);
  });

  it('outside every folder have a book of their own, and are forgotten when they are closed', async () => {
    await start({ folders: ['jobs'] });
    const name = 'elsewhere/x.parts.yaml';
    await client.open(name, 'kind: parts\nparts: { OUT-1: { name: x, kind: soft } }\n');
    expect(await names('OUT-1')).toEqual(['OUT-1']);
    await client.close(name);
    expect(await names('OUT-1')).toEqual([]);
  });
});

describe('files that change outside', () => {
  it('are read again, hundreds at once as after a checkout', async () => {
    const files: Record<string, string> = { ...BOOK };
    for (let i = 0; i < 200; i++)
      files[`many/p${i}.parts.yaml`] = `kind: parts\nparts: { OLD-${i}: { name: x, kind: soft } }\n`;
    await start({}, files);
    expect(await names('OLD-17')).toContain('OLD-17');
    const changes: [string, 1 | 2 | 3][] = [];
    for (let i = 0; i < 200; i++) {
      const name = `many/p${i}.parts.yaml`;
      if (i % 3 === 0) client.remove(name);
      else client.write(name, `kind: parts\nparts: { NEW-${i}: { name: x, kind: soft } }\n`);
      changes.push([name, i % 3 === 0 ? 3 : 2]);
      client.write(`more/q${i}.parts.yaml`, `kind: parts\nparts: { ADDED-${i}: { name: x, kind: soft } }\n`);
      changes.push([`more/q${i}.parts.yaml`, 1]);
    }
    const refreshed = client.asked('workspace/diagnostic/refresh');
    for (let from = 0; from < changes.length; from += 40)
      await client.watched(...changes.slice(from, from + 40));
    await refreshed;
    expect(await names('OLD-17')).not.toContain('OLD-17');
    expect(await names('NEW-199')).toEqual(['NEW-199']);
    expect(await names('NEW-198')).not.toContain('NEW-198');
    expect(await names('ADDED-150')).toEqual(['ADDED-150']);
  });

  it('may be whole folders, told of as one thing', async () => {
    await start();
    client.remove('jobs');
    client.write('later/J-5.job.yaml', BOOK[JOB]!.replace('J-1', 'J-5'));
    const refreshed = client.asked('workspace/diagnostic/refresh');
    await client.watched(['jobs', 3], ['later', 1]);
    await refreshed;
    expect(await names('J-1')).toEqual([]);
    expect(await names('J-5')).toEqual(['J-5']);
  });

  it('may be price files and pictures', async () => {
    await start(
      {},
      {
        ...BOOK,
        'list.parts.yaml': 'kind: parts\nfrom: { file: list.csv, columns: { number: No }, kind: soft }\n',
        'list.csv': 'No\nG-1\n',
      },
    );
    expect(await names('G-1')).toEqual(['G-1']);
    expect(await codes('roles.rules.yaml')).not.toContain('file-missing');
    client.write('list.csv', 'No\nG-2\n');
    client.remove('pictures/clean.jpg');
    const refreshed = client.asked('workspace/diagnostic/refresh');
    await client.watched(['list.csv', 2], ['pictures/clean.jpg', 3]);
    await refreshed;
    expect(await names('G-')).toEqual(['G-2']);
    expect(await codes('roles.rules.yaml')).toContain('file-missing');
  });

  it('are watched at the server’s own request', async () => {
    await start();
    await names('x');
    expect(client.recorder.sent.filter((one) => one.method === 'client/registerCapability')).toMatchObject([
      { from: 'server', params: { registrations: [{ method: 'workspace/didChangeWatchedFiles' }] } },
    ]);
  });
});

describe('reading the workspace', () => {
  it('is shown from its beginning to its end', async () => {
    await start();
    await names('x');
    const told = () =>
      client.recorder.sent
        .filter((one) => one.method === '$/progress')
        .map((one) => (one.params as { value: { kind: string } }).value.kind);
    for (let tries = 0; tries < 100 && !told().includes('end'); tries++)
      await new Promise((done) => setTimeout(done, 20));
    expect([told()[0], told().at(-1)]).toEqual(['begin', 'end']);
  });
});

describe('folders', () => {
  it('hold a book each, and come and go', async () => {
    const other = { ...BOOK, 'b6.parts.yaml': BOOK['b6.parts.yaml']!.replaceAll('TC-', 'XX-') };
    const files = Object.fromEntries([
      ...Object.entries(BOOK).map(([name, text]) => [`north/${name}`, text]),
      ...Object.entries(other).map(([name, text]) => [`south/${name}`, text]),
    ]);
    await start({ folders: ['north', 'south'] }, files);
    const definitions = async (name: string) => {
      const links = await client.at<LocationLink[]>('textDocument/definition', name, place(JOB, 'TC-1'));
      return links.map((one) => client.name(one.targetUri));
    };
    expect(await definitions(`north/${JOB}`)).toEqual(['north/b6.parts.yaml']);
    expect(await definitions(`south/${JOB}`)).toEqual([]);
    const folder = (name: string) => ({ uri: client.uri(name), name });
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [], removed: [folder('south')] },
    });
    expect(await names('XX-1')).toEqual([]);
    expect(await names('TC-1')).toEqual(['TC-1']);
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [folder('south')], removed: [] },
    });
    expect(await names('XX-1')).toEqual(['XX-1']);
  });
});

describe('trouble', () => {
  it('is answered and logged, and the server goes on', async () => {
    await start();
    const failed = client.ask('callHierarchy/incomingCalls', {
      item: { name: 'x', kind: 1, uri: 'file:///nowhere', range: at(0, 0, 0), selectionRange: at(0, 0, 0) },
    });
    await expect(failed).rejects.toThrow('Gearquill could not answer callHierarchy/incomingCalls.');
    await client.change('b6.parts.yaml', { text: 'x' });
    expect(await names('TC-1')).toEqual(['TC-1']);
    expect(client.logged.join(' ')).toMatch(/is in no book.*is not open/s);
  });

  it('of a refused rename is told in plain words', async () => {
    await start();
    const asked = client.at('textDocument/rename', JOB, place(JOB, 'TC-1'), { newName: 'TC-2' });
    await expect(asked).rejects.toThrow('There is a part "TC-2" already, in b6.parts.yaml');
    await expect(asked).rejects.toMatchObject({ code: -32803 });
  });

  it('of unreadable files is logged', async () => {
    await start({}, { ...BOOK });
    client.write('binary.parts.yaml', 'x');
    const { writeFileSync } = await import('node:fs');
    writeFileSync(`${client.folder}/binary.parts.yaml`, Buffer.from([0xff, 0xfe, 0x00]));
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [], removed: [] },
    });
    expect(await names('TC-1')).toEqual(['TC-1']);
    expect(client.logged.join()).toContain('is not UTF-8 text');
  });
});
