/**
 * Every example in a rule and every page in `fixtures/rules` is run: what is marked is found, what is right is quiet,
 * the first fix gives the right page.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { applyEdits, prove, withoutStops } from '../server/prove';
import { RULES } from '../server/rules';
import type { Example, Rule } from '../server/rules/rule';
import { DEFAULTS } from '../server/settings';
import { lineOf, readFixtures, readMarked } from './kit/fixture';
import { type FoundInFile, findingsOf, notebook, uriOf } from './kit/notebook';

const PAGE = 'page.tare';

/** A rule that is off is switched on for its own examples. */
const open = (text: string, example: Example, rule: Rule) =>
  notebook(
    { ...example.files, [PAGE]: text },
    rule.severity === 'off' ? { ...DEFAULTS, severity: { [rule.code]: 'hint' } } : DEFAULTS,
  );
const isLoud = ({ finding }: FoundInFile): boolean => finding.severity === 'error' || finding.severity === 'warning';

/** One line for each finding, so that a difference can be read. */
const shown = (text: string, found: readonly FoundInFile[]): readonly string[] =>
  found.map(
    (f) => `${f.finding.code} "${text.slice(f.start, f.end)}" in line ${lineOf(text, f.start)}: ${f.finding.message}`,
  );

const marked = (
  text: string,
  places: readonly { readonly code: string; readonly start: number; readonly end: number }[],
) => places.map((m) => `${m.code} "${text.slice(m.start, m.end)}" in line ${lineOf(text, m.start)}`).sort();

const cases = RULES.flatMap((rule) =>
  rule.examples.map((example) => ({ code: rule.code, name: example.name, rule, example })),
);
const wrongs = cases.filter(({ example }) => example.wrong !== undefined);
const rights = cases.filter(({ example }) => example.right !== undefined);

describe.each(wrongs)('$code: $name: wrong', ({ rule, example }) => {
  const { text, marks } = readMarked(example.wrong!);
  const found = () => findingsOf(open(text, example, rule), PAGE);
  const own = () => found().filter(({ finding }) => finding.code === rule.code);

  test('gives exactly the marked findings', () => {
    expect(marks.length).toBeGreaterThan(0);
    expect(
      marked(
        text,
        own().map((f) => ({ code: rule.code, start: f.start, end: f.end })),
      ),
    ).toEqual(marked(text, marks));
    for (const { start, end, says } of marks) {
      if (says === undefined) continue;
      expect(
        own()
          .filter((f) => f.start === start && f.end === end)
          .map((f) => f.finding.message)
          .join('\n'),
      ).toContain(says);
    }
  });

  test('gives no other error or warning', () => {
    expect(
      shown(
        text,
        found().filter((f) => f.finding.code !== rule.code && isLoud(f)),
      ),
    ).toEqual([]);
  });

  test('says so in one line that fits, at a place within a line', () => {
    for (const f of own()) {
      expect(f.finding.message.length, f.finding.message).toBeLessThan(200);
      expect(f.finding.message).not.toMatch(/[\r\n]|undefined|NaN|\[object|please|!|\bsafe\b/i);
      expect(f.end).toBeGreaterThan(f.start);
      expect(text.slice(f.start, f.end)).not.toMatch(/[\r\n]/);
    }
  });

  test('offers only fixes that stand their proof', () => {
    const workspace = open(text, example, rule);
    for (const { finding, page } of findingsOf(workspace, PAGE).filter((f) => f.finding.code === rule.code)) {
      for (const fix of finding.fixes ?? []) {
        expect({ fix: fix.title, ...prove(workspace, uriOf(PAGE), page, finding, fix) }).toEqual({
          fix: fix.title,
          ok: true,
        });
      }
    }
  });

  test.runIf(rule.fixable === 'always')('has a fix for each, as declared', () => {
    expect(
      own()
        .filter((f) => f.fixes.length === 0)
        .map((f) => f.finding.message),
    ).toEqual([]);
  });

  test.runIf(rule.fixable === 'never')('has no fix, as declared', () => {
    expect(own().flatMap((f) => f.fixes.map(({ fix }) => fix.title))).toEqual([]);
  });

  test('its first fix gives the page that is right', () => {
    const first = own().find((f) => f.fixes.length > 0)?.fixes[0];
    if (!first) return;
    const edits = first.edits.map(({ span, text: t }) => ({ span, text: first.fix.snippet ? withoutStops(t) : t }));
    expect(applyEdits(text, edits)).toBe(example.fixed ?? example.right);
  });
});

describe.each(rights)('$code: $name: right', ({ rule, example }) => {
  const { text, marks } = readMarked(example.right!);

  test('gives no finding of the rule, and no error or warning', () => {
    expect(marks).toEqual([]);
    const found = findingsOf(open(text, example, rule), PAGE);
    expect(
      shown(
        text,
        found.filter((f) => f.finding.code === rule.code || isLoud(f)),
      ),
    ).toEqual([]);
  });
});

describe.each(RULES.map((rule): [string, Rule] => [rule.code, rule]))('%s', (_, rule) => {
  test('has a wrong example, a right one and a near miss', () => {
    expect(rule.examples.some((e) => e.wrong !== undefined)).toBe(true);
    expect(rule.examples.some((e) => e.wrong === undefined && e.right !== undefined)).toBe(true);
    expect(rule.sources.length).toBeGreaterThan(0);
  });

  test.runIf(rule.fixable !== 'never')('shows a fix in one of its examples', () => {
    const fixes = rule.examples
      .filter((e) => e.wrong !== undefined)
      .flatMap((e) => {
        const found = findingsOf(open(readMarked(e.wrong!).text, e, rule), PAGE);
        return found.filter((f) => f.finding.code === rule.code).flatMap((f) => f.fixes);
      });
    expect(fixes.length).toBeGreaterThan(0);
  });
});

const FIXTURES = join(import.meta.dirname, 'fixtures/rules');
const fixtures = readdirSync(FIXTURES).flatMap((file) =>
  readFixtures(readFileSync(join(FIXTURES, file), 'utf8')).map((fixture) => ({
    ...fixture,
    where: `${file}:${fixture.line} ${fixture.title}`,
  })),
);

describe.each(fixtures)('$where', ({ files, after }) => {
  const { name, text, marks } = files[0]!;
  const workspace = notebook(Object.fromEntries(files.map((file) => [file.name, file.text])));
  const codes = new Set(marks.map((mark) => mark.code));
  const found = findingsOf(workspace, name).filter((f) => codes.has(f.finding.code) || isLoud(f));

  test('gives exactly the marked findings', () => {
    const places = found.map((f) => ({ code: f.finding.code, start: f.start, end: f.end }));
    expect(marked(text, places)).toEqual(marked(text, marks));
    for (const { code, start, end, says = '' } of marks) {
      const messages = found.filter((f) => f.finding.code === code && f.start === start && f.end === end);
      expect(messages.map((f) => f.finding.message).join('\n')).toContain(says);
    }
  });

  test.skipIf(/^signed:/m.test(text))('offers only fixes that stand their proof', () => {
    for (const { finding, page } of found) {
      for (const fix of finding.fixes ?? []) {
        expect({ fix: fix.title, ...prove(workspace, uriOf(name), page, finding, fix) }).toEqual({
          fix: fix.title,
          ok: true,
        });
      }
    }
  });

  test.runIf(after !== undefined)('its first fix gives the page after', () => {
    const first = found.find((f) => f.fixes.length > 0)!.fixes[0]!;
    const edits = first.edits.map(({ span, text: t }) => ({ span, text: first.fix.snippet ? withoutStops(t) : t }));
    expect(applyEdits(text, edits)).toBe(after);
  });
});
