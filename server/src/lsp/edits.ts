/** Changes of the book as the client can take them. */
import type {
  AnnotatedTextEdit,
  ChangeAnnotation,
  TextDocumentEdit,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver';
import type { BookEdit } from '../features/edit.ts';
import type { Session } from './session.ts';

/** With versions, and each edit under the word why it is made, where the client knows of such things. */
export function workspaceEdit(session: Session, whole: BookEdit): WorkspaceEdit {
  const can = session.client.workspace?.workspaceEdit;
  // Where nobody can be asked, what has to be confirmed is left out.
  const edit = can?.changeAnnotationSupport
    ? whole
    : whole.map(({ file, edits }) => ({ file, edits: edits.filter(({ confirm }) => !confirm) }));
  if (!can?.documentChanges)
    return {
      changes: Object.fromEntries(
        edit.map(({ file, edits }) => [
          session.documents.spelled(file.uri),
          edits.map(({ range, newText }): TextEdit => ({ range, newText })),
        ]),
      ),
    };
  const annotations: Record<string, ChangeAnnotation> = {};
  const documentChanges = edit.map(({ file, edits }): TextDocumentEdit => {
    return {
      textDocument: {
        uri: session.documents.spelled(file.uri),
        version: session.documents.versionOf(file.uri),
      },
      edits: edits.map(({ range, newText, label, confirm = false }): AnnotatedTextEdit | TextEdit => {
        if (!can.changeAnnotationSupport) return { range, newText };
        annotations[label] = { label, needsConfirmation: confirm };
        return { range, newText, annotationId: label };
      }),
    };
  });
  return { documentChanges, ...(can.changeAnnotationSupport ? { changeAnnotations: annotations } : {}) };
}

/** Edits that were made without regard to versions. */
export function versioned(session: Session, edit: WorkspaceEdit): WorkspaceEdit {
  if (!edit.changes) return edit;
  const changes = Object.entries(edit.changes);
  if (!session.client.workspace?.workspaceEdit?.documentChanges)
    return {
      ...edit,
      changes: Object.fromEntries(changes.map(([uri, edits]) => [session.documents.spelled(uri), edits])),
    };
  const { changes: _, ...rest } = edit;
  return {
    ...rest,
    documentChanges: changes.map(([uri, edits]) => ({
      textDocument: { uri: session.documents.spelled(uri), version: session.documents.versionOf(uri) },
      edits,
    })),
  };
}
