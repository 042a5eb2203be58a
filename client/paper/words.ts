/** What is said of sheets and of ways to print them. */
import * as vscode from 'vscode';
import type { SheetName } from '../../server/src/print/print.ts';
import type { Way } from './print.ts';

interface Words {
  readonly label: string;
  readonly detail: string;
}

export function sheetWords(): Readonly<Record<SheetName, Words>> {
  return {
    customer: {
      label: vscode.l10n.t('Owner: Estimate'),
      detail: vscode.l10n.t(
        'What was found, why it failed, the ways to go on, every line, and room to sign.',
      ),
    },
    invoice: {
      label: vscode.l10n.t('Owner: Invoice'),
      detail: vscode.l10n.t('What was done, held against the estimate and what was agreed to.'),
    },
    talk: {
      label: vscode.l10n.t('Whoever Films: Talk Sheet'),
      detail: vscode.l10n.t('What to film and to say for each finding, in order.'),
    },
    bench: {
      label: vscode.l10n.t('Bench: Work Order'),
      detail: vscode.l10n.t('Operations in working order, parts to pull, records to fill, cautions.'),
    },
    order: {
      label: vscode.l10n.t('Parts Counter: Order'),
      detail: vscode.l10n.t('Parts by supplier, with cores to send back. Shows what the shop pays.'),
    },
    inside: {
      label: vscode.l10n.t('Shop Only: Inside Sheet'),
      detail: vscode.l10n.t('Cost, gross profit, effective labor rate. Shows what the shop pays.'),
    },
  };
}

/** Where the files of the job are: a page makes no PDF, and a browser opens only what is on this machine. */
export type Where = 'desktop' | 'remote' | 'page';

export function waysToPrint(where: Where): (Words & { readonly way: Way })[] {
  const file = (format: Way['format'], label: string, detail: string, paper?: Way['paper']) => ({
    label,
    detail,
    way: { format, to: 'file', ...(paper && { paper }) } satisfies Way,
  });
  const browser = {
    label: vscode.l10n.t('Open in the Browser'),
    detail: vscode.l10n.t('To print it from there.'),
    way: { format: 'html', to: 'browser' } satisfies Way,
  };
  const page =
    where === 'page'
      ? vscode.l10n.t(
          'One file to mail, or to print from a browser, as PDF too. The desktop editor makes a PDF by itself.',
        )
      : vscode.l10n.t('One file that needs nothing else: mail it, or print it from a browser.');
  const pdf = [
    file('pdf', vscode.l10n.t('Save as PDF, Letter…'), vscode.l10n.t('8.5 by 11 inches.'), 'letter'),
    file('pdf', vscode.l10n.t('Save as PDF, A4…'), vscode.l10n.t('210 by 297 millimeters.'), 'a4'),
  ];
  return [
    {
      label: vscode.l10n.t('Look at It Here'),
      detail: vscode.l10n.t('As a page beside your files.'),
      way: { format: 'html', to: 'look' },
    },
    ...(where === 'desktop' ? [browser] : []),
    file('html', vscode.l10n.t('Save as a Page (HTML)…'), page),
    ...(where === 'page' ? [] : pdf),
    file('text', vscode.l10n.t('Save as Plain Text…'), vscode.l10n.t('To paste into a message.')),
    file('csv', vscode.l10n.t('Save the Figures as CSV…'), vscode.l10n.t('For a spreadsheet.')),
    file(
      'json',
      vscode.l10n.t('Save the Figures as JSON…'),
      vscode.l10n.t('For other systems, and to hold the invoice against later.'),
    ),
    file(
      'vtt',
      vscode.l10n.t('Save the Chapters of the Video (WebVTT)…'),
      vscode.l10n.t('From the marks that the findings give.'),
    ),
  ];
}
