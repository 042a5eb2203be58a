import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { after, codesOf, inside, JOB, open, replace, revert, untilCodes, uriOf } from './book.ts';
import { eventually, test } from './suite.ts';

test('missing work is shown where the job asks for it', async () => {
  const { document } = await open(JOB);
  await untilCodes(document.uri, (codes) => codes.filter((one) => one === 'missing-work').length === 2);
  const flush = vscode.languages
    .getDiagnostics(document.uri)
    .find((one) => one.message.startsWith('Cooler flush'));
  assert.equal(document.getText(flush?.range), 'metal-in-pan');
  assert.equal(flush?.severity, vscode.DiagnosticSeverity.Error);
});

test('its code leads to a page that explains it', async () => {
  const page = await vscode.workspace.openTextDocument(vscode.Uri.parse('gearquill-code:/missing-work.md'));
  assert.match(page.getText(), /^# .+\n\n`missing-work`/);
});

test('the problem goes while the cause is typed away, and comes back', async () => {
  const editor = await open(JOB);
  await untilCodes(editor.document.uri, (codes) => codes.includes('missing-work'));
  await replace(editor, 'metal-in-pan: flakes', 'metal-in-pan: paste');
  await untilCodes(editor.document.uri, (codes) => !codes.includes('missing-work'));
  await revert(editor);
  await untilCodes(editor.document.uri, (codes) => codes.includes('missing-work'));
});

test('an unknown part is an error, with a quick fix that spells it right', async () => {
  const editor = await open(JOB);
  await replace(editor, 'part: KIT-A4', 'part: KIT-A5');
  await untilCodes(editor.document.uri, (codes) => codes.includes('unknown-reference'));
  const at = inside(editor.document, 'KIT-A5');
  const actions = await eventually(async () => {
    const found: vscode.CodeAction[] = await vscode.commands.executeCommand(
      'vscode.executeCodeActionProvider',
      editor.document.uri,
      new vscode.Range(at, at),
      'quickfix',
      10,
    );
    return found.length > 0 && found;
  });
  const fix = actions.find((one) => one.title.includes('KIT-A4'))!;
  assert.ok(fix, actions.map((one) => one.title).join('\n'));
  await vscode.workspace.applyEdit(fix.edit!);
  assert.match(editor.document.getText(), /part: KIT-A4/);
  await revert(editor);
});

test('the missing cooler flush is added by its quick fix, and is no longer missing', async () => {
  const editor = await open(JOB);
  await replace(editor, 'options:', 'chosen: overhaul\n\noptions:');
  await untilCodes(
    editor.document.uri,
    (codes) => codes.filter((one) => one === 'missing-work').length === 2,
  );
  const at = inside(editor.document, '\n  metal-in-pan');
  const add = await eventually(async () => {
    const actions: vscode.CodeAction[] = await vscode.commands.executeCommand(
      'vscode.executeCodeActionProvider',
      editor.document.uri,
      new vscode.Range(at, at),
      'quickfix',
      10,
    );
    return actions.find((one) => /^Add Flush the cooler/.test(one.title));
  });
  await vscode.workspace.applyEdit(add.edit!);
  assert.match(editor.document.getText(), /- operation: cooler-flush/);
  await untilCodes(
    editor.document.uri,
    (codes) => codes.filter((one) => one === 'missing-work').length === 1,
  );
  await revert(editor);
});

test('a change of the shop is felt in the job: a rate, without saving it', async () => {
  const shop = await open('shop.yaml');
  const job = await vscode.workspace.openTextDocument(uriOf(JOB));
  const total = async () => {
    const hints: vscode.InlayHint[] = await vscode.commands.executeCommand(
      'vscode.executeInlayHintProvider',
      job.uri,
      new vscode.Range(0, 0, job.lineCount, 0),
    );
    return hints.map((one) =>
      typeof one.label === 'string' ? one.label : one.label.map((part) => part.value).join(''),
    );
  };
  await eventually(async () => (await total()).some((label) => label.includes('$2,833.72')));
  await replace(shop, 'hourly: 150.00', 'hourly: 160.00');
  // 6.5 hours at ten dollars more; the supplies line is at its maximum already.
  await eventually(async () => (await total()).some((label) => label.includes('$2,898.72')));
  await revert(shop);
});

test('a file that is closed is checked too', async () => {
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
  await vscode.workspace.fs.writeFile(
    uriOf('jobs/J-2.job.yaml'),
    new TextEncoder().encode('kind: job\nid: J-2\nopened: 2026-03-02\nunit: no-such-unit\n'),
  );
  await untilCodes(uriOf('jobs/J-2.job.yaml'), (codes) => codes.includes('unknown-reference'));
  await vscode.workspace.fs.delete(uriOf('jobs/J-2.job.yaml'));
  await untilCodes(uriOf('jobs/J-2.job.yaml'), (codes) => codes.length === 0);
});

test('the server is killed and comes back, with what was typed and not saved', async () => {
  const editor = await open(JOB);
  await untilCodes(editor.document.uri, (codes) => codes.includes('missing-work'));
  await replace(editor, 'metal-in-pan: flakes', 'metal-in-pan: paste');
  await untilCodes(editor.document.uri, (codes) => !codes.includes('missing-work'));
  const before = await serverProcess();
  process.kill(before, 'SIGKILL');
  const now = await eventually(async () => {
    const found = await serverProcess();
    return found !== before && found;
  });
  assert.notEqual(now, before);
  await replace(editor, 'metal-in-pan: paste', 'metal-in-pan: pieces');
  await untilCodes(editor.document.uri, (codes) => codes.includes('missing-work'));
  await revert(editor);
  await untilCodes(editor.document.uri, (codes) => codes.includes('missing-work'));
  assert.ok(codesOf(editor.document.uri).length > 0);
  assert.ok(after(editor.document, 'metal-in-pan: flakes'));
});

/** The process id of the language server: a child of this extension host. */
async function serverProcess(): Promise<number> {
  const { execFileSync } = await import('node:child_process');
  const list = execFileSync('ps', ['-eo', 'pid=,ppid=,args='], { encoding: 'utf8' });
  const rows = list.split('\n').map((line) => /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(line));
  const row = rows.find((one) => one && Number(one[2]) === process.pid && /server\.cjs/.test(one[3]!));
  if (!row) throw new Error('There is no process of the language server.');
  return Number(row[1]);
}
