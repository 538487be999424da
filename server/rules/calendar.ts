/** Days of the Gregorian calendar as ISO 8601 writes them. */

const LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const isLeap = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
const lengthOf = (year: number, month: number): number =>
  month === 2 && isLeap(year) ? 29 : (LENGTHS[month - 1] ?? 0);

/** `2026-03-04`; undefined for what is no day of the calendar. */
export function iso(year: number, month: number, day: number): string | undefined {
  if (!(year >= 1 && year <= 9999 && day >= 1 && day <= lengthOf(year, month))) return undefined;
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}
