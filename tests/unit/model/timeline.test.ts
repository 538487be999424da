import { describe, expect, test } from 'vitest';
import { parse } from '../../../grammar/parse';
import { between, dateOf, dayNumber, logOf, momentOf } from '../../../server/model/timeline';

const log = (text: string) => logOf(parse(`experiment TB-1: a\n${text}`).pages[1]!.page);
const HOUR = 3600;

test('days agree with the calendar of the language over eight hundred years', () => {
  for (let time = Date.UTC(1800, 0, 1); time < Date.UTC(2600, 0, 1); time += 86_400_000 * 17) {
    const date = new Date(time).toISOString().slice(0, 10);
    const day = dayNumber(date)!;
    expect(dateOf(day)).toBe(date);
    expect(dateOf(day + 1)).toBe(new Date(time + 86_400_000).toISOString().slice(0, 10));
    expect(day - dayNumber('1970-01-01')!).toBe(time / 86_400_000);
  }
});

// The Gregorian rule of leap years: every fourth year, not the centuries, but every fourth century.
test.each(['2026-02-29', '2100-02-29', '2026-13-01', '2026-00-10', '2026-04-31', '4 March', '2026-3-4'])(
  '%s is no day',
  (text) => expect(dayNumber(text)).toBeUndefined(),
);
test.each(['2028-02-29', '2000-02-29'])('%s is one', (text) => expect(dateOf(dayNumber(text)!)).toBe(text));

test('moments are compared to the second where both have a time, else by the day', () => {
  const at = (text: string) => momentOf(text)!;
  expect(between(at('2026-03-04 17:20'), at('2026-03-05T00:10'))).toBe(6 * HOUR + 50 * 60);
  expect(between(at('2026-03-04 17:20'), at('2026-03-04'))).toBe(0);
  expect(between(at('2026-03-04'), at('2026-03-03 23:59'))).toBe(-24 * HOUR);
});

describe('the log', () => {
  test('runs over midnight and over days', () => {
    expect(
      log('date: 2026-03-04\n16:00 a\n23:30 b\n00:30 c\ndate: 2026-03-06\n09:00 d\n').map(({ elapsed, moment }) => [
        elapsed! / HOUR,
        dateOf(moment!.day),
      ]),
    ).toEqual([
      [0, '2026-03-04'],
      [7.5, '2026-03-04'],
      [8.5, '2026-03-05'],
      [41, '2026-03-06'],
    ]);
  });

  test('without a date the time of a day is enough', () => {
    expect(log('09:00 a\n10:30 b\n').map(({ elapsed, moment }) => [elapsed, moment])).toEqual([
      [0, undefined],
      [1.5 * HOUR, undefined],
    ]);
  });

  test('where the text says that another day began, nobody knows how long it was', () => {
    expect(log('date: 2026-03-04\n16:00 a\nNext morning:\n09:00 b\n').map(({ elapsed }) => elapsed)).toEqual([
      0,
      undefined,
    ]);
  });

  test('a small fall is said, with what it fell from; a late entry is none', () => {
    const found = log('date: 2026-03-04\n16:00 a\n15:00 b\n14:50 late entry: c\n15:10 d\n');
    expect(found.map(({ fall, late }) => [fall, late])).toEqual([
      [0, false],
      [HOUR, false],
      [0, true],
      [0, false],
    ]);
    expect(found[1]!.before?.text).toBe('16:00');
  });
});
