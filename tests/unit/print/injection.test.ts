import { expect, it } from 'vitest';
import { printJob, type SheetName } from '../../../server/src/print/print.ts';
import { PICKING } from '../../../server/src/print/render/picking.ts';
import { pageOf, sampleJob } from './paper.ts';

const ATTACK = `"'></style></script></textarea><script>alert(1)</script><img src=x onerror=alert(1)><svg onload=alert(1)><a href="javascript:alert(1)">x</a>\\3c`;

/** Keys whose values are free text wherever they stand in a book. */
const FREE =
  'name|say|text|authority|healthy|test|because|complaint|what|evidence|notice|reason|by|taken-by|contact|make|model|engine|plate|unit-number|note|phone|email|registration|epa-id|claim|terms|how|brand|sensitivity|claim|purchase-order|account|sublet|other|fluid-class';

/** The attack in every field of free text, and in the ids of options. */
function attacked(text: string): string {
  const quoted = `'${ATTACK.replaceAll("'", "''")}'`;
  return text
    .replaceAll(
      new RegExp(`^(\\s*(?:- )?(?:${FREE}): )([^>|{\\[#\\n][^\\n]*?)( +#.*)?$`, 'gm'),
      (whole, key: string, value: string) =>
        /how: (signature|in-person|telephone|email|text)$/.test(`${key}${value}`) ||
        /by: our|by: tall/.test(whole)
          ? whole
          : `${key}${quoted}`,
    )
    .replaceAll(
      /^( *- )(You are|Shop supplies|Parts are listed|Check your|The unit|Another|All that|State)[^\n]*$/gm,
      `$1${quoted}`,
    )
    .replaceAll(/(: >-\n)( +)/g, `$1$2${ATTACK}\n$2`);
}

const { source } = sampleJob('J-1076', attacked);

it('reaches every kind of field', () => {
  const { job, policy } = source.estimate;
  expect(job.complaint).toContain('onerror');
  expect(policy.shop.name).toContain('onerror');
  expect(source.estimate.options[0]?.name).toContain('onerror');
  expect(
    source.estimate.options[0]?.priced.lines.filter((line) => line.name.includes('onerror')).length,
  ).toBeGreaterThan(15);
});

it.each<SheetName>(['customer', 'invoice', 'talk', 'bench', 'order', 'inside'])(
  'is only text on the %s sheet',
  async (sheet) => {
    const html = (await printJob(source, sheet, 'html')) as string;
    const page = pageOf(html);
    const scripts = [...page.querySelectorAll('script')].map((one) => one.textContent);
    expect(scripts).toEqual(sheet === 'customer' ? [PICKING] : []);
    expect(page.querySelectorAll('style')).toHaveLength(1);
    for (const element of page.querySelectorAll('*')) {
      for (const { name, value } of element.attributes) {
        expect(name.toLowerCase()).not.toMatch(/^on|^style$|srcdoc/);
        if (name === 'src') expect(value).toMatch(/^data:image\/(png|jpeg);base64,/);
        if (name === 'href') expect(value).toMatch(/^#/);
      }
    }
    expect(page.body.textContent).toContain('<img src=x onerror=alert(1)>');
    // The one place where a text of the shop stands in the style sheet: the foot of a printed page.
    const style = page.querySelector('style')!.textContent!;
    expect(style.split('content:').length).toBe(style.split('content: ').length);
    expect(style).not.toContain('alert(1)');
  },
);
