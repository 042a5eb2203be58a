/** The task `check`: every problem of the book as lines of a terminal, which the problem matcher reads. */
import * as vscode from 'vscode';
import type { CheckReport } from '../server/src/features/client/check-report.ts';
import type { Server } from './server.ts';

const TYPE = 'gearquill';

export function checkTask(server: Server): vscode.Disposable {
  const task = (definition: vscode.TaskDefinition) => {
    const execution = new vscode.CustomExecution(async () => new CheckTerminal(server));
    const made = new vscode.Task(
      definition,
      vscode.TaskScope.Workspace,
      'check',
      'gearquill',
      execution,
      '$gearquill',
    );
    made.detail = vscode.l10n.t('Lists every problem of the shop book');
    made.group = vscode.TaskGroup.Test;
    made.presentationOptions = { clear: true, reveal: vscode.TaskRevealKind.Always };
    return made;
  };
  return vscode.Disposable.from(
    vscode.tasks.registerTaskProvider(TYPE, {
      provideTasks: () => [task({ type: TYPE, task: 'check' })],
      resolveTask: ({ definition }) => (definition.task === 'check' ? task(definition) : undefined),
    }),
    vscode.commands.registerCommand('gearquill.check', () =>
      vscode.tasks.executeTask(task({ type: TYPE, task: 'check' })),
    ),
  );
}

class CheckTerminal implements vscode.Pseudoterminal {
  readonly #server: Server;
  readonly #write = new vscode.EventEmitter<string>();
  readonly #close = new vscode.EventEmitter<number>();
  readonly onDidWrite = this.#write.event;
  readonly onDidClose = this.#close.event;

  constructor(server: Server) {
    this.#server = server;
  }

  async open(): Promise<void> {
    const report = await this.#server.ask('gearquill/check', {});
    if (!report) {
      this.#say(vscode.l10n.t('The language server does not run; nothing was checked.'));
      this.#close.fire(2);
      return;
    }
    for (const line of reportLines(report, (uri) => vscode.workspace.asRelativePath(uri))) this.#say(line);
    this.#close.fire(report.problems.some((one) => one.severity === 'error') ? 1 : 0);
  }

  close(): void {}

  #say(line: string): void {
    this.#write.fire(`${line}\r\n`);
  }
}

/** As the command line prints them; lines and columns count from 1. */
export function reportLines(report: CheckReport, display: (uri: vscode.Uri) => string): string[] {
  const count = (severity: string) => report.problems.filter((one) => one.severity === severity).length;
  return [
    ...report.problems.map(({ uri, range, severity, message, code }) => {
      const place = `${display(vscode.Uri.parse(uri))}:${range.start.line + 1}:${range.start.character + 1}`;
      return `${place}: ${severity}: ${message.replace(/\s*[\r\n]+\s*/g, ' ')} [${code}]`;
    }),
    vscode.l10n.t(
      'Files checked: {0}. Errors: {1}. Warnings: {2}.',
      report.files,
      count('error'),
      count('warning'),
    ),
  ];
}
