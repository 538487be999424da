/** What a reader sees of a signed page: corrections beside what they correct, the digest, nothing to write above it. */
import { describe, expect, test } from 'vitest';
import { codeActions } from '../../../server/features/code-actions';
import { duration } from '../../../server/features/duration';
import { hover } from '../../../server/features/hover';
import { inlayHints } from '../../../server/features/inlay-hints';
import { withoutStops } from '../../../server/prove';
import { edited, marked, notebook, PAGE } from './notebook';

// 20.0 mL × 1.049 g/mL × 99.7 % ÷ 60.052 g/mol = 348.3 mmol; of 21.0 mL 365.7 mmol, of 22.0 mL 383.1 mmol.
const HEAD = `experiment TB-014: Isopentyl acetate
date: 2026-03-04
author: MK
substance acetic acid: C2H4O2, density 1.049 g/mL, purity 99.7 %
`;
const CHARGE = 'charge acetic acid: 20.0 mL (348 mmol), excess\n';
const SIGNED = 'signed: MK, 2026-03-04 17:20\n';
const FIRST = 'amend charge acetic acid: 20.0 mL -> 21.0 mL, misread the scale, MK, 2026-03-05 09:10\n';
const SECOND = 'amend charge acetic acid: 21.0 mL -> 22.0 mL, two strokes, JL, 2026-03-06\n';

const shown = (text: string): string[] => {
  const { workspace, at } = marked(text);
  return hover(workspace.snapshot(PAGE), at)?.markdown.split(/\s*\n/) ?? [];
};
const EVERYWHERE = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };
const hints = (text: string, elapsed = false) =>
  inlayHints(notebook({ [PAGE]: text }).snapshot(PAGE), EVERYWHERE, { charges: true, products: true, elapsed }).map(
    ({ position: { line, character }, label, edit }) => {
      const own = text.split('\n')[line]!;
      return { line: `${own.slice(0, character)}«${label}»${own.slice(character)}`, edit };
    },
  );
/** All that could touch the page itself. */
const TOUCHING = ['quickfix', 'fillClaims', 'addDigest', 'amend'].map((kind) =>
  kind === 'quickfix' ? kind : `refactor.rewrite.tarebook.${kind}`,
);
const titles = (text: string) => {
  const { workspace, at } = marked(text);
  return codeActions(workspace, PAGE, { start: at, end: at }, TOUCHING).map(({ title }) => title);
};

describe('an amended number', () => {
  test('shows old and new, why, who and when, and what follows from it now', () => {
    const lines = shown(`${HEAD}${CHARGE.replace('20.0', '20‸.0')}${SIGNED}${FIRST}`);
    expect(lines[0]).toBe('~~20.0 mL~~ **21.0 mL** · misread the scale · MK, 2026-03-05 09:10 (line 7)');
    expect(lines.join('\n')).toMatch(/\| amount \| 365\.7 ± \d\.\d mmol \|/);
  });

  test('in the amendment shows the same', () => {
    const there = shown(`${HEAD}${CHARGE}${SIGNED}${FIRST.replace('21.0', '21‸.0')}`);
    expect(there).toEqual(shown(`${HEAD}${CHARGE.replace('20.0', '20‸.0')}${SIGNED}${FIRST}`));
  });

  test('amended again shows both steps', () => {
    const lines = shown(`${HEAD}${CHARGE.replace('20.0', '20‸.0')}${SIGNED}${FIRST}${SECOND}`);
    expect(lines.slice(0, 2)).toEqual([
      '~~20.0 mL~~ **21.0 mL** · misread the scale · MK, 2026-03-05 09:10 (line 7)',
      '~~21.0 mL~~ **22.0 mL** · two strokes · JL, 2026-03-06 (line 8)',
    ]);
    expect(lines.join('\n')).toContain('383.1');
  });

  test('has a hint behind it, and so has a claim that was right when it was signed', () => {
    const found = hints(`${HEAD}${CHARGE}${SIGNED}${FIRST}${SECOND}`);
    expect(found.map(({ line }) => line)).toContain('charge acetic acid: 20.0 mL«amended: 22.0 mL» (348 mmol), excess');
    expect(found.map(({ line }) => line)).toContain(
      'charge acetic acid: 20.0 mL (348 mmol«amended: 383 mmol»), excess',
    );
  });

  test('its claim says both', () => {
    expect(shown(`${HEAD}${CHARGE.replace('348', '34‸8')}${SIGNED}${FIRST}`)[0]).toBe(
      '348 mmol as it was signed; **365.7 mmol** with what was amended.',
    );
  });

  test('a claim that was wrong when it was signed stays wrong', () => {
    const text = `${HEAD}${CHARGE.replace('348', '438')}${SIGNED}${FIRST}`;
    const { findings } = notebook({ [PAGE]: text })
      .snapshot(PAGE)
      .page(1);
    expect(findings.map(({ code }) => code)).toEqual(['claim-mismatch']);
  });

  test('what was replaced is no longer judged, what replaced it is', () => {
    const judged = (charge: string, amendment: string) =>
      notebook({ [PAGE]: `${HEAD}${charge}\n${SIGNED}${amendment}\n` })
        .snapshot(PAGE)
        .page(1)
        .findings.map(({ code }) => code);
    expect(judged('charge acetic acid: 20,0 mL, excess', '')).toEqual(['number-format']);
    expect(
      judged(
        'charge acetic acid: 20,0 mL, excess',
        'amend charge acetic acid: 20,0 mL -> 20.0 mL, comma, MK, 2026-03-05',
      ),
    ).toEqual([]);
  });
});

describe('a signed page', () => {
  test('offers the digest and nothing else; with it the page is quiet', () => {
    const text = `${HEAD}${CHARGE}signed: MK, 2026-03-04‸ 17:20\n`;
    expect(titles(text)).toEqual(['Add the digest of the page as it was signed']);
    const { workspace, at } = marked(text);
    const [action] = codeActions(workspace, PAGE, { start: at, end: at });
    const after = edited(workspace, PAGE, action!.edits);
    expect(after).toMatch(/signed: MK, 2026-03-04 17:20, digest [0-9a-f]{16}\n$/);
    expect(
      notebook({ [PAGE]: after })
        .snapshot(PAGE)
        .page(1).findings,
    ).toEqual([]);
    const spoilt = after.replace('20.0 mL', '21.0 mL');
    expect(
      notebook({ [PAGE]: spoilt })
        .snapshot(PAGE)
        .page(1)
        .findings.map(({ code }) => code),
    ).toContain('changed-after-signing');
  });

  test('has no finding for want of a digest', () => {
    expect(
      notebook({ [PAGE]: `${HEAD}${CHARGE}${SIGNED}` })
        .snapshot(PAGE)
        .page(1).findings,
    ).toEqual([]);
  });

  test('offers nothing above the signature: no fix, no accept, no claims', () => {
    expect(titles(`${HEAD}charge acetic acid: 20‸,0 mL, excess\n${SIGNED}`)).toEqual([
      'Amend 20,0 mL below the signature',
    ]);
    expect(titles(`${HEAD}charge acetic acid: 20.0‸ mL, excess\n${SIGNED}`)).toEqual([
      'Amend 20.0 mL below the signature',
    ]);
    expect(titles(`${HEAD}charge acetic‸ acid: 20.0 mL, excess\n${SIGNED}`)).toEqual([]);
    expect(titles(`${HEAD}${SIGNED}amend charge acetic acid: 1 g ‸-> 2 g, slip, MK, 2026-03-05\n`)).toEqual([]);
    expect(hints(`${HEAD}charge acetic acid: 20.0 mL, excess\n${SIGNED}`).every(({ edit }) => !edit)).toBe(true);
  });

  test.each([
    [
      'a number',
      'charge acetic acid: 20‸.0 mL\n',
      '',
      'amend charge acetic acid: 20.0 mL -> 20.0 mL, reason, MK, date',
    ],
    [
      'one that stands there twice',
      'weigh ash: tare 2.0 g, gross 2‸.0 g\n',
      '',
      'amend weigh ash: gross 2.0 g -> gross 2.0 g, reason, MK, date',
    ],
    [
      'one that was amended twice',
      'charge acetic acid: 20‸.0 mL\n',
      FIRST + SECOND,
      'amend charge acetic acid: 22.0 mL -> 22.0 mL, reason, MK, date',
    ],
    [
      'one that was amended already',
      'charge acetic acid: 20‸.0 mL\n',
      FIRST,
      'amend charge acetic acid: 21.0 mL -> 21.0 mL, reason, MK, date',
    ],
  ])('%s can be amended: the line stands below, ready to be filled in', (_, line, more, expected) => {
    const { workspace, at } = marked(`${HEAD}${line}${SIGNED}${more}`);
    const [action] = codeActions(workspace, PAGE, { start: at, end: at }, ['refactor.rewrite.tarebook.amend']);
    const after = edited(
      workspace,
      PAGE,
      action!.edits.map(({ range, text }) => ({ range, text: withoutStops(text) })),
    );
    expect(after.trimEnd().split('\n').at(-1)).toBe(expected);
    const { amendments } = notebook({ [PAGE]: after })
      .snapshot(PAGE)
      .page(1).page;
    expect(amendments.at(-1)!.problem).toBeUndefined();
  });

  test('below it an amendment can be mended', () => {
    expect(
      titles(`${HEAD}${CHARGE}${SIGNED}amend charge‸ acetic acdi: 20.0 mL -> 21.0 mL, misread, MK, 2026-03-05\n`)[0],
    ).toBe('Replace charge acetic acdi with charge acetic acid');
    expect(titles(`${HEAD}${CHARGE}${SIGNED}amend charge‸ acetic acid: 20.0 mL -> 21.0 mL\n`)[0]).toBe(
      'Add what is missing: reason, name or date',
    );
  });

  test('a witness signs over the digest of the signer', () => {
    const text = `${HEAD}${CHARGE}${SIGNED}witnessed: JL‸, 2026-03-05\n`;
    expect(titles(text)).toEqual(['Add the digest of the page as it was witnessed']);
    expect(titles(`${HEAD}${SIGNED.replace('MK', 'M‸K')}witnessed: JL, 2026-03-05, digest 3f2a91bc07de55a0\n`)).toEqual(
      [],
    );
  });

  test('the hover says whether it is still what was signed', () => {
    expect(shown(`${HEAD}${CHARGE}${SIGNED.replace('MK', 'M‸K')}`)[1]).toMatch(/^No digest: .* [0-9a-f]{16}\.$/);
    expect(shown(`${HEAD}signed: M‸K, 2026-03-04, digest 3f2a91bc07de55a0\n`)[1]).toMatch(/^The text is not the one/);
  });
});

describe('elapsed time', () => {
  const LOG = `${HEAD}09:40 a\n09:44 b\n09:55 c\n23:30 d\n00:30 e\n`;
  test('stands behind the times when asked for, from five minutes on', () => {
    expect(hints(LOG, true).map(({ line }) => line)).toEqual([
      '09:55«+15 min» c',
      '23:30«+13 h 50 min» d',
      '00:30«+14 h 50 min» e',
    ]);
    expect(hints(LOG)).toEqual([]);
  });

  test.each([
    [59, '0 min'],
    [3600, '1 h'],
    [27_660, '7 h 41 min'],
    [90_000, '1 d 1 h'],
    [86_400, '1 d'],
  ])('%d s is %s', (seconds, text) => expect(duration(seconds)).toBe(text));
});
