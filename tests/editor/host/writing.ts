import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { after, inside, JOB, open, replace, revert, uriOf } from './book.ts';
import { eventually, test } from './suite.ts';

async function completions(editor: vscode.TextEditor, at: vscode.Position): Promise<vscode.CompletionItem[]> {
  const list: vscode.CompletionList = await vscode.commands.executeCommand(
    'vscode.executeCompletionItemProvider',
    editor.document.uri,
    at,
    undefined,
    30,
  );
  return list.items;
}

const labelOf = ({ label }: vscode.CompletionItem) => (typeof label === 'string' ? label : label.label);

test('completion offers parts of the book, those that fit the unit', async () => {
  const editor = await open(JOB);
  await replace(editor, '      - part: TC-A4', '      - part: ');
  const items = await eventually(async () => {
    const found = await completions(editor, after(editor.document, 'KIT-A4\n      - part: '));
    return found.some((one) => labelOf(one) === 'TC-A4') && found;
  });
  assert.ok(items.some((one) => labelOf(one) === 'UNIT-A4-X'));
  await revert(editor);
});

test('completion offers the fields of a job that are not there yet', async () => {
  const editor = await open(JOB);
  await replace(editor, 'complaint:', '\ncomplaint:');
  const line = after(editor.document, 'unit: alder-4\n');
  const labels = (await completions(editor, line)).map(labelOf);
  assert.ok(labels.includes('records'), labels.join(', '));
  assert.ok(!labels.includes('unit'), 'what is there is not offered again');
  await revert(editor);
});

test('hover shows the price of a part', async () => {
  const { document } = await open(JOB);
  await eventually(async () => {
    const hovers: vscode.Hover[] = await vscode.commands.executeCommand(
      'vscode.executeHoverProvider',
      document.uri,
      inside(document, 'part: KIT-A4'),
    );
    const contents = hovers.flatMap((one) => one.contents);
    const text = contents.map((one) => (typeof one === 'string' ? one : one.value)).join('\n');
    assert.match(text, /Overhaul kit, Alder-4/);
    assert.match(text, /384\.80/);
    return true;
  }, 10_000);
});

test('rename changes a part everywhere, and keeps the comments', async () => {
  const catalog = await open('catalog.parts.yaml');
  const edit: vscode.WorkspaceEdit = await vscode.commands.executeCommand(
    'vscode.executeDocumentRenameProvider',
    catalog.document.uri,
    inside(catalog.document, '\n  KIT-A4'),
    'KIT-0071',
  );
  const files = edit.entries().map(([uri]) => uri.path.split('/').at(-1));
  assert.deepEqual(files.sort(), ['J-1.job.yaml', 'catalog.parts.yaml']);
  await vscode.workspace.applyEdit(edit);
  const job = await vscode.workspace.openTextDocument(uriOf(JOB));
  assert.match(job.getText(), /# Made up, not for repair\.[\s\S]*- part: KIT-0071/);
  assert.match(catalog.document.getText(), /\n {2}KIT-0071:\n {4}name: Overhaul kit/);
  await revert(await open('catalog.parts.yaml'));
  await revert(await open(JOB));
});

test('formatting leaves a tidy file as it is', async () => {
  const { document } = await open(JOB);
  const edits: vscode.TextEdit[] | undefined = await vscode.commands.executeCommand(
    'vscode.executeFormatDocumentProvider',
    document.uri,
    { tabSize: 2, insertSpaces: true },
  );
  assert.deepEqual(
    (edits ?? []).map((one) => one.newText),
    [],
  );
});
