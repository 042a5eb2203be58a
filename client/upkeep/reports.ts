/** Reports over the whole book: drift, health, what changed since a revision. */
import * as vscode from 'vscode';
import type { ReportAnswer } from '../../server/src/features/upkeep/reports.ts';
import type { REPORT, ReportParams } from '../../server/src/lsp/upkeep.ts';
import { isJob } from '../languages.ts';
import type { Server } from '../server.ts';
import { workShown } from '../work.ts';
import { sinceRevision } from './history.ts';
import { Reports } from './report-pages.ts';
import { whatIfCommand } from './what-if.ts';

const method: typeof REPORT = 'gearquill/report';

/** A price is old after so many months. */
const MONTHS = 12;

export function bookReports(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const pages = new Reports('gearquill-report');
  const show = async (name: string, params: ReportParams | undefined) => {
    const made = params && (await askReport(server, params));
    if (made) await pages.show(name, made.markdown);
  };
  return vscode.Disposable.from(
    pages,
    vscode.commands.registerCommand('gearquill.drift', () =>
      show(vscode.l10n.t('Drift'), { report: 'drift' }),
    ),
    vscode.commands.registerCommand('gearquill.driftOfJob', () => {
      const { document } = vscode.window.activeTextEditor ?? {};
      return isJob(document)
        ? show(vscode.l10n.t('Drift of This Job'), {
            report: 'drift',
            uri: document.uri.toString(),
            near: near(),
          })
        : undefined;
    }),
    vscode.commands.registerCommand('gearquill.health', () =>
      show(vscode.l10n.t('Book Health'), { report: 'health', months: MONTHS, near: near() }),
    ),
    vscode.commands.registerCommand('gearquill.compare', async () =>
      show(vscode.l10n.t('What Changed'), await sinceRevision()),
    ),
    whatIfCommand(context, (params) => askReport(server, params)),
  );
}

/** The file at hand, which says which of several books is meant. */
export function near(): string | undefined {
  return vscode.window.activeTextEditor?.document.uri.toString();
}

function askReport(server: Server, params: ReportParams): Promise<ReportAnswer | undefined> {
  return workShown(server, method, params, {
    title: vscode.l10n.t('Looking through the shop book'),
    none: vscode.l10n.t('There is no report; nothing was changed.'),
  });
}
