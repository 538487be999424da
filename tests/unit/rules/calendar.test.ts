import { expect, test } from 'vitest';
import { iso } from '../../../server/rules/calendar';

test('a day agrees with the calendar of the language over eight hundred years', () => {
  for (let time = Date.UTC(1800, 0, 1); time < Date.UTC(2600, 0, 1); time += 86_400_000 * 17) {
    const date = new Date(time);
    const day = date.toISOString().slice(0, 10);
    expect(iso(date.getUTCFullYear(), date.getUTCMonth() + 1, date.getUTCDate())).toBe(day);
  }
  expect(iso(2026, 2, 30)).toBeUndefined();
});
