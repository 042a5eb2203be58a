import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { ExchangedEstimate } from '../../../schemas/exchange/estimate.ts';
import { estimateView } from '../../../server/src/features/client/estimate-view.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { estimateText } from '../../../server/src/print/text.ts';
import { pageOf, pdfPages, readable, sampleJob } from './paper.ts';

const { source, estimates, file } = sampleJob('J-1042');
const html = (await printJob(source, 'customer', 'html')) as string;
const page = pageOf(html);
const words = readable(page);

describe('the page of the owner', () => {
  it('gives one and the same total on the page, in the PDF, as text, as CSV, as JSON, in the editor and in the shop’s own text', async () => {
    const totals = ['$6,507.91', '$7,582.06', '$4,665.53'];
    const pdf = (await pdfPages((await printJob(source, 'customer', 'pdf')) as Uint8Array)).join('\n');
    const text = (await printJob(source, 'customer', 'text')) as string;
    const csv = parse((await printJob(source, 'customer', 'csv')) as string, {
      bom: true,
      columns: true,
    }) as Record<string, string>[];
    const json = JSON.parse((await printJob(source, 'customer', 'json')) as string) as ExchangedEstimate;
    for (const total of totals) {
      expect(words).toContain(total);
      expect(pdf).toContain(total);
      expect(text).toContain(total);
      expect(estimateText(source.estimate)).toContain(total);
    }
    expect(csv.filter((row) => row.row === 'total').map((row) => row.printed)).toEqual(totals);
    expect(json.options.map((option) => option.printed.total)).toEqual(totals);
    expect(estimateView(estimates, file)!.options.map((option) => option.total.text)).toEqual(totals);
    expect(json.options.map((option) => option.total)).toEqual(['6507.91', '7582.06', '4665.53']);
  });

  it('tells in order what was found, why it failed, what can be done and what is promised', () => {
    expect([...page.querySelectorAll('h2')].map((one) => one.textContent)).toEqual([
      'In short',
      'What we found',
      'Why it failed',
      'Your choices, side by side',
      'What it takes, line by line',
      'If you stop after we open it',
      'What we stand behind',
      'Your consent',
      'The law, and our terms',
    ]);
    const chain = [...page.querySelectorAll('.chain li')].map((one) => one.textContent);
    expect(chain[0]).toContain(
      'Radiator leaks inside. The cooler inside the radiator cracked along its seam.',
    );
    expect(chain[1]).toContain('Coolant got into the fluid and took the lining off the clutch plates.');
    expect(chain.at(-1)).toContain('The new radiator is what keeps this from happening again.');
  });

  it('shows each finding beside what is normal: a picture, or a reading on its ruler', () => {
    const findings = [...page.querySelectorAll('.finding')];
    expect(
      findings.map((one) => one.querySelector('h3')?.textContent?.trim().replaceAll('\u00a0', ' ')),
    ).toEqual([
      '1 Slips in a gear found',
      '2 Coolant in the fluid found',
      '3 Radiator leaks inside found',
      '4 Clutch lining in the fluid found',
      '5 Clutch plates worn out found',
      '6 Bushing worn found',
      '7 Flow through the cooler 0.9 gal/min: outside what is normal',
    ]);
    expect(findings[1]!.querySelectorAll('img')).toHaveLength(2);
    // 1.1 gal/min at 86 F through steel: the row of the family's own table (samples, pattern of FLOW-04).
    expect(findings[6]!.querySelector('svg')?.getAttribute('aria-label')?.replaceAll('\u00a0', ' ')).toBe(
      'Flow through the cooler: 0.9 gal/min. Normal is at least 1.1 gal/min.',
    );
  });

  it('says of every part in which condition it is', () => {
    for (const line of source.estimate.chosen!.priced.lines.filter((one) => one.category === 'parts')) {
      const row = [...page.querySelectorAll('#lines-overhaul tr.row')].find((one) =>
        one.textContent?.includes(line.id!),
      );
      expect(row?.querySelector('.aside')?.textContent, line.name).toMatch(
        /· (new|used|rebuilt|reconditioned|remanufactured)\b/,
      );
    }
  });

  it('says when the warranty ends, and at how many miles', () => {
    // Month arithmetic and odometer as in WAR-12: 24 months from 2026-03-12, 84,327 + 24,000 mi.
    expect(words).toContain('It ends on March 12, 2028, or at 108,327 mi on the odometer.');
  });

  it('stands by itself: nothing is fetched, nothing runs but what its policy names', () => {
    const policy = page.querySelector('meta[http-equiv]')!.getAttribute('content')!;
    const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
    expect(policy).toContain(`style-src ${hash(page.querySelector('style')!.textContent!)}`);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|\*|https?:/);
    expect(page.querySelectorAll('script')).toHaveLength(0);
    expect(page.querySelectorAll('[style], link, iframe, object, embed')).toHaveLength(0);
    // But the video, which lies beside it.
    for (const one of page.querySelectorAll('[src]:not(video)'))
      expect(one.getAttribute('src')).toMatch(/^data:image\/(png|jpeg);base64,/);
    for (const one of page.querySelectorAll('[href]:not(.watch a)'))
      expect(one.getAttribute('href')).toMatch(/^#/);
  });

  it('is the same PDF, byte for byte, whenever it is printed', async () => {
    const [first, second] = [
      await printJob(source, 'customer', 'pdf'),
      await printJob(source, 'customer', 'pdf', { paper: 'letter' }),
    ];
    expect(Buffer.from(first as Uint8Array).equals(Buffer.from(second as Uint8Array))).toBe(true);
  });
});

describe('a job that is still open', () => {
  const open = sampleJob('J-1076').source;

  it('lets the owner pick, with every total already on the page', async () => {
    const page = pageOf((await printJob(open, 'customer', 'html')) as string);
    const policy = page.querySelector('meta[http-equiv]')!.getAttribute('content')!;
    const script = page.querySelector('script')!.textContent!;
    expect(policy).toContain(`script-src 'sha256-${createHash('sha256').update(script).digest('base64')}'`);
    expect(page.querySelectorAll('.answers li')).toHaveLength(4);
    expect(page.querySelector('form.choose')!.hasAttribute('hidden')).toBe(true);
    expect(page.querySelector('details.answers')!.hasAttribute('open')).toBe(true);
  });

  it('has a place to sign', async () => {
    const text = (await printJob(open, 'customer', 'text')) as string;
    expect(text).toMatch(/Signature: _{20,}/);
  });
});

describe('a job with a video', () => {
  const watched = async (source: ReturnType<typeof sampleJob>['source']) => {
    const page = pageOf((await printJob(source, 'customer', 'html')) as string);
    const policy = page.querySelector('meta[http-equiv=Content-Security-Policy]')?.getAttribute('content');
    const of = (what: string, name: string) =>
      [...page.querySelectorAll(`.watch ${what}`)].map((one) => one.getAttribute(name));
    return { links: of('a', 'href'), plays: of('video', 'src'), policy };
  };

  // Media Fragments URI 1.0 (W3C), 4.2.1: temporal dimension in seconds, the end after a comma.
  it('plays what each finding shows up to the next, and links to it for where the file is not', async () => {
    const { links, plays, policy } = await watched(sampleJob('J-1042').source);
    expect(links.slice(0, 2)).toEqual(['J-1042.mp4#t=22', 'J-1042.mp4#t=72']);
    expect(plays.slice(0, 2)).toEqual(['J-1042.mp4#t=22,72', 'J-1042.mp4#t=72,125']);
    expect(plays.at(-1)).toBe('J-1042.mp4#t=250');
    expect(policy).toContain("media-src 'self' file:");
  });

  it('only links where there is no such file, and lets nothing be played', async () => {
    const { links, plays, policy } = await watched(
      sampleJob('J-1042', (text) => text.replace('../pictures/J-1042.mp4', '"../pictures/a b #1.mp4"'))
        .source,
    );
    expect(links[0]).toBe('a%20b%20%231.mp4#t=22');
    expect(plays).toEqual([]);
    expect(policy).not.toContain('media-src');
  });
});
