/** What goes wrong around the program: the book is whole afterwards, and the program goes on. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { replaceFiles } from '../../server/src/cli/write-files.ts';
import { BOOK, JOB, place } from '../protocol/book.ts';
import { Client } from '../protocol/client.ts';

const folder = mkdtempSync(join(tmpdir(), 'gearquill-faults-'));
afterAll(() => rmSync(folder, { recursive: true }));

const KILLS = Number(process.env.KILLS ?? 12);
const WRITER = new URL('../../server/src/cli/write-files.ts', import.meta.url).href;

/** Two files of one letter each, replaced over and over, both by the same next letter. */
const LOOP = `
import { replaceFiles } from ${JSON.stringify(WRITER)};
const [one, two] = process.argv.slice(1);
process.stdout.write('on\\n');
for (let i = 0; ; i++) {
  const text = 'abcdefghijklmnopqrstuvwxyz'[i % 26].repeat(300_000);
  replaceFiles(new Map([[one, text], [two, text]]));
}`;

describe('the writer', () => {
  it(`killed at ${KILLS} moments: each file is one text or the other, never a part`, async () => {
    const [one, two] = [join(folder, 'one.yaml'), join(folder, 'two.yaml')];
    for (const path of [one, two]) writeFileSync(path, '-'.repeat(300_000));
    for (let i = 0; i < KILLS; i++) {
      const child = spawn(process.execPath, ['--input-type=module', '-e', LOOP, one, two]);
      await once(child.stdout, 'data');
      await new Promise((done) => setTimeout(done, (i * 37) % 150));
      child.kill('SIGKILL');
      await once(child, 'exit');
      for (const path of [one, two]) {
        const text = readFileSync(path, 'utf8');
        expect(text.length).toBe(300_000);
        expect(text).toBe(text[0]!.repeat(300_000));
      }
    }
    // What was left half done is gone after the next run.
    replaceFiles(new Map([one, two].map((path) => [path, 'done'])));
    expect(readdirSync(folder).sort()).toEqual(['one.yaml', 'two.yaml']);
  });

  it.skipIf(!existsSync('/dev/full'))('on a disk that is full: every file is the old one', () => {
    const path = join(folder, 'full.yaml');
    writeFileSync(path, 'old');
    // The second has no folder to be written into, as when the first has used the last of the room.
    expect(() =>
      replaceFiles(
        new Map([
          [path, 'new'],
          [join(folder, 'gone', 'x.yaml'), 'new'],
        ]),
      ),
    ).toThrow(/ENOENT/);
    expect(() => writeFileSync('/dev/full', 'x')).toThrow(/ENOSPC/);
    expect(readFileSync(path, 'utf8')).toBe('old');
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it.skipIf(process.getuid?.() === 0)('in a folder that is read-only: the file is the old one', () => {
    const sealed = join(folder, 'sealed');
    mkdirSync(sealed);
    writeFileSync(join(sealed, 'a.yaml'), 'old');
    chmodSync(sealed, 0o555);
    expect(() => replaceFiles(new Map([[join(sealed, 'a.yaml'), 'new']]))).toThrow(/EACCES/);
    chmodSync(sealed, 0o755);
    expect(readFileSync(join(sealed, 'a.yaml'), 'utf8')).toBe('old');
  });
});

/** Messages of a document, as the server tells them when asked. */
async function told(client: Client, name: string): Promise<string[]> {
  const { items } = await client.about<{ items: { message: string }[] }>('textDocument/diagnostic', name);
  return items.map(({ message }) => message);
}

describe('the server', () => {
  it('is killed in the middle of work and started again: the next one answers the same', async () => {
    const before = await Client.start(BOOK, { transport: 'stdio' });
    await before.open(JOB, BOOK[JOB]!);
    const first = await told(before, JOB);
    void before.ask('workspace/diagnostic', { previousResultIds: [] }).catch(() => undefined);
    before.process!.kill('SIGKILL');
    await once(before.process!, 'exit');
    before.connection.dispose();
    rmSync(before.folder, { recursive: true });
    const after = await Client.start(BOOK, { transport: 'stdio' });
    await after.open(JOB, BOOK[JOB]!);
    expect((await told(after, JOB)).map(unplaced)).toEqual(first.map(unplaced));
    await after.stop();
  });

  it('goes on when a file vanishes, becomes a folder, or is dated in the past', async () => {
    const client = await Client.start(BOOK);
    await client.open(JOB, BOOK[JOB]!);
    const before = await told(client, JOB);

    // Told as changed, gone before it is read; then told as gone.
    client.remove('b6.parts.yaml');
    await client.watched(['b6.parts.yaml', 2]);
    await told(client, JOB);
    await client.watched(['b6.parts.yaml', 3]);
    const gone = expect.stringContaining('There is no part "TC-1"');
    await vi.waitFor(async () => expect(await told(client, JOB)).toContainEqual(gone), 10_000);

    // A folder that is named like a job.
    mkdirSync(join(client.folder, 'jobs/J-2.job.yaml'));
    await client.watched(['jobs/J-2.job.yaml', 1]);
    expect(await told(client, JOB)).toContainEqual(gone);

    // It comes back, older than what the server has seen: the clock was set back.
    client.write('b6.parts.yaml', BOOK['b6.parts.yaml']!);
    utimesSync(join(client.folder, 'b6.parts.yaml'), 0, 0);
    await client.watched(['b6.parts.yaml', 1]);
    await vi.waitFor(async () => expect(await told(client, JOB)).toEqual(before), 10_000);
    expect(client.recorder.problems).toEqual([]);
    await client.stop();
  });

  it('two on one book: each sees what the other has written', async () => {
    const one = await Client.start(BOOK);
    const text = BOOK['b6.parts.yaml']!.replaceAll('TC-2', 'TC-3');
    const two = await Client.start({ ...BOOK, 'b6.parts.yaml': text });
    one.write('b6.parts.yaml', text);
    await one.watched(['b6.parts.yaml', 2]);
    for (const client of [one, two]) await client.open(JOB, BOOK[JOB]!);
    const hovered = async (client: Client) =>
      unplaced(JSON.stringify(await client.at('textDocument/hover', JOB, place(JOB, 'TC-1'))));
    const other = await hovered(two);
    expect(other).toContain('TC-3');
    await vi.waitFor(async () => expect(await hovered(one)).toBe(other), 10_000);
    for (const client of [one, two]) await client.stop();
  });
});

/** The name of the folder differs from run to run. */
function unplaced(message: string): string {
  return message.replace(/gearquill-\w+/g, 'folder');
}
