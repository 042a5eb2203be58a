/** Reports as read-only pages, each under a name of its own. */
import * as vscode from 'vscode';

export class Reports implements vscode.Disposable {
  readonly #scheme: string;
  readonly #pages = new Map<string, string>();
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  readonly #provider: vscode.Disposable;

  constructor(scheme: string) {
    this.#scheme = scheme;
    this.#provider = vscode.workspace.registerTextDocumentContentProvider(scheme, {
      onDidChange: this.#changed.event,
      provideTextDocumentContent: ({ path }) => this.#pages.get(path) ?? '',
    });
  }

  async show(name: string, markdown: string): Promise<void> {
    const uri = vscode.Uri.from({ scheme: this.#scheme, path: `/${name}.md` });
    this.#pages.set(uri.path, markdown);
    this.#changed.fire(uri);
    await vscode.commands.executeCommand('markdown.showPreview', uri);
  }

  dispose(): void {
    this.#provider.dispose();
    this.#changed.dispose();
  }
}
