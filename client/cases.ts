/** The shop's own tests in the test explorer. */
import * as vscode from 'vscode';
import type { CaseOutcome } from '../server/src/features/client/cases-view.ts';
import { toRange } from './convert.ts';
import { isCases } from './languages.ts';
import { once } from './once.ts';
import type { Server } from './server.ts';

const CASES = '**/*.cases.yaml';
const PAUSE = 300;

export function testExplorer(server: Server): vscode.Disposable {
  const controller = vscode.tests.createTestController('gearquill.cases', vscode.l10n.t('Shop book cases'));
  const watched = new Set<vscode.TestRunRequest>();

  const list = once(async () => {
    const files = await vscode.workspace.findFiles(CASES, '**/node_modules/**');
    const items = await Promise.all(
      files.map(async (uri) => {
        const item =
          controller.items.get(uri.toString()) ??
          controller.createTestItem(uri.toString(), vscode.workspace.asRelativePath(uri), uri);
        await listCases(item);
        return item;
      }),
    );
    controller.items.replace(items.toSorted((a, b) => a.label.localeCompare(b.label)));
  }, PAUSE);

  const listCases = async (file: vscode.TestItem) => {
    const cases = (await server.ask('gearquill/cases', { uri: file.id })) ?? [];
    const items = cases.map(({ id, name, range }) => {
      const known = file.children.get(id) ?? controller.createTestItem(id, id, file.uri);
      if (name !== undefined) known.description = name;
      known.range = range && toRange(range);
      return known;
    });
    file.children.replace(items);
  };

  const run = async (request: vscode.TestRunRequest) => {
    const testRun = controller.createTestRun(request);
    for (const [file, cases] of chosen(controller, request)) {
      if (testRun.token.isCancellationRequested) break;
      for (const one of cases) testRun.started(one);
      const began = Date.now();
      const outcomes = await server.ask('gearquill/runCases', {
        uri: file.id,
        ids: cases.map((one) => one.id),
      });
      const each = (Date.now() - began) / Math.max(1, cases.length);
      for (const one of cases)
        report(
          testRun,
          one,
          outcomes?.find(({ id }) => id === one.id),
          each,
        );
    }
    testRun.end();
  };

  controller.refreshHandler = async () => list();
  const profile = controller.createRunProfile(
    vscode.l10n.t('Run cases'),
    vscode.TestRunProfileKind.Run,
    async (request, token) => {
      await run(request);
      if (!request.continuous) return;
      watched.add(request);
      token.onCancellationRequested(() => watched.delete(request));
    },
    true,
    undefined,
    true,
  );

  list();
  const runWatched = once(async () => {
    for (const request of watched) await run(request);
  }, PAUSE);
  const files = vscode.workspace.createFileSystemWatcher(CASES);
  return vscode.Disposable.from(
    controller,
    profile,
    files,
    files.onDidCreate(list),
    files.onDidChange(list),
    files.onDidDelete(list),
    vscode.workspace.onDidChangeTextDocument(({ document }) => isCases(document) && list()),
    server.onStateChanged(list),
    server.onChanged(runWatched),
  );
}

/** The cases that a request means, by file. */
function chosen(
  controller: vscode.TestController,
  { include, exclude }: vscode.TestRunRequest,
): Map<vscode.TestItem, vscode.TestItem[]> {
  const left = new Set(exclude);
  const byFile = new Map<vscode.TestItem, vscode.TestItem[]>();
  const take = (one: vscode.TestItem) => {
    if (left.has(one)) return;
    if (!one.parent) {
      for (const [, child] of one.children) take(child);
      return;
    }
    byFile.set(one.parent, [...(byFile.get(one.parent) ?? []), one]);
  };
  for (const one of include ?? [...controller.items].map(([, item]) => item)) take(one);
  return byFile;
}

function report(
  run: vscode.TestRun,
  item: vscode.TestItem,
  outcome: CaseOutcome | undefined,
  took: number,
): void {
  if (!outcome) {
    const text = vscode.l10n.t('This case cannot be read; see the problems of its file.');
    run.errored(item, placed(new vscode.TestMessage(text), item, undefined), took);
  } else if (outcome.failures.length === 0) {
    run.passed(item, took);
  } else {
    const messages = outcome.failures.map(({ message, expected, actual, range }) => {
      const diff = vscode.TestMessage.diff(message, expected, actual);
      return placed(diff, item, range && toRange(range));
    });
    run.failed(item, messages, took);
  }
}

function placed(
  message: vscode.TestMessage,
  item: vscode.TestItem,
  range: vscode.Range | undefined,
): vscode.TestMessage {
  const at = range ?? item.range;
  if (item.uri && at) message.location = new vscode.Location(item.uri, at);
  return message;
}
