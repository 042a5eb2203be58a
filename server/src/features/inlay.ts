/** Totals at the ends of lines and beside the heads of sections, in job files. */
import type { InlayHint, InlayHintLabelPart, Location, Position, Range } from 'vscode-languageserver-types';
import type { Path } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { type Decimal, sum } from '../../../schemas/values/decimal.ts';
import type { BookFile } from '../book/file.ts';
import type { JobEstimate, OptionEstimate } from '../estimate/estimate.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { Amount } from '../pricing/amount.ts';
import type { Priced, PricedLine } from '../pricing/model.ts';
import { type Printer, printerFor } from '../print/locale.ts';
import { isOpen, jobOf } from '../upkeep/jobs.ts';
import { driftOf } from '../upkeep/lock/drift.ts';
import { signed } from '../upkeep/lock/report.ts';
import { shown } from './hover-blocks.ts';
import { treeTable } from './hover-tree.ts';
import { sourceLocation } from './spot.ts';

/** What a hint is of; its tree is shown when it is asked for. */
interface HintData {
  readonly uri: string;
  readonly path: Path;
}

/** `today`: the day that a price lock is held against. */
export function inlayHints(estimates: Estimates, file: BookFile, range: Range, today?: IsoDate): InlayHint[] {
  const estimate = estimates.of(file);
  if (!estimate) return [];
  const printer = printerFor(estimate);
  const hints: InlayHint[] = [];
  for (const [path, label] of [
    ...labels(estimate, printer),
    ...driftLabel(estimates, file, printer, today),
  ]) {
    const position = endOf(file, path);
    if (!position || position.line < range.start.line || position.line > range.end.line) continue;
    hints.push({
      position,
      label: [{ value: label }],
      paddingLeft: true,
      data: { uri: file.uri, path } satisfies HintData,
    });
  }
  return hints;
}

/** How far the book has moved since the prices were locked, at the lock. */
function driftLabel(
  estimates: Estimates,
  file: BookFile,
  { money }: Printer,
  today: IsoDate | undefined,
): [Path, string][] {
  const drift = today && isOpen(jobOf(file)) ? driftOf(estimates, file, today) : undefined;
  if (!drift) return [];
  const { today: now, presented } = drift.counted;
  const moved = now.eq(presented)
    ? 'the book still has these prices'
    : `today ${money(now)}, ${signed(money, now.minus(presented))}`;
  return [[['lock'], drift.consent && !now.eq(presented) ? `${moved}, needs new consent` : moved]];
}

/** Adds the tree of the number as a tooltip, and the way to what a line is priced by. */
export function resolveInlayHint(estimates: Estimates, file: BookFile, hint: InlayHint): InlayHint {
  const estimate = estimates.of(file);
  const { path } = hint.data as HintData;
  const amounts = estimate ? amountsAt(estimate, path) : [];
  if (amounts.length === 0) return hint;
  const whereIs = (source: Amount['source']) => sourceLocation(estimates.book, file, source);
  const location = path.includes('lines') ? firstElsewhere(amounts, path, whereIs) : undefined;
  return {
    ...hint,
    label: (hint.label as InlayHintLabelPart[]).map((part) => (location ? { ...part, location } : part)),
    tooltip: shown(treeTable(amounts, printerFor(estimate!), whereIs), true),
  };
}

/** The first figure in the tree of a line that is not written in the line: of its part, its operation, the lock. */
function firstElsewhere(
  amounts: readonly Amount[],
  line: Path,
  whereIs: (source: Amount['source']) => Location | undefined,
): Location | undefined {
  for (const { source, of } of amounts) {
    const own = source && 'path' in source && line.every((step, i) => step === source.path[i]);
    const found = (own ? undefined : whereIs(source)) ?? firstElsewhere(of, line, whereIs);
    if (found) return found;
  }
  return undefined;
}

/** The amounts that stand behind a place of the job: a line's, a section's, an option's total. */
export function amountsAt(estimate: JobEstimate, path: Path): Amount[] {
  const shown = estimate.chosen ?? estimate.options[0]!;
  if (samePath(path, ['lines'])) return linesUnder(shown.priced, ['lines']).map((line) => line.net);
  const option = estimate.options.find((one) => one.path.length > 0 && samePath(one.path, path));
  if (option) return [option.priced.total];
  if (samePath(path, ['chosen'])) return estimate.chosen ? [estimate.chosen.priced.total] : [];
  if (samePath(path, ['teardown'])) return estimate.teardown ? [estimate.teardown.teardown.total] : [];
  const priced = pricedFor(estimate, path);
  return priced ? priced.lines.filter((line) => samePath(line.path, path)).map((line) => line.net) : [];
}

function* labels(estimate: JobEstimate, printer: Printer): IterableIterator<[Path, string]> {
  const { chosen, options, teardown } = estimate;
  const common = new Map<string, { path: Path; each: Decimal[] }>();
  for (const option of options) {
    for (const [key, { path, lines }] of byPath(option.priced)) {
      if (path[0] === 'lines') {
        const entry = common.get(key) ?? { path, each: [] };
        entry.each.push(sum(lines.map((line) => line.net.value)));
        common.set(key, entry);
      } else yield [path, lineLabel(lines, printer)];
    }
    if (option.path.length > 0)
      yield [
        option.path,
        `${printer.money(option.priced.total.value)}${option.priced.complete ? '' : ' so far'}`,
      ];
  }
  for (const { path, each } of common.values()) yield [path, span(each, printer)];
  const base = (chosen ?? options[0]!).priced;
  if (common.size > 0) {
    const total =
      options.length === 1
        ? base.total.value
        : sum(linesUnder(base, ['lines']).map((line) => line.net.value));
    yield [['lines'], options.length === 1 ? `total ${printer.money(total)}` : printer.money(total)];
  }
  if (chosen?.id !== undefined) yield [['chosen'], customerPays(chosen, printer)];
  if (!teardown) return;
  for (const priced of [teardown.declined, teardown.teardown]) {
    for (const { path, lines } of byPath(priced).values()) yield [path, lineLabel(lines, printer)];
  }
  yield [['teardown'], printer.money(teardown.teardown.total.value)];
}

function customerPays(option: OptionEstimate, printer: Printer): string {
  const { total, shares } = option.priced;
  const own = shares[0];
  return shares.length > 1 && own
    ? `${printer.money(total.value)}, customer ${printer.money(own.total.value)}`
    : printer.money(total.value);
}

function lineLabel(lines: readonly PricedLine[], printer: Printer): string {
  const core = lines.filter((line) => line.kind === 'core');
  const rest = lines.filter((line) => line.kind !== 'core');
  const own = printer.money(sum(rest.map((line) => line.net.value)));
  return core.length > 0 ? `${own} + core ${printer.money(sum(core.map((line) => line.net.value)))}` : own;
}

/** One figure, or the least and the most when options come to different ones (shared hours fall on other lines). */
function span(each: readonly Decimal[], printer: Printer): string {
  const sorted = [...each].sort((a, b) => a.cmp(b));
  const [least, most] = [sorted[0]!, sorted.at(-1)!];
  return least.eq(most) ? printer.money(least) : `${printer.money(least)} to ${printer.money(most)}`;
}

function byPath(priced: Priced): Map<string, { path: Path; lines: PricedLine[] }> {
  const found = new Map<string, { path: Path; lines: PricedLine[] }>();
  for (const line of priced.lines) {
    if (line.path.length === 0) continue;
    const key = JSON.stringify(line.path);
    const entry = found.get(key) ?? { path: line.path, lines: [] };
    entry.lines.push(line);
    found.set(key, entry);
  }
  return found;
}

function pricedFor(estimate: JobEstimate, path: Path): Priced | undefined {
  if (path[0] === 'teardown') return estimate.teardown?.declined;
  if (path[0] === 'options') return estimate.options.find((one) => one.id === path[1])?.priced;
  return (estimate.chosen ?? estimate.options[0])?.priced;
}

function linesUnder(priced: Priced, start: Path): PricedLine[] {
  return priced.lines.filter(
    (line) => start.every((step, i) => line.path[i] === step) && line.path.length > 0,
  );
}

/** The end of the text line on which a place of the job begins, before a comment. */
function endOf(file: BookFile, path: Path): Position | undefined {
  const spot = file.spotOf(path, true);
  if (!spot) return undefined;
  const { text } = spot.piece;
  const rest = /^[^\r\n]*/.exec(text.slice(spot.start))![0];
  const written = rest.replace(/\s+#.*$/, '').trimEnd();
  return file.source.positionOf(spot.piece, spot.start + written.length);
}

function samePath(a: Path, b: Path): boolean {
  return a.length === b.length && a.every((step, i) => step === b[i]);
}
