/** The recipes for use outside VS Code: what they call is there, and does what they say. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import {
  createMessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { KINDS } from '../../schemas/index.ts';
import { program } from '../../server/src/cli/program.ts';
import { SAMPLE } from './sample/sample.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const CLI = join(ROOT, 'server/src/cli.ts');
const recipe = (name: string) => readFileSync(join(ROOT, 'samples/recipes', name), 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'gearquill-recipes-'));
afterAll(() => rmSync(folder, { recursive: true }));

function run(args: readonly string[], cwd = folder) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, ...args], { cwd, encoding: 'utf8' });
  return { status, stdout, stderr };
}

it('commands and options that recipes call are those of the command line', () => {
  const calls = ['README.md', 'check-pull-request.yml', 'pre-commit'].flatMap((name) =>
    [...recipe(name).matchAll(/gearquill ([a-z-]+)([^`\n>]*)/g)].map(([, command = '', rest = '']) => ({
      command,
      rest,
    })),
  );
  expect(calls.length).toBeGreaterThan(4);
  for (const { command, rest } of calls) {
    const known = program.commands.find((one) => one.name() === command);
    expect(known, command).toBeDefined();
    for (const [option] of rest.matchAll(/--[a-z-]+/g))
      expect(
        known!.options.map((one) => one.long),
        command,
      ).toContain(option);
  }
  const { bin } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  expect(Object.keys(bin)).toEqual(['gearquill', 'gearquill-server']);
  for (const name of ['neovim.lua', 'helix.toml']) expect(recipe(name)).toContain('gearquill-server');
});

it('every kind of file has its schema in the recipe for YAML editors', () => {
  const { 'yaml.schemas': schemas } = JSON.parse(recipe('yaml-editors.json'));
  const wanted = KINDS.map(({ kind, suffix }) => [
    `./node_modules/gearquill/schemas/json/${kind}.schema.json`,
    suffix.startsWith('.') ? `**/*${suffix}` : `**/${suffix}`,
  ]);
  expect(schemas).toEqual(Object.fromEntries(wanted));
});

describe('a price list becomes a first book', () => {
  const prices = join(folder, 'North list.csv');
  writeFileSync(
    prices,
    'Part number,Description,Your cost,Core\n0071,"Seal, front",4.10,\n24E7,Converter,240.00,80.00\nBAD-1,Nothing,0.00,\n',
  );

  it('that is checked, priced, and keeps numbers as typed', () => {
    const made = run(['new-book', 'shop', '--from-prices', prices, '--sort', 'hard']);
    expect(made.stderr).toBe('');
    expect(made.stdout).toContain('2 of 3 rows taken over into north-list.parts.yaml');
    expect(made.stdout).toMatch(/North list\.csv:4: BAD-1/);
    const text = readFileSync(join(folder, 'shop/north-list.parts.yaml'), 'utf8');
    expect(text).toContain('  0071:\n    name: Seal, front\n    kind: hard\n    cost: 4.10\n');
    expect(text).toContain(
      '  24E7:\n    name: Converter\n    kind: hard\n    cost: 240.00\n    core: 80.00\n',
    );
    expect(run(['price', 'J-1', '--book', 'shop']).status).toBe(0);
    expect(run(['test', 'shop']).status).toBe(0);
  });

  it('once, and not over what is there', () => {
    const again = run(['new-book', 'shop']);
    expect(again.status).toBe(2);
    expect(again.stderr).toContain('Nothing is written: shop has');
    expect(run(['new-book', 'other', '--from-prices', 'none.csv'])).toMatchObject({ status: 2 });
    expect(existsSync(join(folder, 'other'))).toBe(false);
  });
});

// SARIF 2.1.0 (OASIS), from memory: sarifLog 3.13, run 3.14, toolComponent 3.19, result 3.27, region 3.30.
it('SARIF has what the standard requires, and names files from the folder it runs in', () => {
  const { stdout } = run(['check', 'samples/quarrow-creek', '--sarif'], ROOT);
  const log = JSON.parse(stdout);
  expect(log.version).toBe('2.1.0');
  expect(log.runs).toHaveLength(1);
  const [{ tool, results, columnKind }] = log.runs;
  expect(tool.driver.name).toBe('Gearquill');
  expect(columnKind).toBe('utf16CodeUnits');
  expect(results.length).toBeGreaterThan(0);
  for (const result of results) {
    expect(['none', 'note', 'warning', 'error']).toContain(result.level);
    expect(result.message.text).not.toBe('');
    expect(tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId);
    const { artifactLocation, region } = result.locations[0].physicalLocation;
    expect(existsSync(join(ROOT, decodeURIComponent(artifactLocation.uri)))).toBe(true);
    expect(region.startLine).toBeGreaterThan(0);
    expect(region.startColumn).toBeGreaterThan(0);
    expect([region.endLine, region.endColumn] >= [region.startLine, region.startColumn]).toBe(true);
  }
  for (const rule of tool.driver.rules) expect(rule.help.text).toMatch(/\.$/);
});

// A general editor: yaml-language-server with the JSON Schemas and nothing else of ours.
it('a YAML language server finds nothing wrong with the samples, and finds a wrong field', async () => {
  const server = spawn(process.execPath, [
    join(ROOT, 'node_modules/yaml-language-server/bin/yaml-language-server'),
    '--stdio',
  ]);
  const connection = createMessageConnection(
    new StreamMessageReader(server.stdout),
    new StreamMessageWriter(server.stdin),
  );
  const schemas = Object.fromEntries(
    KINDS.map(({ kind, suffix }) => [
      pathToFileURL(join(ROOT, `schemas/json/${kind}.schema.json`)).href,
      suffix.startsWith('.') ? `*${suffix}` : suffix,
    ]),
  );
  const yaml = { schemas, validate: true, schemaStore: { enable: false } };
  connection.onRequest('workspace/configuration', ({ items }: { items: { section: string }[] }) =>
    items.map(({ section }) => (section === 'yaml' ? yaml : null)),
  );
  connection.onRequest('client/registerCapability', () => null);
  const told = new Map<string, (messages: string[]) => void>();
  connection.onNotification('textDocument/publishDiagnostics', ({ uri, diagnostics }) =>
    told.get(uri)?.(diagnostics.map((one: { message: string }) => one.message)),
  );
  connection.listen();
  try {
    await connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: null,
      capabilities: { workspace: { configuration: true, didChangeConfiguration: {} } },
    });
    await connection.sendNotification('initialized', {});
    await connection.sendNotification('workspace/didChangeConfiguration', { settings: { yaml } });
    const diagnosed = (name: string, text: string) => {
      const uri = pathToFileURL(join(folder, name)).href;
      const answer = new Promise<string[]>((done) => told.set(uri, done));
      void connection.sendNotification('textDocument/didOpen', {
        textDocument: { uri, languageId: 'yaml', version: 1, text },
      });
      return answer;
    };
    const sample = (name: string) => readFileSync(join(SAMPLE, name), 'utf8');
    for (const name of [
      'jobs/J-1042.job.yaml',
      'parts/fennick.parts.yaml',
      'common/shop.yaml',
      'rules/vehicle.rules.yaml',
    ])
      expect(await diagnosed(name, sample(name)), name).toEqual([]);
    const slip = sample('parts/fennick.parts.yaml').replace('    cost: 265.00', '    csot: 265.00');
    expect(await diagnosed('slip.parts.yaml', slip)).toEqual(['Property csot is not allowed.']);
  } finally {
    connection.dispose();
    server.kill();
  }
}, 60_000);
