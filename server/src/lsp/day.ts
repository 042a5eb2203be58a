import { type IsoDate, isoDate } from '../../../schemas/values/dates.ts';

/** The day where the server runs. */
export function today(): IsoDate {
  const now = new Date();
  const two = (number: number) => String(number).padStart(2, '0');
  return isoDate(`${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`);
}

/** The minute where the server runs: `2026-03-05T10:20`. */
export function now(): string {
  const date = new Date();
  const two = (number: number) => String(number).padStart(2, '0');
  return `${today()}T${two(date.getHours())}:${two(date.getMinutes())}`;
}
