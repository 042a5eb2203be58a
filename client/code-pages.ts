/** The page of a diagnostic code, as a read-only document. */
import * as vscode from 'vscode';
import type { Server } from './server.ts';

/** The scheme of their addresses, which diagnostics link to: `gearquill-code:/missing-work.md`. */
export const CODE_PAGES = 'gearquill-code';

export function codePages(server: Server): vscode.Disposable {
  const show = async (code?: string) => {
    const asked = code ?? (await askCode());
    if (asked === undefined) return;
    const uri = vscode.Uri.from({ scheme: CODE_PAGES, path: `/${asked}.md` });
    await vscode.commands.executeCommand('markdown.showPreview', uri);
  };
  return vscode.Disposable.from(
    vscode.workspace.registerTextDocumentContentProvider(CODE_PAGES, {
      provideTextDocumentContent: async ({ path }) => {
        const code = path.replace(/^\/|\.md$/g, '');
        const page = await server.ask('gearquill/codePage', { code });
        return page ?? vscode.l10n.t('There is no page for the code {0}.', code);
      },
    }),
    vscode.commands.registerCommand('gearquill.explainCode', show),
  );
}

/** The codes at the cursor first, then those of the file. */
async function askCode(): Promise<string | undefined> {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return undefined;
  const here = vscode.languages
    .getDiagnostics(editor.document.uri)
    .toSorted((a, b) => distance(a, editor.selection) - distance(b, editor.selection));
  const codes = new Map(here.map((one) => [codeOf(one), one.message]));
  codes.delete(undefined);
  const items = [...codes].map(([code, detail]) => ({ label: code ?? '', detail }));
  const picked = await vscode.window.showQuickPick(items, {
    placeHolder: vscode.l10n.t('Which diagnostic code?'),
    matchOnDetail: true,
  });
  return picked?.label;
}

function distance({ range }: vscode.Diagnostic, at: vscode.Range): number {
  return Math.abs(range.start.line - at.start.line);
}

export function codeOf({ code }: vscode.Diagnostic): string | undefined {
  const bare = typeof code === 'object' ? code.value : code;
  return bare === undefined ? undefined : String(bare);
}
