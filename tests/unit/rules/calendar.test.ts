import { expect, test } from 'vitest';
import { dayAfter, iso } from '../../../server/rules/calendar';

// The Gregorian rule of leap years: every fourth year, not the centuries, but every fourth century.
test.each([
  ['2026-03-04', '2026-03-05'],
  ['2026-02-28', '2026-03-01'],
  ['2028-02-28', '2028-02-29'],
  ['2100-02-28', '2100-03-01'],
  ['2000-02-28', '2000-02-29'],
  ['2026-12-31', '2027-01-01'],
  ['2026-02-30', undefined],
  ['4 March', undefined],
  [undefined, undefined],
])('the day after %s is %s', (day, next) => {
  expect(dayAfter(day)).toBe(next);
});

test('a day agrees with the calendar of the language over eight hundred years', () => {
  for (let time = Date.UTC(1800, 0, 1); time < Date.UTC(2600, 0, 1); time += 86_400_000 * 17) {
    const date = new Date(time);
    const day = date.toISOString().slice(0, 10);
    expect(iso(date.getUTCFullYear(), date.getUTCMonth() + 1, date.getUTCDate())).toBe(day);
    expect(dayAfter(day)).toBe(new Date(time + 86_400_000).toISOString().slice(0, 10));
  }
});
