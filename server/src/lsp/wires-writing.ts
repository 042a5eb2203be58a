/** Help while writing. */
import {
  CodeActionRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
  CompletionRequest,
  CompletionResolveRequest,
  HoverRequest,
  InlayHintRequest,
  InlayHintResolveRequest,
} from 'vscode-languageserver';
import { runAllCases } from '../estimate/cases.ts';
import { FIX_ALL, QUICK_FIX } from '../features/actions/context.ts';
import { codeActions } from '../features/actions/index.ts';
import { complete, resolveCompletion } from '../features/completion.ts';
import { hover } from '../features/hover.ts';
import { inlayHints, resolveInlayHint } from '../features/inlay.ts';
import { codeLenses, type RuleLens, resolveRuleLens } from '../features/lens.ts';
import { today } from './day.ts';
import { versioned } from './edits.ts';
import { pause, Slices } from './slices.ts';
import { inFile, on, type Wire } from './wire.ts';

export const WRITING: readonly Wire[] = [
  {
    capability: () => ({
      completionProvider: { resolveProvider: true, triggerCharacters: [' ', '$', '/', '"', "'", '[', ','] },
    }),
    answers: [
      inFile(CompletionRequest.type, ({ estimates, file }, { position }, { session }) => {
        const item = session.client.textDocument?.completion?.completionItem;
        return complete({
          estimates,
          file,
          position,
          today: today(),
          client: {
            snippets: item?.snippetSupport === true,
            linesAsTheyAre: item?.insertTextModeSupport?.valueSet.includes(1) === true,
            markdown: item?.documentationFormat?.includes('markdown') === true,
            again: session.options.own ? 'editor.action.triggerSuggest' : undefined,
          },
        });
      }),
      on(CompletionResolveRequest.type, ({ session }, item) => {
        const at = session.at((item.data as { uri?: string } | undefined)?.uri ?? '');
        if (!at) return item;
        const markdown =
          session.client.textDocument?.completion?.completionItem?.documentationFormat?.includes(
            'markdown',
          ) === true;
        return resolveCompletion({ ...at, today: today(), markdown }, item);
      }),
    ],
  },
  {
    capability: () => ({ hoverProvider: true }),
    answers: [
      inFile(HoverRequest.type, ({ estimates, file }, { position }, { session }) => {
        const markdown = session.client.textDocument?.hover?.contentFormat?.includes('markdown') === true;
        return hover({ estimates, file, position, today: today(), markdown });
      }),
    ],
  },
  {
    capability: () => ({ codeActionProvider: { codeActionKinds: [QUICK_FIX, FIX_ALL, 'refactor'] } }),
    answers: [
      inFile(CodeActionRequest.type, ({ estimates, file }, { range, context }, { session }) =>
        codeActions(estimates, file, range, today(), context.only).map((action) =>
          action.edit ? { ...action, edit: versioned(session, action.edit) } : action,
        ),
      ),
    ],
  },
  {
    capability: () => ({ inlayHintProvider: { resolveProvider: true } }),
    answers: [
      inFile(InlayHintRequest.type, ({ estimates, file }, { range }) =>
        inlayHints(estimates, file, range, today()),
      ),
      on(InlayHintResolveRequest.type, ({ session }, hint) => {
        const at = session.at((hint.data as { uri: string }).uri);
        return at ? resolveInlayHint(at.estimates, at.file, hint) : hint;
      }),
    ],
  },
  {
    capability: () => ({ codeLensProvider: { resolveProvider: true } }),
    answers: [
      inFile(CodeLensRequest.type, ({ estimates, file }) => codeLenses(estimates, file)),
      on(CodeLensResolveRequest.type, async ({ session }, lens, token) => {
        const at = session.at((lens.data as RuleLens).uri);
        if (!at) return lens;
        const cases = new Map<string, number>();
        const slices = new Slices();
        for (const { rules } of runAllCases(at.estimates)) {
          for (const rule of rules) cases.set(rule, (cases.get(rule) ?? 0) + 1);
          if (slices.over) await pause();
          if (token.isCancellationRequested) return lens;
        }
        return resolveRuleLens(at.estimates, at.file, lens, cases);
      }),
    ],
  },
];
