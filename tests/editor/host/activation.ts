import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { JOB, open, uriOf } from './book.ts';
import { eventually, test } from './suite.ts';

const extension = () => vscode.extensions.getExtension('gearquill.gearquill')!;

test('the extension starts because the folder has a shop.yaml', async () => {
  assert.ok(extension(), 'the extension is there');
  await eventually(() => extension().isActive);
});

test('every command of the manifest is registered', async () => {
  const known = new Set(await vscode.commands.getCommands(true));
  const declared: { command: string }[] = extension().packageJSON.contributes.commands;
  assert.deepEqual(
    declared.map((one) => one.command).filter((one) => !known.has(one)),
    [],
  );
});

test('files get the language of their kind', async () => {
  const languages = await Promise.all(
    ['shop.yaml', 'catalog.parts.yaml', 'work.labor.yaml', 'shop.rules.yaml', 'shop.cases.yaml', JOB].map(
      async (path) => {
        const document = await vscode.workspace.openTextDocument(uriOf(path));
        return document.languageId;
      },
    ),
  );
  assert.deepEqual(languages, [
    'gearquill-shop',
    'gearquill-parts',
    'gearquill-labor',
    'gearquill-rules',
    'gearquill-cases',
    'gearquill-job',
  ]);
});

test('a YAML file of another name whose kind is ours becomes ours, and stays YAML when it is not', async () => {
  const encoder = new TextEncoder();
  await vscode.workspace.fs.writeFile(uriOf('old-list.yaml'), encoder.encode('kind: parts\nparts: {}\n'));
  await vscode.workspace.fs.writeFile(uriOf('pipeline.yaml'), encoder.encode('kind: Job\nsteps: []\n'));
  await open('old-list.yaml');
  await open('pipeline.yaml');
  const languageOf = (path: string) =>
    vscode.workspace.textDocuments.find((one) => one.uri.path.endsWith(path))?.languageId;
  await eventually(() => languageOf('old-list.yaml') === 'gearquill-parts');
  assert.equal(languageOf('pipeline.yaml'), 'yaml');
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
  await vscode.workspace.fs.delete(uriOf('old-list.yaml'));
  await vscode.workspace.fs.delete(uriOf('pipeline.yaml'));
});
