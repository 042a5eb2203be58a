/** The kinds of file of a shop book as languages of the editor. */
import * as vscode from 'vscode';

export const LANGUAGE = 'gearquill-';

/** The manifest declares the same; a test compares them with the declarations of the kinds. */
export const KINDS = [
  'shop',
  'jurisdiction',
  'parts',
  'labor',
  'units',
  'rules',
  'template',
  'job',
  'cases',
] as const;

export const LANGUAGES: readonly string[] = KINDS.map((kind) => `${LANGUAGE}${kind}`);

export function isOurs(document: vscode.TextDocument | undefined): document is vscode.TextDocument {
  return document !== undefined && LANGUAGES.includes(document.languageId);
}

export function isJob(document: vscode.TextDocument | undefined): document is vscode.TextDocument {
  return document?.languageId === `${LANGUAGE}job`;
}

export function isCases(document: vscode.TextDocument): boolean {
  return document.languageId === `${LANGUAGE}cases`;
}

const KIND_LINE = /^kind:[ \t]*["']?([A-Za-z-]+)["']?[ \t]*(?:#.*)?$/m;

/**
 * Other programs use names such as `backup.job.yaml` too. A file whose `kind:` is none of ours, in a folder without a
 * shop, is plain YAML; a YAML file of another name whose `kind:` is ours is ours.
 */
export function languageFor(text: string, language: string, hasBook: boolean): string | undefined {
  const said = KIND_LINE.exec(text)?.[1];
  const kind = KINDS.find((one) => one === said);
  if (kind) {
    const wanted = `${LANGUAGE}${kind}`;
    if (language === wanted) return undefined;
    return LANGUAGES.includes(language) || (language === 'yaml' && hasBook) ? wanted : undefined;
  }
  const foreign = LANGUAGES.includes(language) && !hasBook && /^\s*[^\s#]/m.test(text);
  return foreign ? 'yaml' : undefined;
}

/** Keeps the language of every document what its `kind:` says, as it is opened. */
export function followKinds(hasBook: () => Thenable<boolean>): vscode.Disposable {
  const look = async (document: vscode.TextDocument) => {
    if (document.languageId !== 'yaml' && !isOurs(document)) return;
    const language = languageFor(document.getText(), document.languageId, await hasBook());
    if (language !== undefined) await vscode.languages.setTextDocumentLanguage(document, language);
  };
  for (const document of vscode.workspace.textDocuments) void look(document);
  return vscode.workspace.onDidOpenTextDocument(look);
}
