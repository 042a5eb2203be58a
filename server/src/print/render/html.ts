/** A paper as one HTML file that needs nothing else: no script to be read, nothing fetched, prints as it stands. */
import { leavesOf } from '../carry.ts';
import type { Block, Card, Chart, Choose, Doc, Fact, Finding, Picture, Row, Step, Table } from '../doc.ts';
import { base64, sha256 } from './bytes.ts';
import { html, type Markup, trusted } from './markup.ts';
import { PICKING } from './picking.ts';
import { styleOf } from './style.ts';

export async function renderHtml(doc: Doc): Promise<string> {
  const style = styleOf(doc);
  const script = doc.blocks.some(
    (one) => one.block === 'section' && one.blocks.some((inner) => inner.block === 'choose'),
  )
    ? PICKING
    : undefined;
  const policy = [
    "default-src 'none'",
    'img-src data:',
    `style-src 'sha256-${await sha256(style)}'`,
    ...(script === undefined ? [] : [`script-src 'sha256-${await sha256(script)}'`]),
    ...(doc.blocks.some(plays) ? ["media-src 'self' file:"] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const { head } = doc;
  const page = html`<!doctype html>
<html lang="${doc.lang}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${doc.title}${head.shop && ` · ${head.shop}`}</title>
<style>${trusted(style)}</style>
</head>
<body>
<header class="head">
${head.shop !== '' && html`<p class="shop">${head.shop}</p>`}
<address>${head.address.map((line) => html`<span>${line}</span>`)}</address>
<h1><span class="what">${head.what}</span> <span class="number">${head.number}</span></h1>
${notice(doc)}
${factList(head.facts, 'facts strip')}
</header>
<main>
${doc.blocks.map(block)}
</main>
<footer>
<p>${doc.foot}</p>
${notice(doc)}
</footer>
${script !== undefined && trusted(`<script>${script}</script>`)}
</body>
</html>
`;
  return page.text;
}

/** Whether it holds a video to play. */
function plays(one: Block): boolean {
  if (one.block === 'section' || one.block === 'part') return one.blocks.some(plays);
  return one.block === 'finding' && one.video?.play !== undefined;
}

function notice({ notice: words }: Doc): Markup | false {
  return words !== undefined && html`<p class="notice">${words}</p>`;
}

function block(one: Block): Markup {
  switch (one.block) {
    case 'section':
      return html`<section id="${one.id}" class="section of-${one.id}">
<h2>${one.title}</h2>
<div class="body">
${one.blocks.map(block)}
</div>
</section>`;
    case 'part':
      return html`<div class="part"${one.id !== undefined && html` id="${one.id}"`}>
<h3>${one.title}</h3>
${one.blocks.map(block)}
</div>`;
    case 'text':
      return textBlock(one.as, one.text, one.label);
    case 'list':
      return html`<ul>${one.items.map((item) => html`<li>${item}</li>`)}</ul>`;
    case 'facts':
      return html`${factList(one.rows, 'facts')}`;
    case 'table':
      return table(one);
    case 'finding':
      return finding(one);
    case 'chain':
      return html`<ol class="chain">${one.steps.map((step) => html`<li><b>${step.label}</b> <span>${step.value}</span></li>`)}</ol>`;
    case 'cards':
      return html`<ul class="cards">${one.cards.map(card)}</ul>`;
    case 'chart':
      return chart(one);
    case 'choose':
      return choose(one);
    case 'picture':
      return picture(one.picture);
    case 'sign':
      return html`<dl class="sign">${one.lines.map((line) => html`<div><dt>${line}</dt><dd></dd></div>`)}</dl>`;
    case 'steps':
      return html`<ol class="steps">${one.steps.map(step)}</ol>`;
  }
}

function textBlock(as: string, words: string, label: string | undefined): Markup {
  const lead = label !== undefined && html`<span class="label">${label}</span>`;
  if (as === 'quote') return html`<figure class="quote">${lead}<blockquote>${words}</blockquote></figure>`;
  return html`<p class="text ${as}">${lead}${lines(words)}</p>`;
}

/** Line breaks that the shop typed stay. */
function lines(words: string): Markup[] {
  return words.split(/\r?\n/).map((line, i) => (i === 0 ? html`${line}` : html`<br>${line}`));
}

function factList(facts: readonly Fact[], name: string): Markup | false {
  if (facts.length === 0) return false;
  return html`<dl class="${name}">${facts.map(({ label, value }) => html`<div><dt>${label}</dt> <dd>${value}</dd></div>`)}</dl>`;
}

function table(one: Table): Markup {
  const leaves = leavesOf(one);
  const long = leaves.length > 1;
  return html`<table class="lines${long ? ' long' : ''}">
<caption>${one.caption}</caption>
<thead><tr>${one.columns.map(({ title, align, narrow }) => (title === '' ? html`<td></td>` : html`<th scope="col" class="${align}${narrow ? ' narrow' : ''}">${title}</th>`))}</tr></thead>
${leaves.map(
  (leaf) => html`<tbody${long && html` class="leaf"`}>
${leaf.brought && row(leaf.brought, one, 'carry')}
${leaf.rows.map((each) => row(each, one))}
${leaf.carried && row(leaf.carried, one, 'carry')}
</tbody>`,
)}
</table>`;
}

function row({ as, cells, aside, note }: Row, { columns }: Table, more = ''): Markup {
  if (as === 'group')
    return html`<tr class="group"><th scope="rowgroup" colspan="${columns.length}">${cells[0]}</th></tr>`;
  const first = html`<th scope="row">${cells[0]}${aside !== undefined && html` <span class="aside">${aside}</span>`}${note !== undefined && html`<small>${note}</small>`}</th>`;
  const rest = columns.slice(1).map(({ align }, i) => html`<td class="${align}">${cells[i + 1]}</td>`);
  return html`<tr class="${as} ${more}">${first}${rest}</tr>`;
}

function finding(one: Finding): Markup {
  return html`<article class="finding" id="${one.id}">
<h3><span class="mark">${one.number}</span> ${one.title} <span class="verdict">${one.verdict}</span></h3>
${one.pictures.length > 0 && html`<div class="pictures">${one.pictures.map(picture)}</div>`}
<div class="told">
${one.say !== undefined && html`<p class="say">${one.say}</p>`}
${one.drawing && html`<div class="drawing">${trusted(one.drawing.svg)}</div>`}
${factList(one.facts, 'facts small')}
${one.video && watch(one.video, one.title)}
</div>
</article>`;
}

/** Played where it lies beside the page, without a script; the link stays for where it does not. */
function watch({ href, label, play }: NonNullable<Finding['video']>, title: string): Markup {
  return html`<div class="watch">
${play !== undefined && html`<video controls preload="metadata" playsinline src="${play}" aria-label="${title}"></video>`}
<p><a href="${href}">${label}</a></p>
</div>`;
}

function picture({ image, missing, alt, caption }: Picture): Markup {
  if (!image) return html`<p class="missing">${missing}</p>`;
  const src = `data:${image.mime};base64,${base64(image.bytes)}`;
  return html`<figure class="picture"><img src="${src}" alt="${alt}" width="${image.width}" height="${image.height}"><figcaption>${caption}</figcaption></figure>`;
}

function card(one: Card): Markup {
  return html`<li class="card${one.mark !== undefined ? ' marked' : ''}" id="${one.id}">
${one.mark !== undefined && html`<p class="tab">${one.mark}</p>`}
<h3>${one.title}</h3>
<p class="figure"><b>${one.figure}</b> <span>${one.figureLabel}</span></p>
${one.text !== undefined && html`<p class="say">${one.text}</p>`}
${factList(one.facts, 'facts small')}
${one.link && html`<p class="more"><a href="${one.link.href}">${one.link.label}<span class="aside">: ${one.title}</span></a></p>`}
</li>`;
}

function chart({ drawing, table: figures }: Chart): Markup {
  return html`<div class="chart"><div class="drawing">${trusted(drawing.svg)}</div>${table(figures)}</div>`;
}

/**
 * The list of answers is there for everybody; the form above it only points into the list, so that no total can come
 * from anywhere else.
 */
function choose({ intro, choices, words }: Choose): Markup {
  const options = choices.map(
    ({ option, name, picked }, i) =>
      html`<label class="way"><input type="radio" name="option" value="${i}"${picked && trusted(' checked')} data-option="${option}"> <span>${name}</span></label>`,
  );
  const extras = choices.map(
    (
      { extras: each, name },
      i,
    ) => html`<fieldset class="extras" data-of="${i}"><legend>${words.extras}<span class="aside">: ${name}</span></legend>
${each.length === 0 && html`<p>${words.none}</p>`}
${each.map((extra, bit) => html`<label><input type="checkbox" checked value="${1 << bit}"> <span>${extra.name}<small>${extra.note}</small></span></label>`)}
</fieldset>`,
  );
  return html`<p class="text">${intro}</p>
<form class="choose" hidden>
<fieldset class="ways"><legend>${words.option}</legend>${options}</fieldset>
${extras}
<p class="sum"><span>${words.total}</span> <output class="total"></output> <span class="effect"></span></p>
<p><label>${words.name} <input type="text" name="name" maxlength="80" autocomplete="name"></label></p>
<p><label>${words.answer} <textarea readonly rows="3"></textarea></label></p>
<p><button type="button" data-done="${words.copied}">${words.copy}</button></p>
</form>
<details class="answers" open><summary>${words.list}</summary>
${choices.map(
  ({ name, variants }, i) =>
    html`<p class="of">${name}</p><ul>${variants.map(
      ({ total, effect, answer }, mask) =>
        html`<li data-of="${i}" data-left="${mask}"><b>${total}</b> <span>${effect}</span> <code>${answer.replace('{name}', '______')}</code></li>`,
    )}</ul>`,
)}
</details>`;
}

function step({ title, aside, facts, fields, cautions }: Step): Markup {
  return html`<li class="step">
<h3><span class="tick" aria-hidden="true"></span> ${title} <span class="aside">${aside}</span></h3>
${factList(facts, 'facts small')}
${cautions.map(({ text, authority }) => html`<p class="caution">${text}${authority !== '' && html` <small>${authority}</small>`}</p>`)}
${fields.length > 0 && html`<dl class="fields">${fields.map(({ label, limit, filled }) => html`<div${limit.length + (filled?.length ?? 0) > 60 && html` class="wide"`}><dt>${label}<small>${limit}</small></dt><dd>${filled ?? ''}</dd></div>`)}</dl>`}
</li>`;
}
