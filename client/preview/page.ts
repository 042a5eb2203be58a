/** The frame of the preview: it may load its own script and style sheet, and nothing else from anywhere. */
import * as vscode from 'vscode';

export function pageHtml(webview: vscode.Webview, folder: vscode.Uri): string {
  const at = (name: string) => webview.asWebviewUri(vscode.Uri.joinPath(folder, name)).toString();
  const policy = [
    "default-src 'none'",
    `script-src ${webview.cspSource}`,
    `style-src ${webview.cspSource}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="${vscode.env.language}">
<head>
  <meta charset="utf-8">
  <meta http-equiv="Content-Security-Policy" content="${policy}">
  <meta name="viewport" content="width=device-width, initial-scale=1">
  <link rel="stylesheet" href="${at('preview.css')}">
  <title>${vscode.l10n.t('Estimate')}</title>
</head>
<body>
  <main id="estimate" aria-live="off"></main>
  <aside id="figure" hidden></aside>
  <script src="${at('preview.js')}"></script>
</body>
</html>`;
}
