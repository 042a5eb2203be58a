import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { JOB, open, uriOf } from './book.ts';
import { eventually, test } from './suite.ts';

test('the preview opens beside the job, and keeps the keyboard in the job', async () => {
  await open(JOB);
  await vscode.commands.executeCommand('gearquill.openPreview');
  const tab = await eventually(() =>
    vscode.window.tabGroups.all.flatMap((group) => group.tabs).find((one) => one.label === 'Estimate J-1'),
  );
  assert.ok(tab.input instanceof vscode.TabInputWebview);
  assert.equal(tab.group.viewColumn, vscode.ViewColumn.Two);
  assert.ok(vscode.window.activeTextEditor?.document.uri.path.endsWith(JOB));
  await vscode.window.tabGroups.close(tab);
});

test('the task "check" lists problems, and fails because there are errors', async () => {
  const [task] = await eventually(async () => {
    const found = await vscode.tasks.fetchTasks({ type: 'gearquill' });
    return found.length > 0 && found;
  });
  const ended = new Promise<number | undefined>((resolve) => {
    const listener = vscode.tasks.onDidEndTaskProcess(({ exitCode, execution }) => {
      if (execution.task.name !== 'check') return;
      listener.dispose();
      resolve(exitCode);
    });
  });
  await vscode.tasks.executeTask(task!);
  assert.equal(await ended, 1);
});

test('the small shop book is written into an empty folder, and nothing is written over', async () => {
  const folder = uriOf('branch');
  await vscode.workspace.fs.createDirectory(folder);
  await vscode.commands.executeCommand('gearquill.startBook', folder);
  const files = await vscode.workspace.fs.readDirectory(folder);
  assert.deepEqual(files.map(([name]) => name).sort(), [
    'catalog.parts.yaml',
    'families.units.yaml',
    'jobs',
    'local.jurisdiction.yaml',
    'shop.cases.yaml',
    'shop.rules.yaml',
    'shop.yaml',
    'work.labor.yaml',
  ]);
  assert.ok(vscode.window.activeTextEditor?.document.uri.path.endsWith('branch/jobs/J-1.job.yaml'));
  await vscode.workspace.fs.writeFile(
    uriOf('branch/shop.yaml'),
    new TextEncoder().encode('kind: shop\nname: Mine\n'),
  );
  void vscode.commands.executeCommand('gearquill.startBook', folder);
  await new Promise((resolve) => setTimeout(resolve, 500));
  const shop = new TextDecoder().decode(await vscode.workspace.fs.readFile(uriOf('branch/shop.yaml')));
  assert.equal(shop, 'kind: shop\nname: Mine\n');
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
  await vscode.workspace.fs.delete(folder, { recursive: true });
});

test('the walkthrough opens', async () => {
  await vscode.commands.executeCommand('gearquill.getStarted');
  await eventually(() =>
    vscode.window.tabGroups.all
      .flatMap((group) => group.tabs)
      .some((one) => /Walkthrough|Welcome/.test(one.label)),
  );
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
});
