import { describe, expect, it } from 'vitest';
import { printJob } from '../../../server/src/print/print.ts';
import { en } from '../../../server/src/print/words/en.ts';
import { es } from '../../../server/src/print/words/es.ts';
import { strangers } from '../../../server/src/print/words/index.ts';
import { pageOf, readable, sampleJob } from './paper.ts';

const places = (text: string) => [...new Set(text.match(/\{\w+\}/g) ?? [])].sort();

describe('the words of the papers', () => {
  it('say in Spanish what they say in English, with the same places to fill in', () => {
    for (const [name, text] of Object.entries(en)) {
      const other = es[name as keyof typeof en];
      expect(places(other), name).toEqual(places(text));
      expect(other.split('|').length, name).toBe(text.split('|').length);
    }
  });

  it('that a shop gives and no paper uses are told', () => {
    expect(strangers({ choices: 'x', chioces: 'y', 'unit.barrel': '{n} barrels' })).toEqual(['chioces']);
  });
});

describe('a shop in another language', () => {
  it('prints words, dates, numbers and quantities of its own', async () => {
    const { source } = sampleJob('J-1042', (text) =>
      text.replace('locale: en-US\nunits: us', 'locale: es-MX\nunits: metric'),
    );
    const page = pageOf((await printJob(source, 'customer', 'html')) as string);
    const words = readable(page).replaceAll('\u00a0', ' ');
    expect(page.documentElement.lang).toBe('es-MX');
    expect(words).toContain('Presupuesto J-1042');
    expect(words).toContain('5 de marzo de 2026');
    // 84,310 mi at 1.609344 km (UNIT-09), 0.9 and 1.1 US gal at 3.785411784 L (UNIT-02).
    expect(words).toContain('135,684 km');
    expect(words).toContain('3.4 L/min');
    expect(words).toContain('al menos 4.2 L/min');
    expect(words).toContain('USD 6,507.91');
    expect(words).not.toContain('What we found');
  });

  it('counts and tells the time as its language does, in words that the shop gives', async () => {
    // One, few and many differ in Polish (Unicode CLDR, plural rules); the time there has 24 hours.
    const days = async (n: number) => {
      const { source } = sampleJob('J-1042', (text) =>
        text
          .replace(
            'locale: en-US\nunits: us',
            `locale: pl-PL\nunits: metric\nwords: { days: "{n} dzień|{n} dni|{n} dni roboczych|{n} dnia" }`,
          )
          .replace('days: 6', `days: ${n}`),
      );
      return ((await printJob(source, 'customer', 'text')) as string).replaceAll('\u00a0', ' ');
    };
    expect(await days(1)).toContain('Time: 1 dzień\n');
    expect(await days(3)).toContain('Time: 3 dni\n');
    const many = await days(6);
    expect(many).toContain('Time: 6 dni roboczych\n');
    expect(many).toMatch(/3 marca 2026, 14:40/);
    expect(many).toContain('7,25%');
    const english = (await printJob(sampleJob('J-1042').source, 'customer', 'text')) as string;
    expect(english).toMatch(/March 3, 2026, 2:40\sPM/);
  });

  it('has the last word', async () => {
    const { source } = sampleJob('J-1042', (text) =>
      text.replace('units: us', 'units: us\nwords: { found: What turned up }'),
    );
    const page = pageOf((await printJob(source, 'customer', 'html')) as string);
    expect(page.querySelector('#found h2')?.textContent).toBe('What turned up');
  });
});
