/** Printed pages to look at, in one panel. The page brings its own strict policy; only its own script may run. */
import * as vscode from 'vscode';

export class Pages implements vscode.Disposable {
  #panel: vscode.WebviewPanel | undefined;

  show(title: string, html: string): void {
    if (this.#panel) this.#panel.reveal();
    else {
      const made = vscode.window.createWebviewPanel('gearquill.page', title, vscode.ViewColumn.Active, {
        enableScripts: true,
        localResourceRoots: [],
        enableFindWidget: true,
      });
      made.onDidDispose(() => {
        this.#panel = undefined;
      });
      this.#panel = made;
    }
    this.#panel.title = title;
    this.#panel.webview.html = html;
  }

  dispose(): void {
    this.#panel?.dispose();
  }
}
