import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { inside, JOB, open, uriOf } from './book.ts';
import { eventually, test } from './suite.ts';

test('definition: from a line of the job to the part', async () => {
  const { document } = await open(JOB);
  const [found] = await eventually(async () => {
    const all: (vscode.Location | vscode.LocationLink)[] = await vscode.commands.executeCommand(
      'vscode.executeDefinitionProvider',
      document.uri,
      inside(document, 'part: KIT-A4'),
    );
    return all.length > 0 && all;
  });
  const uri = found && ('targetUri' in found ? found.targetUri : found.uri);
  assert.equal(uri?.toString(), uriOf('catalog.parts.yaml').toString());
});

test('references: from the unit family to the jobs that have it', async () => {
  const { document } = await open('families.units.yaml');
  const found: vscode.Location[] = await vscode.commands.executeCommand(
    'vscode.executeReferenceProvider',
    document.uri,
    inside(document, '\n  alder-4'),
  );
  assert.ok(found.some((one) => one.uri.toString() === uriOf(JOB).toString()));
});

test('symbols of a file and of the whole book', async () => {
  const { document } = await open('work.labor.yaml');
  const own: vscode.DocumentSymbol[] = await vscode.commands.executeCommand(
    'vscode.executeDocumentSymbolProvider',
    document.uri,
  );
  const flat = (all: readonly vscode.DocumentSymbol[]): string[] =>
    all.flatMap((one) => [one.name, ...flat(one.children)]);
  assert.ok(
    flat(own).some((one) => one.includes('cooler-flush')),
    flat(own).join(', '),
  );
  const all: vscode.SymbolInformation[] = await vscode.commands.executeCommand(
    'vscode.executeWorkspaceSymbolProvider',
    'KIT-A4',
  );
  assert.ok(all.some((one) => one.name.includes('KIT-A4')));
});

test('code lens: the total of each option above it', async () => {
  const { document } = await open(JOB);
  const titles = await eventually(async () => {
    const lenses: vscode.CodeLens[] = await vscode.commands.executeCommand(
      'vscode.executeCodeLensProvider',
      document.uri,
      20,
    );
    const found = lenses.map((one) => one.command?.title ?? '');
    return found.some((one) => one.includes('$2,833.72')) && found;
  });
  assert.ok(
    titles.some((one) => one.includes('missing')),
    titles.join('\n'),
  );
});
