/** One total, wherever it is read: the same string. */
import { expect, it } from 'vitest';
import { estimateView } from '../../../server/src/features/client/estimate-view.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { pageOf, pdfPages, readable, sampleJob } from './paper.ts';

it('stands on the page, in the PDF, in plain text, in CSV, in JSON and in the editor', async () => {
  const { source, estimates, file } = sampleJob('J-1042');
  const print = async (format: 'html' | 'text' | 'csv' | 'json') =>
    (await printJob(source, 'customer', format)) as string;
  const totals = JSON.parse(await print('json')).options.map(
    (option: { printed: { total: string } }) => option.printed.total,
  ) as string[];
  expect(totals).toEqual(['$6,507.91', '$7,582.06', '$4,665.53']);
  const pdf = (await pdfPages((await printJob(source, 'customer', 'pdf')) as Uint8Array)).join(' ');
  const papers = {
    page: readable(pageOf(await print('html'))),
    pdf,
    text: await print('text'),
    editor: JSON.stringify(estimateView(estimates, file)),
  };
  for (const total of totals) {
    for (const [name, paper] of Object.entries(papers))
      expect(paper.includes(total), `${name}: ${total}`).toBe(true);
    expect(await print('csv')).toContain(`,${total.replaceAll(/[$,]/g, '')}`);
  }
  // What the shop pays is in none of them; the friction plates cost 142.00.
  for (const [name, paper] of Object.entries(papers))
    if (name !== 'editor') expect(paper, name).not.toContain('$142.00');
});
