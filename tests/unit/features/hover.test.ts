import { describe, expect, test } from 'vitest';
import { hover } from '../../../server/features/hover';
import { readMarked } from '../../kit/fixture';
import { notebook, uriOf } from '../../kit/notebook';
import { positionIn } from './at';

/** What the reader sees at the cursor `‸`, line by line, and what it is about. */
function at(
  marked: string,
  more: Readonly<Record<string, string>> = {},
): { lines: string[]; about: string } | undefined {
  const { text, cursors } = readMarked(marked);
  const snapshot = notebook({ 'page.tare': text, ...more }).snapshot(uriOf('page.tare'));
  const found = hover(snapshot, positionIn(text, cursors[0]!));
  if (!found) return undefined;
  const { start, end } = found.range;
  return {
    lines: found.markdown.split('\n').map((line) => line.trimEnd()),
    about: text.split('\n')[start.line]!.slice(start.character, end.line === start.line ? end.character : undefined),
  };
}
const text = (marked: string, more?: Readonly<Record<string, string>>): string =>
  at(marked, more)?.lines.join('\n') ?? '';

/**
 * Atomic weights: CIAAW, abridged. C5H12O 88.150, C2H4O2 60.052, C7H14O2 130.187 g/mol.
 * 15.0 mL × 0.810 g/mL = 12.15 g = 137.8 mmol; 20.0 mL × 1.049 g/mL = 20.98 g, × 99.7 % = 20.92 g = 348.3 mmol, 2.527
 * times as much; 210.5 mmol more. Theory 137.8 mmol × 130.187 g/mol = 17.94 g; 13.674 g of it is 76.2 %.
 * Atom economy 130.187 / (88.150 + 60.052) = 87.8 %.
 */
const HEAD = `experiment TB-014: Isopentyl acetate
substance isopentyl alcohol: C5H12O, density 0.810 g/mL at 20 °C
substance acetic acid: C2H4O2, density 1.049 g/mL, purity 99.7 %
substance isopentyl acetate: C7H14O2
vessel F-12: 50 mL flask, tare 41.207 g
reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water
charge isopentyl alcohol: 15.0 mL, limiting
`;

describe('what went in', () => {
  const ACID = `${HEAD}charge acetic‸ acid: 20.0 mL\n`;

  test('name, role and share first, then a table with the place of every input', () => {
    const found = at(ACID);
    expect(found?.about).toBe('acetic acid');
    expect(found?.lines).toEqual([
      '**acetic acid** · charge, 2.53 equiv',
      '',
      '| | | |',
      '|---|---|---|',
      '| volume | 20.0 mL | measured, line 8 |',
      '| mass | 20.98 g | 20.0 mL × 1.049 g/mL (line 3) |',
      expect.stringMatching(/^\| amount \| 348\.3 ± 0\.\d mmol \| 20\.98 g × 99\.7 % \(line 3\) ÷ 60\.052 g\/mol \|$/),
      '| equivalents | 2.527 equiv | ÷ 137.8 mmol isopentyl alcohol, limiting |',
      '',
      expect.stringMatching(/^Excess over R1: 21\d/),
    ]);
  });

  test('the quantity says the same about itself', () => {
    const found = at(ACID.replace('‸', '').replace('20.0 mL\n', '20.‸0 mL\n'));
    expect(found?.about).toBe('20.0 mL');
    expect(found?.lines[0]).toBe('**acetic acid** · charge, 2.53 equiv');
  });

  test('by difference: the weighing is the working of the mass', () => {
    const hovered = text(`${HEAD}charge acetic‸ acid: before 14.382 g, after 13.747 g`);
    expect(hovered).toMatch(/\| mass \| 0\.635 ± 0\.\d+ g \| 14\.382 g − 13\.747 g \|/);
  });

  test('a catalyst has mol%, a solvent no share at all', () => {
    expect(text(`${HEAD}charge tolu‸ene: 0.145 mL, catalyst`)).toMatch(/^\*\*toluene\*\* · charge, catalyst, \S+ mol%/);
    expect(text(`${HEAD}charge tolu‸ene: 20 mL, solvent`)).not.toContain('equiv');
  });

  test('a number of the handbook says so, with its source', () => {
    const hovered = text(`${HEAD}charge tolu‸ene: 20 mL, solvent`);
    expect(hovered).toContain('g/mL (handbook)');
    expect(hovered).toMatch(/\ntoluene: \S+/);
  });

  test('what is missing is named, nothing is made up', () => {
    const hovered = text(`experiment A\nsubstance thing: C2H6O\ncharge thi‸ng: 5.0 mL`);
    expect(hovered).toContain('| volume | 5.0 mL | measured, line 3 |');
    expect(hovered).toMatch(/\| amount \| not computable \| needs .*density.*thing/);
  });

  test('a name that looks like Markdown is shown as it stands', () => {
    expect(text('experiment A\ncharge N,N-[di*me‸thyl*]_x_: 5.0 g')).toContain('**N,N-\\[di\\*methyl\\*\\]\\_x\\_**');
  });
});

describe('what came out', () => {
  test('yield first, then the way to it', () => {
    expect(at(`${HEAD}product isopentyl ‸acetate: gross 54.881 g, in F-12, distilled`)?.lines).toEqual([
      '**isopentyl acetate** · distilled · **76.2 %**',
      '54.881 g − 41.207 g (line 5) = 13.674 g',
      expect.stringMatching(/^13\.674 g ÷ 130\.187 g\/mol = 105\.03\d? mmol$/),
      expect.stringMatching(/^÷ 137\.8 mmol \(theory, limiting isopentyl alcohol\) = \*\*76\.2 ± 0\.\d %\*\*$/),
      '',
      'u from: 15.0 mL 97 %, density 3 %',
    ]);
  });

  test('a gross without a tare computes nothing, and takes no other tare', () => {
    expect(at(`${HEAD}product isopentyl acetate: gross‸ 57.43 g, in beaker 4`)?.lines).toEqual([
      '**isopentyl acetate** · product',
      'gross 57.43 g in beaker 4 · no tare written for beaker 4',
      'Net and yield are not computable. Tares of other vessels are not used.',
    ]);
  });

  test('a later stage knows the one before', () => {
    const hovered = text(
      `${HEAD}product isopentyl acetate: 15.0 g, crude\nproduct isopentyl ‸acetate: 13.674 g, distilled`,
    );
    expect(hovered).toMatch(/crude: 15\.0 g \(83\.6 %\); 91\.2 % of it is here/);
  });
});

describe('a number in a claim', () => {
  test('right: how it comes about', () => {
    expect(at(`${HEAD}charge acetic acid: 20.0 mL (34‸8 mmol)`)?.lines).toEqual([
      '348 mmol agrees: **348.3 mmol** computed.',
      '20.0 mL × 1.049 g/mL (line 3) = 20.98 g',
      '20.98 g × 99.7 % (line 3) ÷ 60.052 g/mol = 348.3 mmol',
      // u²: 0.05 mL rectangular of 20.0 mL, 0.1 % of 99.7 %, 0.001 g/mL of 1.049 g/mL, each over √12.
      'u from: 20.0 mL 93 %, purity 4 %, density 3 %',
    ]);
  });

  test('wrong: what it should be, and the slip that gives what is written', () => {
    const hovered = text(`${HEAD}charge acetic acid: 20.0 mL (21.‸0 mg)`);
    expect(hovered).toMatch(/^\*\*21\.0 mg\*\* does not match: \*\*20\.98 g\*\*/);
    expect(hovered).toMatch(/Slip that gives 21\.0 mg: \*.*thousand/);
  });

  test('what it stands on', () => {
    expect(at(`${HEAD}charge acetic acid: 20.0 mL (34‸8 mmol)`)?.about).toBe('348 mmol');
  });

  test('with nothing to compare it with, it says what is missing', () => {
    expect(text('experiment A\nsubstance thing: C2H6O\ncharge thing: 5.0 mL (3.9‸ g)')).toMatch(
      /^\*\*3\.9 g\*\* cannot be checked: needs .*density/,
    );
  });
});

describe('reactions', () => {
  test('balance, limiting reactant, theory of what is isolated', () => {
    expect(at(HEAD.replace('reaction', 'reac‸tion').concat('charge acetic acid: 20.0 mL'))?.lines).toEqual([
      '**R1** · balanced · atom economy 87.8 %',
      '',
      'isopentyl alcohol **137.8 mmol, limiting** + acetic acid 348.3 mmol → isopentyl acetate (theory 17.94 g) + water',
      '',
      'C 7 = 7 · H 16 = 16 · O 3 = 3',
    ]);
  });

  test('not balanced: what differs, and the equation that is', () => {
    const hovered = text('experiment A\nrea‸ction R1: H2 + O2 -> H2O');
    expect(hovered).toMatch(/^\*\*R1\*\* · \*\*not balanced\*\*/);
    expect(hovered).not.toContain('atom economy');
    expect(hovered).toMatch(/O 2 ≠ 1/);
    expect(hovered).toMatch(/Balanced: 2 H2 \+ O2 -\\> 2 H2O/);
  });

  test('a term is its substance', () => {
    const hovered = text(HEAD.replace('-> isopentyl acetate', '-> isopentyl ‸acetate'));
    expect(hovered).toMatch(/^\*\*isopentyl acetate\*\* · C₇H₁₄O₂/);
    expect(hovered).toContain('theory 17.94 g');
  });
});

describe('declarations', () => {
  test('a substance with its formula, its molar mass and its uses on the page', () => {
    const hovered = text(
      HEAD.replace('substance acetic acid', 'substance acetic‸ acid').concat('charge acetic acid: 20.0 mL'),
    );
    expect(hovered).toMatch(/^\*\*acetic acid\*\* · C₂H₄O₂\n60\.052 g\/mol \(CIAAW/);
    expect(hovered).toContain('here: charged 20.0 mL');
    expect(hovered).toContain('see the safety data sheet');
  });

  test('a vessel with its tares, those of other pages too', () => {
    const hovered = text(`${HEAD}product isopentyl acetate: gross 54.881 g, in F‸-12`, {
      'other.tare': 'experiment TB-002: Other\ndate: 2026-01-05\nvessel F-12: flask, tare 41.209 g',
    });
    expect(hovered).toMatch(/^\*\*F-12\*\* · 50 mL flask\ntare 41\.207 g \(line 5\)|tare 41\.207 g/);
    expect(hovered).toContain('tare 41.209 g (TB-002, 2026-01-05)');
  });

  test('a balance, a solution', () => {
    expect(text('experiment A\nbalance B‸-2: readability 0.001 g')).toContain('readability 0.001 g');
    const hovered = text(
      'experiment A\nsubstance salt: NaCl\nsolution br‸ine: 2.000 g salt in water, made up to 100.0 mL',
    );
    // 2.000 g ÷ 58.44 g/mol in 0.1000 L is 0.342 mol/L
    expect(hovered).toMatch(/\*\*0\.342\d? ± \S+ mol\/L\*\*/);
  });
});

describe('evidence', () => {
  test('a titration with its runs, and one run with its working', () => {
    // 0.4084 g ÷ 204.22 g/mol = 2.000 mmol; in 20.00 mL 0.1000 mol/L
    const page = `experiment A
substance potassium hydrogen phthalate: C8H5KO4
solution titrant: 0.1 mol/L sodium hydroxide in water
tit‸rate titrant: against potassium hydrogen phthalate
  run 0.4084 g, burette 0.00 to 20.00 mL; run 0.4085 g, burette 0.00 to 20.02 mL
`;
    expect(text(page)).toMatch(
      /^\*\*titrant\*\* · titrated against potassium hydrogen phthalate · \*\*0\.\d+ ± \S+ mol\/L\*\*\nrun 1: 0\.4084 g, 20\S* mL → 0\.(?:0999|1000)\d* mol/,
    );
    const run = text(page.replace('‸', '').replace('run 0.4084', 'r‸un 0.4084'));
    expect(run).toMatch(
      /^\*\*titrant\*\* · run 1 of 2 · \*\*0\.(?:0999|1000)\d* ± \S+ mol\/L\*\*\n0\.4084 g ÷ 204\.22\d? g\/mol = 1\.999\d? mmol/,
    );
  });

  test('a test with what the structures should show, and its caution', () => {
    const hovered = text(`experiment A
reaction R1: ethanol -> acetaldehyde + H2
test Tol‸lens: of acetaldehyde, silver mirror => aldehyde
`);
    expect(hovered).toMatch(/acetaldehyde \(tested\): positive expected/);
    expect(hovered).toMatch(/caution: .*safety data sheet/);
  });

  test('combustion and exact mass, as they should be', () => {
    // C7H6O2: C 84.077 ÷ 122.123 = 68.85 %
    expect(text('experiment A\nmeasure benzo‸ic acid: combustion C 68.60, H 4.97')).toMatch(
      /C: found 68\.60 · \*\*68\.[89]\S* %\*\* computed/,
    );
  });

  test('a page with its ledger', () => {
    // 12.15 g + 20.98 g went in
    const hovered = text(
      `${HEAD}charge acetic acid: 20.0 mL\nproduct isopentyl acetate: 13.674 g\nwaste aqueous acid: 15.0 g\n`.replace(
        'exper',
        'exp‸er',
      ),
    );
    expect(hovered).toMatch(/^\*\*TB-014\*\* · Isopentyl acetate\nin 33\.1\d? g/);
  });
});

describe('words and units', () => {
  test('a unit is worth so much', () => {
    const gas = 'experiment A\ncharge methane: 10 L, at 25 °C, at 745 mm‸Hg';
    expect(at(gas)).toEqual({
      lines: ['**mmHg** · conventional millimetre of mercury · 1 mmHg = 0.133322387415 kPa'],
      about: 'mmHg',
    });
    // 101.325 kPa ÷ 760
    expect(text(gas.replace('mm‸Hg', 'To‸rr'))).toBe('**Torr** · torr · 1 Torr ≈ 0.1333224 kPa');
  });

  test('a known word explains itself', () => {
    expect(text('experiment A\ncharge water: 5 mL, que‸nch')).toBe('**quench** · Added to end the reaction');
  });
});

describe('never', () => {
  const everywhere = `${HEAD}charge acetic acid: 20.0 mL (21.0 g, 348 mmol, 2.5 equiv)
charge chloroform: 5 mL, solvent
charge nonsuch: weighed
product isopentyl acetate: gross 54.881 g (net 13.674 g, 76.2 %), in F-12, distilled
Poured into water, then 5 mL of brine (2 × 5 mL).
`;
  const snapshot = notebook({ 'page.tare': everywhere }).snapshot(uriOf('page.tare'));
  const all = [...everywhere].flatMap((_, offset) => hover(snapshot, positionIn(everywhere, offset)) ?? []);

  test('longer than twelve lines, nor a verdict on safety, nor an unfinished number', () => {
    expect(all.length).toBeGreaterThan(200);
    for (const { markdown } of all) {
      expect(markdown.split('\n').length).toBeLessThanOrEqual(12);
      expect(markdown).not.toMatch(/\bsafe\b|NaN|undefined|Infinity|\[object/);
    }
  });

  test('in prose', () => {
    expect(at(`${HEAD}\nPoured in‸to water, 5 mL.`)).toBeUndefined();
    expect(at('experiment A\n```\ncharge wat‸er: 5 mL\n```')).toBeUndefined();
    expect(at('‸')).toBeUndefined();
  });
});
