import { accepted, type Parsed, refused } from './parsed.ts';
import { suggestion } from './words.ts';

/**
 * Currency codes by the number of their decimals: ISO 4217 list one as published 2024-06-25. Codes without a minor
 * unit (metals, testing, drawing rights) are left out: nobody prices a repair in them.
 */
const CODES_BY_DIGITS: ReadonlyArray<readonly [digits: number, codes: string]> = [
  [0, 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF'],
  [
    2,
    `AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF
     CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG
     HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK
     MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE
     SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD YER ZAR ZMW ZWG`,
  ],
  [3, 'BHD IQD JOD KWD LYD OMR TND'],
  [4, 'CLF UYW'],
];

const DIGITS: ReadonlyMap<string, number> = new Map(
  CODES_BY_DIGITS.flatMap(([digits, codes]) => codes.split(/\s+/).map((code) => [code, digits] as const)),
);

export const CURRENCY_CODES: readonly string[] = [...DIGITS.keys()].toSorted();

/** How many decimals a currency has (USD 2, JPY 0, KWD 3), or undefined for an unknown code. */
export function minorDigits(code: string): number | undefined {
  return DIGITS.get(code);
}

/** Reads a currency code of ISO 4217, such as `USD`. */
export function parseCurrency(text: string): Parsed<string> {
  const typed = text.trim();
  if (DIGITS.has(typed)) return accepted(typed);
  const upper = typed.toUpperCase();
  if (DIGITS.has(upper)) return refused(`Write the currency code in capitals: ${upper}.`);
  const near = /^[A-Z]{3}$/.test(upper) ? suggestion(upper, CURRENCY_CODES) : '';
  return refused(
    `"${typed}" is not a currency code. Write the three letters of ISO 4217, such as USD or CAD.${near}`,
  );
}
