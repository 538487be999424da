/** Which statement an amendment means, what OLD and NEW are, and where things stand afterwards. */
import { describe, expect, test } from 'vitest';
import { isHeld } from '../../../server/quantity/held';
import { notebook, uriOf } from '../../kit/notebook';

const HEAD = 'experiment TB-1: a\ndate: 2026-03-04\nauthor: MK\n';
const SIGNED = 'signed: MK, 2026-03-04 17:20\n';
const BY = 'misread, MK, 2026-03-05';

const resultOf = (text: string, files: Readonly<Record<string, string>> = {}) =>
  notebook({ ...files, 'page.tare': text })
    .snapshot(uriOf('page.tare'))
    .page(1);
const amendmentsOf = (body: string, ...lines: readonly string[]) =>
  resultOf(`${HEAD}${body}${SIGNED}${lines.map((line) => `amend ${line}\n`).join('')}`).page.amendments;
const only = (body: string, line: string) => amendmentsOf(body, line)[0]!;
const grams = (body: string, ...lines: readonly string[]) =>
  resultOf(`${HEAD}${body}${SIGNED}${lines.map((line) => `amend ${line}\n`).join('')}`).values.charges.map(
    ({ mass }) => (isHeld(mass) ? mass.value.toString() : mass.missing),
  );

describe('the statement', () => {
  test.each([
    ['by keyword and name', 'charge sodium chloride', '2'],
    ['whatever the case and the blanks', 'charge  Sodium   chloride', '2'],
    ['by its keyword alone, where it is the only one', 'charge', '2'],
  ])('%s', (_, name, value) => {
    expect(grams('charge sodium chloride: 1 g\n', `${name}: 1 g -> 2 g, ${BY}`)).toEqual([value]);
  });

  test('of two lines of a name the one that holds OLD', () => {
    expect(
      grams(
        'charge sodium chloride: 1.0 g\ncharge sodium chloride: 3.0 g\n',
        `charge sodium chloride: 3.0 g -> 4.0 g, ${BY}`,
      ),
    ).toEqual(['1', '4']);
  });

  test.each([
    ['no such name', `charge potassium chloride: 1 g -> 2 g, ${BY}`, 'no-statement'],
    ['no such keyword', `sodium chloride: 1 g -> 2 g, ${BY}`, 'no-statement'],
    ['no arrow', `charge sodium chloride: 1 g, ${BY}`, 'no-arrow'],
    ['nothing behind it', 'charge sodium chloride:', 'no-arrow'],
    ['an arrow and no NEW', 'charge sodium chloride: 1 g ->', 'no-arrow'],
    ['an arrow, no NEW and a reason', `charge sodium chloride: 1 g -> , ${BY}`, 'no-arrow'],
    ['not there', `charge sodium chloride: 7 g -> 2 g, ${BY}`, 'not-found'],
    ['a part of a longer number', `charge sodium chloride: 5 g -> 2 g, ${BY}`, 'not-found'],
    ['not the same digits', `charge sodium chloride: 1.0 g -> 2 g, ${BY}`, 'not-found'],
  ])('%s', (_, line, problem) => {
    expect(only('charge sodium chloride: 1 g, from the 25 g bottle\n', line).problem?.kind).toBe(problem);
  });

  test('twice in the statement, until more of it is written', () => {
    const body = 'weigh ash: tare 22.41 g, gross 22.41 g\n';
    expect(only(body, `weigh ash: 22.41 g -> 22.14 g, ${BY}`).problem).toEqual({ kind: 'several', count: 2 });
    expect(only(body, `weigh ash: tare 22.41 g -> tare 22.14 g, ${BY}`).problem).toBeUndefined();
  });

  test('with NEW it would be another kind of line', () => {
    expect(only('date: 2026-03-05\ncharge water: 1 g\n', `charge water: water -> water was, ${BY}`).problem?.kind).toBe(
      'unreadable',
    );
  });
});

describe('OLD and NEW', () => {
  test.each([
    [
      'over a line break of the statement',
      'charge sodium chloride: 1 g,\n  from the shelf\n',
      'from the shelf -> from the bench',
    ],
    [
      'with brackets and the commas in them',
      'charge sodium chloride: 1.00 g (1.00 g, 17.1 mmol)\n',
      '1.00 g (1.00 g, 17.1 mmol) -> 2.00 g (2.00 g, 34.2 mmol)',
    ],
    [
      'as many facts as there were',
      'weigh ash: tare 1.0 g, gross 2.0 g\n',
      'tare 1.0 g, gross 2.0 g -> tare 2.0 g, gross 3.0 g',
    ],
    ['more of them in quotes', 'charge sodium chloride: 1 g\n', '1 g -> "2 g, excess"'],
    ['the other arrow', 'charge sodium chloride: 1 g\n', '1 g → 2 g'],
  ])('%s', (_, body, change) => {
    const name = body.slice(0, body.indexOf(':'));
    const found = only(body, `${name}: ${change}, misread the scale, MK, 2026-03-05 09:10`);
    expect(found.problem).toBeUndefined();
    const [old, now] = change.split(/ (?:->|→) /);
    expect([found.old!.text, found.now!.text, found.reason!.text, found.by!.text, found.when!.text]).toEqual([
      old,
      now!.replaceAll('"', ''),
      'misread the scale',
      'MK',
      '2026-03-05 09:10',
    ]);
  });

  test.each([
    ['misread, MK, 2026-03-05', ['misread', 'MK', '2026-03-05']],
    [
      'misread, as it flickered, Maria Kovács, 2026-03-05 09:10',
      ['misread, as it flickered', 'Maria Kovács', '2026-03-05 09:10'],
    ],
    ['MK, 2026-03-05', [undefined, 'MK', '2026-03-05']],
    ['misread the scale, 2026-03-05', ['misread the scale', undefined, '2026-03-05']],
    ['misread the scale', ['misread the scale', undefined, undefined]],
    ['misread, MK', ['misread', 'MK', undefined]],
    ['2026-03-05', [undefined, undefined, '2026-03-05']],
  ])('why, who and when: %s', (rest, expected) => {
    const { reason, by, when } = only('charge sodium chloride: 1 g\n', `charge sodium chloride: 1 g -> 2 g, ${rest}`);
    expect([reason?.text, by?.text, when?.text]).toEqual(expected);
  });
});

describe('what follows', () => {
  test('amendments are carried out in their order', () => {
    const body = 'charge sodium chloride: 1 g\n';
    const lines = [`charge sodium chloride: 1 g -> 2 g, ${BY}`, `charge sodium chloride: 2 g -> 3 g, ${BY}`];
    expect(grams(body, ...lines)).toEqual(['3']);
    // The other way round the first finds nothing, and the second is the only one.
    expect(grams(body, ...lines.toReversed())).toEqual(['2']);
  });

  test('what comes from NEW stands in the amendment, the rest where it always stood', () => {
    const text = `${HEAD}charge sodium chloride: 1.00 g, from the shelf\n${SIGNED}amend charge sodium chloride: 1.00 g -> 12.00 g, ${BY}\n`;
    const { page } = resultOf(text);
    const [charge] = page.charges;
    const { start, end } = charge!.amount.quantities[0]!.span;
    expect(text.slice(start, end)).toBe('12.00 g');
    expect(text.slice(charge!.entry.span.start, charge!.entry.span.end)).toBe(
      'charge sodium chloride: 1.00 g, from the shelf',
    );
    expect(text.slice(charge!.name.span.start, charge!.name.span.end)).toBe('sodium chloride');
  });

  test('a corrected name is the one that counts', () => {
    const text = `${HEAD}charge sodium chlorid: 58.44 g\n${SIGNED}amend charge sodium chlorid: sodium chlorid -> sodium chloride, a letter lost, MK, 2026-03-05\n`;
    const { values, page, findings } = resultOf(text);
    expect(isHeld(values.charges[0]!.amount) && values.charges[0]!.amount.value.toNumber()).toBeCloseTo(1, 3);
    expect(findings).toEqual([]);
    expect(text.slice(page.charges[0]!.entry.mark.start, page.charges[0]!.entry.mark.end)).toBe('charge');
  });

  test('declarations count amended, here and on other pages', () => {
    const files = {
      'earlier.tare': `experiment TB-0: drying\ndate: 2026-03-01\nauthor: MK\nvessel F-12: flask, tare 41.207 g\nsigned: MK, 2026-03-01\namend vessel F-12: 41.207 g -> 41.307 g, wrong flask, MK, 2026-03-02\n`,
    };
    const { world, findings } = resultOf(
      `${HEAD}product ash: tare 41.307 g from TB-0, gross 42.307 g, in F-12\n`,
      files,
    );
    expect(world.tares('f-12').map(({ digits }) => digits)).toEqual(['41.307']);
    expect(findings.filter(({ code }) => code === 'tare-drift')).toEqual([]);
  });

  test('what another page cites is found in the amendment', () => {
    const earlier = `experiment TB-0: drying\ndate: 2026-03-01\nauthor: MK\nvessel F-12: flask, tare 41.207 g\nsigned: MK, 2026-03-01\namend vessel F-12: 41.207 g -> 41.999 g, wrong flask, MK, 2026-03-02\n`;
    const workspace = notebook({
      'earlier.tare': earlier,
      'page.tare': `${HEAD}product ash: tare 41.207 g, gross 42.307 g, in F-12\n`,
    });
    const { findings } = workspace.snapshot(uriOf('page.tare')).page(1);
    const drift = findings.find(({ code }) => code === 'tare-drift')!;
    const origin = drift.related![0]!.origin;
    const place = origin.from === 'there' ? workspace.locate(origin) : undefined;
    const { start, end } = place!.range;
    expect(earlier.split('\n')[start.line]!.slice(start.character, end.character)).toBe('41.999 g');
  });

  test('a page without amendments is read as it stands, block for block', () => {
    const { source, page } = resultOf(`${HEAD}charge sodium chloride: 1 g\n${SIGNED}`);
    expect(page.amendments).toEqual([]);
    expect(page.charges[0]!.entry.text).toBe(source.blocks[3]!.block.text);
  });

  test('a time and a date can be amended, and the order of time is that of the corrected ones', () => {
    const log = '16:50 Left to stir.\n09:10 Filtered.\n';
    const found = (...lines: readonly string[]) =>
      resultOf(
        `${HEAD}${log}signed: MK, 2026-03-04 18:00\n${lines.map((line) => `amend ${line}\n`).join('')}`,
      ).findings.map(({ code }) => code);
    expect(found()).toEqual(['time-runs-backwards']);
    expect(found(`09:10: 09:10 -> 17:10, wrong clock, MK, 2026-03-05`)).toEqual([]);
    expect(found(`09:10: 09:10 -> 18:10, wrong clock, MK, 2026-03-05`)).toEqual(['signature-order']);
    expect(
      found(
        `date: 2026-03-04 -> 2026-03-05, wrong day, MK, 2026-03-06`,
        `09:10: 09:10 -> 17:10, wrong clock, MK, 2026-03-06`,
      ),
    ).toEqual(['signature-order']);
  });

  test('with the line ends of Windows', () => {
    const text = `${HEAD}charge sodium chloride: 1 g,\n  from the shelf\n${SIGNED}amend charge sodium chloride: 1 g -> 2 g, ${BY}\n`;
    const { values, findings } = resultOf(text.replaceAll('\n', '\r\n'));
    expect(isHeld(values.charges[0]!.mass) && values.charges[0]!.mass.value.toString()).toBe('2');
    expect(findings).toEqual([]);
  });
});
