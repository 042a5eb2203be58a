/** "Take in a price file": which file and how, the report, and the edits in the editor's own preview. */
import * as vscode from 'vscode';
import { PART_KINDS, type PartKind } from '../../schemas/kinds/shared.ts';
import type { PricesAsked } from '../../server/src/features/upkeep/prices.ts';
import type { PRICES, PricesAnswer } from '../../server/src/lsp/prices.ts';
import { toBase64 } from '../bytes.ts';
import type { Server } from '../server.ts';
import { workShown } from '../work.ts';
import { Reports } from './report-pages.ts';

const method: typeof PRICES = 'gearquill/prices';

/** The editor's preview lists every edit; more than these are better written from the command line. */
const MOST_EDITS = 5000;

export function takePrices(server: Server): vscode.Disposable {
  const reports = new Reports('gearquill-prices');
  const run = (picked?: vscode.Uri) => takeIn(server, reports, picked);
  return vscode.Disposable.from(reports, vscode.commands.registerCommand('gearquill.takePrices', run));
}

async function takeIn(server: Server, reports: Reports, picked: vscode.Uri | undefined): Promise<void> {
  const file = picked ?? openPriceFile() ?? (await askFile());
  if (!file) return;
  const from = await askDay();
  if (from === null) return;
  const asked: PricesAsked = {
    uri: file.toString(),
    bytes: toBase64(await vscode.workspace.fs.readFile(file)),
    ...(from === undefined ? {} : { from }),
  };
  let found = await ask(server, asked);
  if (!found) return;
  await reports.show(nameOf(file), found.report);
  if (found.plain + found.doubtful + found.fresh === 0) {
    void vscode.window.showInformationMessage(
      vscode.l10n.t('The shop book says what the price file says. There is nothing to write.'),
    );
    return;
  }
  const choice = await askHow(found);
  if (choice === 'with-new') {
    const kind = found.catalog!.kind ?? (await askKind());
    if (!kind) return;
    found = await ask(server, { ...asked, addNew: { catalog: found.catalog!.uri, kind } });
  }
  if (choice === undefined || !found) return;
  if (found.edits > MOST_EDITS) {
    void vscode.window.showWarningMessage(
      vscode.l10n.t(
        'These are {0} edits, more than the preview can list. Run in a terminal: gearquill prices FILE --apply',
        found.edits,
      ),
    );
    return;
  }
  if (!(await server.refactor(found.edit)))
    void vscode.window.showInformationMessage(vscode.l10n.t('Nothing was written.'));
}

function ask(server: Server, asked: PricesAsked): Promise<PricesAnswer | undefined> {
  return workShown(server, method, asked, {
    title: vscode.l10n.t('Taking in the price file'),
    none: vscode.l10n.t('The language server does not run; the price file was not read.'),
  });
}

function openPriceFile(): vscode.Uri | undefined {
  const uri = vscode.window.activeTextEditor?.document.uri;
  return uri && /\.(csv|tsv|txt)$/i.test(uri.path) ? uri : undefined;
}

async function askFile(): Promise<vscode.Uri | undefined> {
  const picked = await vscode.window.showOpenDialog({
    title: vscode.l10n.t('The price file'),
    openLabel: vscode.l10n.t('Hold Against the Shop Book'),
    filters: { [vscode.l10n.t('Price files')]: ['csv', 'tsv', 'txt'] },
  });
  return picked?.[0];
}

/** Undefined: from now on, in place of the old prices. Null: Escape. */
async function askDay(): Promise<string | undefined | null> {
  const replace = {
    label: vscode.l10n.t('Replace the prices'),
    detail: vscode.l10n.t('The new price stands where the old one stood.'),
  };
  const later = {
    label: vscode.l10n.t('Let the new prices hold from a day on…'),
    detail: vscode.l10n.t(
      'The old price stays in the history of the part: jobs priced before that day keep it.',
    ),
  };
  const picked = await vscode.window.showQuickPick([replace, later], {
    placeHolder: vscode.l10n.t('How are the prices written?'),
  });
  if (!picked) return null;
  if (picked === replace) return undefined;
  const day = await vscode.window.showInputBox({
    prompt: vscode.l10n.t('The first day of the new prices'),
    placeHolder: '2026-07-01',
    validateInput: (text) =>
      /^\d{4}-\d\d-\d\d$/.test(text) ? undefined : vscode.l10n.t('Write year, month and day: 2026-07-01.'),
  });
  return day ?? null;
}

/** Not a question in the way of the report: what is asked is answered from it. */
async function askHow({
  plain,
  doubtful,
  fresh,
  catalog,
}: PricesAnswer): Promise<'without-new' | 'with-new' | undefined> {
  const write = vscode.l10n.t('Write');
  const withNew = vscode.l10n.t('Write, New Parts Too…');
  const message = [
    vscode.l10n.t('{0} rows change a price or a number.', plain),
    ...(doubtful > 0 ? [vscode.l10n.t('{0} are doubtful: the preview asks about them.', doubtful)] : []),
    ...(fresh > 0 ? [vscode.l10n.t('{0} numbers are new.', fresh)] : []),
    vscode.l10n.t('Write them into the shop book? Undo takes everything back.'),
  ].join(' ');
  const picked = await vscode.window.showInformationMessage(
    message,
    ...(plain + doubtful > 0 ? [write] : []),
    ...(fresh > 0 && catalog ? [withNew] : []),
  );
  return picked === write ? 'without-new' : picked === withNew ? 'with-new' : undefined;
}

async function askKind(): Promise<PartKind | undefined> {
  const items = (Object.entries(PART_KINDS) as [PartKind, string][]).map(([label, detail]) => ({
    label,
    detail,
  }));
  const picked = await vscode.window.showQuickPick(items, {
    placeHolder: vscode.l10n.t('What sort of part are the new ones?'),
  });
  return picked?.label;
}

function nameOf({ path }: vscode.Uri): string {
  return path.slice(path.lastIndexOf('/') + 1);
}
