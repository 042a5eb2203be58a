/** How a page looks: ink on paper, a serif for headings, no color that carries meaning. */
import type { Doc } from '../doc.ts';
import { clean } from './markup.ts';

export function styleOf(doc: Doc): string {
  const [before = '', middle = '', after = ''] = doc.pageLabel.split(/\{pages?\}/);
  const count = `${quoted(before)} counter(page) ${quoted(middle)} counter(pages) ${quoted(after)}`;
  return `${SCREEN}
@page { margin: 15mm 14mm 17mm; @bottom-left { content: ${quoted(doc.foot)}; ${MARGIN_TEXT} } @bottom-right { content: ${count}; ${MARGIN_TEXT} } }
${PRINT}`;
}

const MARGIN_TEXT = 'font: 8pt system-ui, sans-serif; color: #444;';

/** A string of a style sheet that cannot end the string, the rule or the element it stands in. */
function quoted(text: string): string {
  return `"${clean(text).replaceAll(/[^\p{L}\p{N} .,:·-]/gu, (one) => `\\${one.codePointAt(0)!.toString(16)} `)}"`;
}

const SCREEN = `
:root { color-scheme: light; --ink: #1f2a44; --soft: #454e66; --line: #c9cdd9; --tint: #f3f4f8; --paper: #fff;
  --serif: "Iowan Old Style", "Palatino Linotype", Palatino, "Book Antiqua", Georgia, "Liberation Serif", serif;
  --sans: system-ui, "Segoe UI", Roboto, "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
* { box-sizing: border-box; }
html { font-size: 100%; -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 66rem; padding: 2.5rem 2rem 3rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.55 var(--sans); overflow-wrap: break-word; }
p, ul, ol, dl, figure, blockquote { margin: 0; padding: 0; }
h1, h2, h3 { font-family: var(--serif); font-weight: 600; line-height: 1.2; margin: 0; text-wrap: balance; }
a { color: inherit; text-underline-offset: .2em; }
.head { display: grid; grid-template-columns: 1fr auto; gap: .25rem 2rem; padding-top: 1rem;
  border-top: 6px solid var(--ink); position: relative; }
.head::before { content: ""; position: absolute; inset: 4px 0 auto; border-top: 1px solid var(--ink); }
.shop { font: 600 1.35rem/1.25 var(--serif); letter-spacing: .01em; }
address { font-style: normal; font-size: .875rem; line-height: 1.45; color: var(--soft); text-align: right; grid-row: 1 / 3; grid-column: 2; }
address span { display: block; }
h1 { font-size: 2.5rem; margin-top: 1.2rem; letter-spacing: -.01em; }
h1 .number { font-weight: 400; color: var(--soft); white-space: nowrap; }
.notice { grid-column: 1 / -1; font-size: .8125rem; letter-spacing: .02em; border: 1px dashed var(--soft); padding: .2rem .6rem; justify-self: start; width: fit-content; }
.facts { display: grid; grid-template-columns: repeat(auto-fill, minmax(12.5rem, 1fr)); gap: .6rem 1.5rem; }
.facts dt { font-size: .75rem; color: var(--soft); letter-spacing: .03em; }
.facts dd { margin: 0; }
.strip { grid-column: 1 / -1; margin-top: 1rem; padding: .9rem 0; border-block: 1px solid var(--line); }
.facts.small { font-size: .9rem; gap: .45rem 1.5rem; }
.section { display: grid; grid-template-columns: 11rem minmax(0, 1fr); gap: 0 2.25rem; padding-top: 2.6rem; }
.section > h2 { font-size: 1.35rem; border-top: 2px solid var(--ink); padding-top: .55rem; }
.section > .body { border-top: 1px solid var(--line); padding-top: .75rem; display: grid; gap: 1rem; grid-template-columns: minmax(0, 1fr); }
.of-lines, .of-choices, .of-money, .of-teardown, .of-done, .of-held { grid-template-columns: minmax(0, 1fr); }
.of-lines > .body, .of-choices > .body, .of-money > .body, .of-teardown > .body, .of-done > .body, .of-held > .body { border-top: 0; }
.text { max-width: 44rem; }
.text.lead { font-size: 1.125rem; line-height: 1.5; }
.text.strong { font-weight: 600; }
.text.small { font-size: .875rem; color: var(--soft); }
.label { display: block; font: 600 .75rem/1.5 var(--sans); color: var(--soft); letter-spacing: .03em; }
.quote blockquote { font: italic 1.2rem/1.5 var(--serif); max-width: 42rem; border-left: 3px solid var(--ink); padding-left: 1rem; }
.body > ul:not(.cards), .part > ul, .answers ul { padding-left: 1.1rem; display: grid; gap: .35rem; max-width: 46rem; }
.part { display: grid; gap: .6rem; grid-template-columns: minmax(0, 1fr); padding-top: .4rem; }
.part > h3 { font-size: 1.2rem; }
.finding { display: grid; gap: .75rem 1.5rem; grid-template-columns: minmax(0, 1fr); padding-bottom: 1.5rem; border-bottom: 1px solid var(--line); }
.finding:last-of-type { border-bottom: 0; }
.finding h3 { font-size: 1.3rem; display: flex; flex-wrap: wrap; align-items: baseline; gap: .2rem .7rem; }
.mark { font: 600 .95rem/1.75rem var(--sans); flex: none; width: 1.75rem; height: 1.75rem; text-align: center; background: var(--ink); color: var(--paper); border-radius: 50%; }
.verdict { font: 500 .875rem/1.4 var(--sans); border: 1px solid var(--ink); padding: .05rem .55rem; border-radius: 1rem; }
.pictures { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(15rem, 100%), 1fr)); gap: 1rem; max-width: 46rem; }
.picture img { display: block; width: 100%; height: auto; max-height: 26rem; object-fit: contain; background: var(--tint); border: 1px solid var(--line); }
.picture figcaption { font-size: .875rem; color: var(--soft); padding-top: .3rem; }
.missing { font-size: .875rem; border: 1px dashed var(--soft); padding: 1rem; }
.told { display: grid; gap: .75rem; grid-template-columns: minmax(0, 1fr); }
.say { max-width: 42rem; }
.finding .say { font-size: 1.0625rem; }
.finding .facts { grid-template-columns: repeat(auto-fit, minmax(min(15rem, 100%), 1fr)); max-width: 46rem; }
.drawing svg { display: block; max-width: 100%; height: auto; }
.watch { display: grid; gap: .4rem; max-width: 32rem; grid-template-columns: minmax(0, 1fr); }
.watch video { display: block; width: 100%; background: var(--tint); border: 1px solid var(--line); }
.watch a { font-weight: 600; }
.chain { list-style: none; counter-reset: link; display: grid; max-width: 44rem; }
.chain li { counter-increment: link; position: relative; padding: 0 0 1.1rem 2.6rem; }
.chain li::before { content: counter(link); position: absolute; left: 0; top: 0; width: 1.75rem; height: 1.75rem; border: 2px solid var(--ink); border-radius: 50%; text-align: center; font: 600 .9rem/1.55rem var(--sans); background: var(--paper); }
.chain li:not(:last-child)::after { content: ""; position: absolute; left: calc(.875rem - 1px); top: 1.9rem; bottom: .1rem; border-left: 2px solid var(--ink); }
.chain b { display: block; font: 600 .8125rem/1.75rem var(--sans); color: var(--soft); }
.chain span { display: block; }
.cards { list-style: none; display: grid; grid-template-columns: repeat(auto-fit, minmax(min(16rem, 100%), 1fr)); gap: 1.1rem; padding-top: .6rem; }
.card { border: 1px solid var(--line); border-top: 3px solid var(--ink); padding: 1rem 1.15rem 1.1rem; display: grid; gap: .65rem; grid-template-columns: minmax(0, 1fr); align-content: start; position: relative; }
.card.marked { border: 2px solid var(--ink); border-top-width: 6px; }
.tab { position: absolute; top: -6px; right: 1rem; background: var(--ink); color: var(--paper); font: 600 .75rem/1 var(--sans); padding: .4rem .6rem; }
.card h3 { font-size: 1.2rem; }
.card.marked h3 { padding-right: 4.5rem; }
.figure b { display: block; font: 600 2.1rem/1.1 var(--serif); font-variant-numeric: lining-nums tabular-nums; letter-spacing: -.01em; }
.figure span { font-size: .8125rem; color: var(--soft); }
.card .facts { grid-template-columns: minmax(0, 1fr); border-top: 1px solid var(--line); padding-top: .6rem; }
.more { font-size: .9rem; }
.aside { font-weight: 400; }
th .aside { color: var(--soft); font-size: .9em; }
.more .aside, legend .aside { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.chart { display: grid; gap: 1rem; grid-template-columns: minmax(0, 1fr); }
.chart .drawing { max-width: 36rem; }
.chart .drawing svg { width: 100%; }
table { border-collapse: collapse; width: 100%; font-size: .9375rem; font-variant-numeric: lining-nums tabular-nums; }
caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
th, td { text-align: left; vertical-align: top; padding: .42rem 0 .42rem 1.1rem; font-weight: 400; border-bottom: 1px solid var(--line); }
th:first-child, td:first-child { padding-left: 0; }
thead th { font-size: .8125rem; color: var(--soft); border-bottom: 1.5px solid var(--ink); vertical-align: bottom; }
.right { text-align: right; }
td.right { white-space: nowrap; }
th small { display: block; font-size: .8438rem; line-height: 1.45; color: var(--soft); max-width: 40rem; }
.group th { font: 600 1.0625rem/1.3 var(--serif); padding-top: 1.1rem; border-bottom: 1px solid var(--ink); }
.subtotal th, .subtotal td { border-bottom-color: transparent; padding-block: .22rem; }
tr.row + tr.subtotal th, tr.row + tr.subtotal td { padding-top: .5rem; }
.total th, .total td { font-weight: 700; font-size: 1.125rem; border-top: 2px solid var(--ink); border-bottom: 0; padding-top: .5rem; }
.subtotal th, .total th { text-align: right; }
.chart .total th { text-align: left; }
.chart table { max-width: 46rem; }
tr.carry { display: none; }
.choose { display: grid; gap: 1rem; grid-template-columns: minmax(0, 1fr); border: 2px solid var(--ink); padding: 1.2rem 1.3rem; max-width: 46rem; }
.choose[hidden], .extras[hidden] { display: none; }
fieldset { border: 0; margin: 0; padding: 0; min-width: 0; display: grid; gap: .5rem; }
legend { font: 600 1.05rem/1.4 var(--serif); padding: 0 0 .35rem; }
label { display: flex; gap: .6rem; align-items: flex-start; }
label small { display: block; font-size: .875rem; color: var(--soft); }
.choose input[type=radio], .choose input[type=checkbox] { width: 1.25rem; height: 1.25rem; margin: .15rem 0 0; accent-color: var(--ink); flex: none; }
.choose p > label { flex-direction: column; gap: .2rem; font-weight: 600; }
.choose input[type=text], textarea { font: 1rem/1.5 var(--sans); width: 100%; padding: .5rem .6rem; border: 1px solid var(--ink); background: var(--paper); color: var(--ink); border-radius: 0; }
textarea { font-family: ui-monospace, Consolas, "Liberation Mono", monospace; resize: vertical; }
.sum { display: flex; flex-wrap: wrap; align-items: baseline; gap: .3rem .8rem; border-block: 1px solid var(--line); padding: .6rem 0; }
.sum output { font: 600 2rem/1.1 var(--serif); font-variant-numeric: lining-nums tabular-nums; }
.sum .effect { color: var(--soft); }
button { font: 600 1rem/1 var(--sans); padding: .8rem 1.2rem; background: var(--ink); color: var(--paper); border: 0; cursor: pointer; min-height: 2.75rem; }
:focus-visible { outline: 3px solid var(--ink); outline-offset: 3px; }
summary { cursor: pointer; font-weight: 600; padding: .4rem 0; }
.answers .of { font: 600 1.05rem/1.4 var(--serif); padding: .5rem 0 .2rem; }
.answers code { display: block; font: .8438rem/1.5 ui-monospace, Consolas, "Liberation Mono", monospace; background: var(--tint); padding: .3rem .5rem; overflow-wrap: anywhere; }
.sign { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(15rem, 100%), 1fr)); gap: .4rem 1.5rem; max-width: 46rem; }
.sign div { display: flex; flex-direction: column-reverse; padding-top: 2.1rem; }
.sign dt { font-size: .8125rem; color: var(--soft); }
.sign dd { margin: 0; border-bottom: 1px solid var(--ink); }
.steps { list-style: none; display: grid; grid-template-columns: minmax(0, 1fr); }
.step { padding: .9rem 0; border-bottom: 1px solid var(--line); display: grid; gap: .5rem; grid-template-columns: minmax(0, 1fr); }
.step h3 { font: 600 1.0625rem/1.35 var(--sans); display: flex; gap: .7rem; align-items: baseline; }
.step h3 .aside { margin-left: auto; white-space: nowrap; font-variant-numeric: tabular-nums; }
.tick { width: 1.05rem; height: 1.05rem; border: 1.5px solid var(--ink); flex: none; align-self: center; }
.step > :not(h3) { margin-left: 1.75rem; }
.caution { border-left: 5px double var(--ink); padding-left: .8rem; max-width: 46rem; font-size: .9375rem; }
.caution small { display: block; color: var(--soft); }
.fields { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(15rem, 100%), 1fr)); gap: .5rem 1.5rem; }
.fields div { display: grid; grid-template-columns: 1fr minmax(5rem, auto); align-items: end; gap: .6rem; }
.fields .wide { grid-column: 1 / -1; grid-template-columns: minmax(0, 2fr) minmax(5rem, 1fr); }
.fields .wide dd { text-align: left; }
.fields dt { font-size: .9rem; line-height: 1.35; }
.fields dt small { display: block; color: var(--soft); }
.fields dd { margin: 0; border-bottom: 1px solid var(--ink); min-height: 1.5rem; text-align: right; font-variant-numeric: tabular-nums; }
footer { margin-top: 3rem; padding-top: .8rem; border-top: 1px solid var(--ink); font-size: .8125rem; color: var(--soft); display: flex; flex-wrap: wrap; gap: .4rem 1.5rem; justify-content: space-between; }
@media (max-width: 48rem) {
  body { padding: 1rem 1rem 2rem; }
  .head, .section { grid-template-columns: minmax(0, 1fr); }
  address { grid-column: 1; grid-row: auto; text-align: left; }
  h1 { font-size: 2rem; margin-top: .7rem; }
  .section { padding-top: 1.9rem; }
  .section > .body { border-top: 0; padding-top: .6rem; }
  .lines:not(.chart .lines) thead { display: none; }
  .lines:not(.chart .lines), .lines:not(.chart .lines) tbody { display: block; }
  .lines:not(.chart .lines) tr { display: grid; grid-template-columns: 1fr auto auto auto; gap: 0 .9rem; border-bottom: 1px solid var(--line); padding: .45rem 0; }
  .lines:not(.chart .lines) tr.carry { display: none; }
  .lines:not(.chart .lines) :is(th, td) { border: 0; padding: 0; }
  .lines:not(.chart .lines) tr.row > th { grid-column: 1 / -1; }
  .lines:not(.chart .lines) tr.row > td:first-of-type { grid-column: 2; }
  .lines:not(.chart .lines) tr > td:empty { display: none; }
  .lines:not(.chart .lines) tr > td:last-child { grid-column: 4; font-weight: 600; }
  .lines:not(.chart .lines) :is(.subtotal, .total) > th { grid-column: 1 / 4; text-align: left; }
  .lines:not(.chart .lines) .subtotal { border-bottom: 0; padding: .15rem 0; }
  .lines:not(.chart .lines) .total { border-top: 2px solid var(--ink); border-bottom: 0; }
  .of-held .lines tr.row > td:last-child { grid-column: 1 / -1; font-weight: 400; text-align: left; color: var(--soft); }
  .strip { grid-template-columns: repeat(auto-fill, minmax(9.5rem, 1fr)); gap: .6rem 1rem; }
  .chart .lines { font-size: .75rem; }
  .chart .total :is(th, td) { font-size: .8125rem; }
  .chart .lines :is(th, td) { padding-left: .5rem; }
  .chart .lines :is(th, td):first-child { padding-left: 0; }
}
`;

const PRINT = `
@media print {
  html { font-size: 10pt; }
  body { max-width: none; padding: 0; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  :root { --soft: #333; --line: #999; }
  .head { padding-top: .7rem; }
  h1 { font-size: 2.1rem; margin-top: .5rem; }
  .section { display: block; padding-top: 1.5rem; }
  .section > .body { display: block; border-top: 0; padding-top: .5rem; }
  .section > .body > * + * { margin-top: .8rem; }
  .part { display: block; padding-top: .8rem; }
  .part > * + * { margin-top: .5rem; }
  .finding { display: block; padding-bottom: .9rem; }
  .finding > * + * { margin-top: .6rem; }
  .steps, .step { display: block; }
  .step { padding: .6rem 0; }
  .step > * + * { margin-top: .4rem; }
  .watch video { display: none; }
  .told { display: block; }
  .told > * + * { margin-top: .5rem; }
  .told, .say, .text, .quote blockquote, .chain { max-width: none; }
  h2, h3, .group { break-after: avoid; }
  .finding, .cards, .chain li, .picture, .step, tr, .quote, .sign, .chart > * { break-inside: avoid; }
  .section > h2 { break-inside: avoid; }
  p, li { orphans: 3; widows: 3; }
  .cards { grid-template-columns: repeat(auto-fit, minmax(12rem, 1fr)); gap: .8rem; }
  .card { padding: .7rem .8rem; }
  .figure b { font-size: 1.6rem; }
  .pictures { grid-template-columns: 1fr 1fr; }
  .picture img { max-height: 11rem; }
  .finding:has(.pictures) { display: grid; grid-template-columns: 18rem minmax(0, 1fr); gap: 0 1.3rem; align-items: start; }
  .finding:has(.pictures) > h3 { grid-column: 1 / -1; margin-bottom: .5rem; }
  .finding:has(.pictures) > .told { margin-top: 0; }
  .finding .pictures { grid-template-columns: minmax(0, 1fr); gap: .5rem; }
  .finding .picture img { width: auto; max-width: 100%; max-height: 9.5rem; }
  .finding .facts.small { grid-template-columns: 1fr 1fr; }
  .more, .watch, .choose { display: none; }
  .answers summary { display: none; }
  details.answers::details-content { content-visibility: visible; display: block; height: auto; }
  thead { display: table-header-group; }
  .section:has(table.long), .part + .part:has(> table.long) { break-before: page; }
  .text.strong { break-after: avoid; }
  .leaf { break-after: page; }
  .leaf:last-child { break-after: auto; }
  .leaf tr.carry { display: table-row; }
  .carry th, .carry td { font-weight: 600; }
  .total { break-before: avoid; }
  a { text-decoration: none; }
  footer p:first-child { display: none; }
}
`;
