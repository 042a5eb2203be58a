/** The side bar: the shop book as a tree. */
import * as vscode from 'vscode';
import type { BookNode } from '../server/src/features/client/book-tree.ts';
import { openPlace } from './convert.ts';
import { once } from './once.ts';
import type { Server } from './server.ts';

const ICONS: Partial<Record<BookNode['icon'], string>> = {
  book: 'book',
  group: 'folder',
  more: 'ellipsis',
  job: 'file',
  part: 'package',
  operation: 'tools',
  unit: 'gear',
  finding: 'search',
  rule: 'law',
  template: 'files',
};

/** Typing changes the book many times a second; the tree need not follow each time. */
const PAUSE = 400;

export function bookTree(server: Server): vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const provider: vscode.TreeDataProvider<BookNode> = {
    onDidChangeTreeData: changed.event,
    getTreeItem: itemOf,
    getChildren: async (node) =>
      (await server.ask('gearquill/bookTree', node ? { node: node.id } : {})) ?? [],
  };
  const view = vscode.window.createTreeView('gearquill.book', {
    treeDataProvider: provider,
    showCollapseAll: true,
  });
  const refresh = once(async () => view.visible && changed.fire(), PAUSE);
  return vscode.Disposable.from(
    changed,
    view,
    server.onChanged(refresh),
    server.onStateChanged(refresh),
    view.onDidChangeVisibility(refresh),
    vscode.commands.registerCommand('gearquill.openNode', ({ place }: BookNode) => place && openPlace(place)),
  );
}

function itemOf(node: BookNode): vscode.TreeItem {
  const { None, Collapsed } = vscode.TreeItemCollapsibleState;
  const item = new vscode.TreeItem(node.label, node.expandable ? Collapsed : None);
  item.id = node.id;
  if (node.description !== undefined) item.description = node.description;
  const icon = ICONS[node.icon];
  if (icon !== undefined) item.iconPath = new vscode.ThemeIcon(icon);
  item.contextValue = node.icon;
  if (node.place)
    item.command = { command: 'gearquill.openNode', title: vscode.l10n.t('Open'), arguments: [node] };
  return item;
}
