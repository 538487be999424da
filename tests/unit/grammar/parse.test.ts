import { describe, expect, it } from 'vitest';
import { parse } from '../../../grammar/parse';
import type { Fact, NumberNode, Part, Statement, Term } from '../../../grammar/tree';

// A short notation for trees: words as they stand, ‹quantities›, [keys], (claims), {open claims.

const number = ({ digits, text, defect, concise }: NumberNode) =>
  `${digits ?? `?${text}`}${concise === undefined ? '' : `(${concise})`}${defect === undefined ? '' : ` ${defect}`}`;

function showPart(part: Part): string {
  if (part.kind === 'struck') return `struck ${part.text}`;
  if (part.kind === 'word') return part.text;
  const { about, count, plusMinus, to, course, unit } = part;
  return [
    about ? '‹~' : '‹',
    count === undefined ? '' : `${number(count)} × `,
    number(part.number),
    plusMinus === undefined ? '' : ` ± ${number(plusMinus)}`,
    to === undefined ? '' : `${course ? ' to ' : ' – '}${number(to)}`,
    unit === undefined ? '' : ` ${unit.symbol}${unit.wrong ? '!' : ''}`,
    '›',
  ].join('');
}

const showTerm = ({ coefficient, name, state, rest }: Term) =>
  `${coefficient === undefined ? '' : `${coefficient.text} × `}${name.text}${state === undefined ? '' : ` in ${state}`}${rest ? ' and more' : ''}`;

function showFact(fact: Fact): string {
  const { key, parts, claims, equation, spectrum } = fact;
  return [
    key === undefined ? '' : `[${key}${spectrum ? ' spectrum' : ''}]`,
    ...parts.map(showPart),
    ...claims.map(({ closed, facts }) => `${closed ? '(' : '{'}${facts.map(showFact).join(', ')}${closed ? ')' : ''}`),
    equation === undefined
      ? ''
      : `${equation.left.map(showTerm).join(' + ')} ${equation.arrow.text} ${equation.right.map(showTerm).join(' + ')}`,
  ]
    .filter((shown) => shown !== '')
    .join(' ');
}

const statementOf = (text: string): Statement => {
  const { page } = parse(text).pages.at(-1)!;
  expect(page.blocks).toHaveLength(1);
  return page.blocks[0]!.block.statement!;
};

/** Legs of a statement, each a list of facts and perhaps a conclusion. */
const legs = (text: string): string[][] => {
  const { body } = statementOf(text);
  if (body.kind === 'text') throw new Error(`text: ${body.text.text}`);
  return body.legs.map((leg) => [
    ...leg.facts.map(showFact),
    ...(leg.conclusion === undefined ? [] : [`=> ${leg.conclusion.text}`]),
  ]);
};

/** Facts of a statement of one leg. */
const facts = (text: string): string[] => {
  const all = legs(text);
  expect(all.length).toBeLessThan(2);
  return all[0] ?? [];
};

describe('a number', () => {
  it.each([
    ['15.0 mL', '‹15.0 mL›'],
    ['15.0mL', '‹15.0 mL›'],
    ['15.0\u202fmL', '‹15.0 mL›'],
    ['12.20 g', '‹12.20 g›'],
    ['12 345.6 g', '‹12› ‹345.6 g›'],
    ['12\u2009345.6 g', '‹12345.6 g›'],
    ['12\u00a0345 g', '‹12345 g›'],
    ['0.000\u202f12 g', '‹0.00012 g›'],
    ['1.2e-3 mol', '‹1.2e-3 mol›'],
    ['1.2E−3 mol', '‹1.2e-3 mol›'],
    ['1.2 × 10^-3 mol', '‹1.2e-3 mol›'],
    ['1.2 × 10⁻³ mol', '‹1.2e-3 mol›'],
    ['1.2x10^3 mol', '‹1.2e3 mol›'],
    ['10⁻³ mol', '‹1e-3 mol›'],
    ['10^400 mol', '‹1e400 mol›'],
    ['1e400 mol', '‹1e400 mol›'],
    ['12.345(6) g', '‹12.345(6) g›'],
    ['−78 °C', '‹-78 °C›'],
    ['-78 °C', '‹-78 °C›'],
    ['–78 °C', '‹-78 °C›'],
    ['+23.4', '‹23.4›'],
    ['1,0 mL', '‹1.0 decimal-comma mL›'],
    ['0,125 g', '‹0.125 decimal-comma g›'],
    ['1.234,5 g', '‹1234.5 decimal-comma g›'],
    ['1,000 g', '‹?1,000 thousands-comma g›'],
    ['1,234.5 g', '‹1234.5 thousands-comma g›'],
    ['1,234,567 mg', '‹1234567 thousands-comma mg›'],
    ['.5 g', '‹0.5 leading-point g›'],
    ['-.5 °C', '‹-0.5 leading-point °C›'],
    ['1.2.3 g', '‹?1.2.3 malformed g›'],
    ['1,2,3 g', '‹?1,2,3 malformed g›'],
    ['1,0', '‹1.0 decimal-comma›'],
    ['2 crops', '‹2› crops'],
    ['6 foo', '‹6› foo'],
    ['54.881.', '‹54.881› .'],
  ])('%j', (written, shown) => {
    expect(facts(`charge x: ${written}`)).toEqual([shown]);
  });

  it.each([
    ['2-propanol', '2-propanol'],
    ['1H', '1H'],
    ['13C', '13C'],
    ['4-(dimethylamino)pyridine', '4-(dimethylamino)pyridine'],
    ['N,N-dimethylformamide', 'N,N-dimethylformamide'],
    ['2026-01-12', '2026-01-12'],
    ['12.03.2026', '12.03.2026'],
    ['09:40', '09:40'],
    ['12:1', '12:1'],
    ['1/2', '1/2'],
    ['3,5-di-tert-butyl', '3,5-di-tert-butyl'],
    ['1,4-dioxane', '1,4-dioxane'],
    ['2,4 dinitro', '2,4 dinitro'],
    ['18-crown-6', '18-crown-6'],
    ["2,2'-bipyridine", "2,2'-bipyridine"],
    ['H225', 'H225'],
    ['F-12', 'F-12'],
    ['10²', '1e2'],
    ['5²', '5²'],
    ['CC(C)CCOC(C)=O', 'CC(C)CCOC(C)=O'],
    ['5 g/foo', '‹5› g/foo'],
    ['2x3-foo', '2x3-foo'],
    ['–', '–'],
    ['±', '±'],
    ['~x', '~x'],
  ])('is none in %j', (written, shown) => {
    expect(facts(`charge x: ${written}`)).toEqual([shown.startsWith('1e') ? `‹${shown}›` : shown]);
  });
});

describe('a quantity', () => {
  it.each([
    ['133–135 °C', '‹133 – 135 °C›'],
    ['133 – 135 °C', '‹133 – 135 °C›'],
    ['139-141 °C', '‹139 – 141 °C›'],
    ['139−141 °C', '‹139 – 141 °C›'],
    ['139 °C–141 °C', '‹139 – 141 °C›'],
    ['139 °C-141 °C', '‹139 – 141 °C›'],
    ['139-141', '139-141'],
    ['14–23', '‹14 – 23›'],
    ['1–2–3', '1–2–3'],
    ['25.00 ± 0.03 mL', '‹25.00 ± 0.03 mL›'],
    ['25.00±0.03 mL', '‹25.00 ± 0.03 mL›'],
    ['25.00 +/- 0.03 mL', '‹25.00 ± 0.03 mL›'],
    ['25.00 mL ± 0.03 mL', '‹25.00 ± 0.03 mL›'],
    ['5.00 g ± 2 mg', '‹5.00 g› ± ‹2 mg›'],
    ['2 × 25 mL', '‹2 × 25 mL›'],
    ['2 x 25 mL', '‹2 × 25 mL›'],
    ['2x25 mL', '‹2 × 25 mL›'],
    ['2✕25 mL', '‹2 × 25 mL›'],
    ['2 × 3 × 4 mL', '‹2 × 3› × ‹4 mL›'],
    ['2 × 10 mL', '‹2 × 10 mL›'],
    ['~5 mL', '‹~5 mL›'],
    ['~ 5 mL', '‹~5 mL›'],
    ['ca. 5 mL', '‹~5 mL›'],
    ['ca 5 mL', '‹~5 mL›'],
    ['about 5 mL', '‹~5 mL›'],
    ['about an hour', 'about an hour'],
    ['-78 to -90 °C', '‹-78 to -90 °C›'],
    ['−78 °C to −90 °C', '‹-78 to -90 °C›'],
    ['5 min to 2 h', '‹5 min› to ‹2 h›'],
    ['5 g to 2-propanol', '‹5 g› to 2-propanol'],
    ['0.05 to 24.83 mL', '‹0.05 to 24.83 mL›'],
    ['5 mL of 2.5 M in hexanes', '‹5 mL› of ‹2.5 M› in hexanes'],
    ['5 % sodium chloride', '‹5 %› sodium chloride'],
    ['5 g, 6 g', '‹5 g›,‹6 g›'],
  ])('%j', (written, shown) => {
    expect(facts(`charge x: ${written}`).join(',')).toBe(shown);
  });

  it('has spans that count from the start of the block', () => {
    const text = 'charge x: ca. 2 × 25.0 mL, base\n';
    const { body } = statementOf(text);
    if (body.kind !== 'facts') throw new Error('text');
    const [amount, role] = body.legs[0]!.facts;
    const part = amount!.parts[0]!;
    if (part.kind !== 'quantity') throw new Error(part.kind);
    const at = ({ start, end }: { start: number; end: number }) => text.slice(start, end);
    expect(at(part.span)).toBe('ca. 2 × 25.0 mL');
    expect(at(part.count!.span)).toBe('2');
    expect(at(part.number.span)).toBe('25.0');
    expect(at(part.unit!.span)).toBe('mL');
    expect(at(role!.keySpan!)).toBe('base');
  });
});

describe('facts', () => {
  it.each([
    ['a comma separates before white space', 'charge x: 5 g, base, dry', ['‹5 g›', '[base]', 'dry']],
    ['a comma inside a name does not', 'charge x: from N,N-dimethyl, base', ['[from] N,N-dimethyl', '[base]']],
    ['nor inside brackets', 'charge x: foo (a, b), base', ['foo (a, b)', '[base]']],
    ['nor inside square ones', 'charge x: [a, b]c, base', ['[a, b]c', '[base]']],
    ['an unmatched bracket protects nothing', 'charge x: foo ((a, b), base', ['foo ((a, b)', '[base]']],
    ['of its kind', 'charge x: [a, b)', ['[a', 'b)']],
    ['a line break separates', 'charge x: 5 g\n  base\n', ['‹5 g›', '[base]']],
    ['so does a comma before it', 'charge x: 5 g,\r\n\tbase\r\n', ['‹5 g›', '[base]']],
    ['the first line may be empty', 'product x:\n  5 g\n', ['‹5 g›']],
    ['empty facts are none', 'charge x: , 5 g, , base,', ['‹5 g›', '[base]']],
    ['no facts at all', 'charge x:', []],
    ['struck text is not read', 'charge x: ~~20.0 mL~~ 21.0 mL', ['struck ~~20.0 mL~~ ‹21.0 mL›']],
    ['struck text does not hide a key', 'charge x: ~~base~~ acid', ['[acid] struck ~~base~~']],
    ['a lone ~~ is a word', 'charge x: ~~20.0 mL', ['~~20.0 mL']],
  ])('%s', (_, text, expected) => {
    expect(facts(text)).toEqual(expected);
  });
});

describe('known words', () => {
  it.each([
    ['the longest wins', 'solution x: made up to 100 mL', ['[made up to] ‹100 mL›']],
    ['white space between them does not matter', 'solution x: made  up\u00a0to 100 mL', ['[made up to] ‹100 mL›']],
    ['at a word boundary only', 'product x: driedup, dried-up, dried', ['driedup', 'dried-up', '[dried]']],
    ['in their own case', 'product x: Dried', ['Dried']],
    ['both spellings', 'product x: recrystallized, recrystallised', ['[recrystallised]', '[recrystallised]']],
    ['of their own statement', 'vessel F-1: limiting, tare 5 g', ['limiting', '[tare] ‹5 g›']],
    ['at the start of a fact only', 'charge x: with the base', ['[with] the base']],
    ['before a bracket', 'product x: dried (oven)', ['[dried] (oven)']],
    ['before an equals sign', 'substance x: CuSO4·xH2O, x = 2.4', ['CuSO4·xH2O', '[x] = ‹2.4›']],
    ['that begin with a digit', 'product x: 1st crop', ['[first crop]']],
    ['in excess, in a vessel', 'charge x: in excess, in F-2', ['[excess]', '[in] F-2']],
  ])('%s', (_, text, expected) => {
    expect(facts(text)).toEqual(expected);
  });
});

describe('a claim group', () => {
  it.each([
    ['after an amount', 'charge x: 15.0 mL (12.2 g, 138 mmol)', ['‹15.0 mL› (‹12.2 g›, ‹138 mmol›)']],
    ['after drops', 'charge x: 5 drops (0.25 mL)', ['‹5 drops› (‹0.25 mL›)']],
    ['after a share', 'plan x: 5.00 g at 80 % (0.1 mol)', ['‹5.00 g› at ‹80 %› (‹0.1 mol›)']],
    ['after an amount without a unit', 'charge x: 15.0 (12.2 g)', ['‹15.0› (‹12.2 g›)']],
    ['after a word for an amount', 'charge x: weighed (0.1 mol)', ['[weighed] (‹0.1 mol›)']],
    [
      'after a strength',
      'charge x: 4.00 mL of 2.5 M in hexanes (10.0 mmol)',
      ['‹4.00 mL› of ‹2.5 M› in hexanes (‹10.0 mmol›)'],
    ],
    ['after a sample', 'sample S-1: 50 mg of the crude (0.3 mmol)', ['‹50 mg› of the crude (‹0.3 mmol›)']],
    ['after a weighing', 'product x: gross 58.200 g (net 5.000 g)', ['[gross] ‹58.200 g› ([net] ‹5.000 g›)']],
    [
      'after a vessel',
      'product x: gross 58.200 g, in C-1 (net 5.000 g)',
      ['[gross] ‹58.200 g›', '[in] C-1 ([net] ‹5.000 g›)'],
    ],
    ['after a vessel with a blank', 'charge x: 5 g in beaker 4 (0.1 mol)', ['‹5 g› in beaker ‹4› (‹0.1 mol›)']],
    ['after a balance', 'weigh x: net 5 g, on B-1 (net 0.3888 g)', ['[net] ‹5 g›', '[on] B-1 ([net] ‹0.3888 g›)']],
    ['after a result', 'measure x: mp 133–135 °C (lit. 134 °C)', ['[mp] ‹133 – 135 °C› ([lit.] ‹134 °C›)']],
    [
      'after a result with conditions',
      'measure x: bp 71 °C at 12 mmHg (lit. 70 °C)',
      ['[bp] ‹71 °C› at ‹12 mmHg› ([lit.] ‹70 °C›)'],
    ],
    ['after a ratio', 'product x: dr 12:1 (by NMR)', ['[dr] 12:1 (by NMR)']],
    [
      'after a mass',
      'measure x: HRMS [M+Na]+ found 153.0886 (calcd 153.0890)',
      ['[HRMS] [M+Na]+ found ‹153.0886› ([calcd] ‹153.0890›)'],
    ],
    ['after a titre', 'titrate x: titre 24.78 mL (0.1012 mol/L)', ['[titre] ‹24.78 mL› (‹0.1012 mol/L›)']],
    [
      'after a made-up volume',
      'solution x: 4.00 g a in water, made up to 100 mL (1.00 mol/L)',
      ['‹4.00 g› a in water', '[made up to] ‹100 mL› (‹1.00 mol/L›)'],
    ],
    ['after struck text', 'charge x: 5 g ~~(1 mol)~~ (2 mol)', ['‹5 g› struck ~~(1 mol)~~ (‹2 mol›)']],
    ['alone as a fact', 'titrate x: titre 24 mL, (mean 0.1013 mol/L)', ['[titre] ‹24 mL›', '([mean] ‹0.1013 mol/L›)']],
    ['alone as the only fact', 'charge x: (12.2 g)', ['(‹12.2 g›)']],
    ['twice', 'charge x: 5 g (1 mol) (1.0 equiv)', ['‹5 g› (‹1 mol›) (‹1.0 equiv›)']],
    ['over two lines', 'charge x: 5 g (1 mol,\n  1.0 equiv), base', ['‹5 g› (‹1 mol›, ‹1.0 equiv›)', '[base]']],
    ['with brackets in it', 'charge x: 5 g (1 mol of a (b, c))', ['‹5 g› (‹1 mol› of a (b, c))']],
    ['with a semicolon', 'charge x: 5 g (1 mol; 2 equiv)', ['‹5 g› (‹1 mol›, ‹2 equiv›)']],
    ['empty', 'charge x: 5 g ()', ['‹5 g› ()']],
    [
      'unclosed runs to the end of its line',
      'charge x: 15.0 mL (12.2 g, 138\n  base',
      ['‹15.0 mL› {‹12.2 g›, ‹138›', '[base]'],
    ],
    [
      'unclosed before other brackets',
      'charge x: 5 g (1 mol\n  dried (oven), base',
      ['‹5 g› {‹1 mol›', 'dried (oven)', '[base]'],
    ],
    ['just opened', 'charge x: 15.0 mL (', ['‹15.0 mL› {']],
  ])('%s', (_, text, expected) => {
    expect(facts(text)).toEqual(expected);
  });

  it.each([
    ['without white space before it', 'charge x: 5 g(1 mol)', ['‹5 g› (1 mol)']],
    ['with a name going on after it', 'charge x: 5 g (S)-citronellal', ['‹5 g› (S)-citronellal']],
    ['in the name of a substance', 'substance x: copper(II) sulfate', ['copper(II) sulfate']],
    ['in a formula', 'charge x: 5 g (COCl)2', ['‹5 g› (COCl)2']],
    ['at the beginning of a name', 'substance x: also (R) foo', ['[also] (R) foo']],
    ['after a word', 'product x: dried with toluene (2 × 5 mL)', ['[dried] with toluene (2 × 5 mL)']],
    ['after a condition', 'product x: distilled at 60 °C (12 mmHg)', ['[distilled] at ‹60 °C› (12 mmHg)']],
    ['after a solvent', 'charge x: 2.0 g in THF (20 mL)', ['‹2.0 g› in THF (20 mL)']],
    ['after a solvent as a fact', 'charge x: 2.0 g, in CH2Cl2 (20 mL)', ['‹2.0 g›', '[in] CH2Cl2 (20 mL)']],
    ['after an amount and a word', 'charge x: 20 mL water (3 portions)', ['‹20 mL› water (3 portions)']],
    ['after a property', 'charge x: purity 97 % (GC)', ['[purity] ‹97 %› (GC)']],
    ['after a result without a number', 'measure x: HRMS (ESI) found 153.1', ['[HRMS] (ESI) found ‹153.1›']],
    ['after a stage', 'product x: 5 g, crude (wet)', ['‹5 g›', '[crude] (wet)']],
  ])('is no bracket %s', (_, text, expected) => {
    expect(facts(text)).toEqual(expected);
  });

  it('never stands in a subject', () => {
    const statement = statementOf('charge n-BuLi (2.5 M in hexanes): 4.00 mL');
    expect(statement.subject!.text).toBe('n-BuLi (2.5 M in hexanes)');
  });
});

describe('legs', () => {
  it.each([
    [
      'are separated by semicolons',
      'charge x: 5 g, from A-1; 6 g, from A-2',
      [
        ['‹5 g›', '[from] A-1'],
        ['‹6 g›', '[from] A-2'],
      ],
    ],
    ['not inside brackets', 'charge x: foo (a; b)', [['foo (a; b)']]],
    ['may be empty at the end', 'charge x: 5 g;', [['‹5 g›']]],
    [
      'have a conclusion',
      'test t: blue => ketone; none => no ketone',
      [
        ['blue', '=> ketone'],
        ['none', '=> no ketone'],
      ],
    ],
    [
      'end with it',
      'test t: of A, blue => ketone\n  of B, none => none',
      [
        ['[of] A', 'blue', '=> ketone'],
        ['[of] B', 'none', '=> none'],
      ],
    ],
    ['may be all conclusion', 'test t: => ketone, really', [['=> ketone, really']]],
    ['have an empty conclusion while it is typed', 'test t: blue => ', [['blue', '=> ']]],
  ])('%s', (_, text, expected) => {
    expect(legs(text)).toEqual(expected);
  });
});

describe('an equation', () => {
  it.each([
    ['isopentyl alcohol + acetic acid -> isopentyl acetate + water'],
    ['N,N-dimethylaniline + (S)-citronellal ⇌ Mg(OH)2'],
    ['A+B → C'],
  ])('%j', (equation) => {
    expect(facts(`reaction R1: ${equation}`)).toEqual([equation]);
  });

  it.each([
    ['coefficients', '2 toluene + 1/2 O2 <=> 0.5 x', '2 × toluene + 1/2 × O2 <=> 0.5 × x'],
    ['a number that begins a name', '3 2-phenylpyridine -> 1,4-dioxane', '3 × 2-phenylpyridine -> 1,4-dioxane'],
    ['a number alone is a name', '12 + x -> 13', '12 + x -> 13'],
    ['states', 'NaCl(aq) + 2 AgNO3(s) -> O2 (g) + H2O(l)', 'NaCl in aq + 2 × AgNO3 in s -> O2 in g + H2O in l'],
    ['brackets that are no state', 'iron(III) + (l)-x -> Cu(s)x', 'iron(III) + (l)-x -> Cu(s)x'],
    ['by-products not written', 'A -> B + ...', 'A -> B + ... and more'],
    ['an ellipsis', 'A -> B + …', 'A -> B + … and more'],
    ['charges', 'Cr2O7^2- + Fe^2+ -> Cr^3+', 'Cr2O7^2- + Fe^2+ -> Cr^3+'],
    ['a side still to be typed', 'A + -> ', 'A -> '],
    ['a second arrow', 'A -> B -> C', 'A -> B -> C'],
    ['blanks inside a name', 'acetic   acid -> x', 'acetic acid -> x'],
    ['an arrow inside brackets', 'a (b -> c) -> d', 'a (b -> c) -> d'],
  ])('%s', (_, equation, shown) => {
    expect(facts(`reaction R1: ${equation}`)).toEqual([shown]);
  });

  it('is followed by facts', () => {
    expect(facts('reaction R1: A -> B, at 5 °C (bath), resolution')).toEqual([
      'A -> B',
      '[at] ‹5 °C› (bath)',
      '[resolution]',
    ]);
    expect(facts('reaction R1:\n  A -> B\n  at 5 °C')).toEqual(['A -> B', '[at] ‹5 °C›']);
  });

  it('needs an arrow and a reaction', () => {
    expect(facts('reaction R1: 2 mL of A, A -> B')).toEqual(['‹2 mL› of A', 'A -> B']);
    expect(facts('charge x: A -> B')).toEqual(['A -> B']);
    expect(statementOf('charge x: A -> B').body).not.toHaveProperty('legs[0].facts[0].equation');
  });
});

describe('a spectrum', () => {
  it.each([
    [
      'runs to the end of its line',
      'measure x: 1H NMR (400 MHz, CDCl3) 7.2 (d, 2H), 3.5\n  mp 5 °C',
      [['[1H NMR spectrum] (400 MHz, CDCl3) 7.2 (d, 2H), 3.5', '[mp] ‹5 °C›']],
    ],
    ['or to a semicolon', 'measure x: IR 1720, 1600; mp 5 °C', [['[IR spectrum] 1720, 1600'], ['[mp] ‹5 °C›']]],
    ['outside brackets', 'measure x: IR (film; neat) 1720', [['[IR spectrum] (film; neat) 1720']]],
    ['with superscripts', 'product x: 5 g, ¹³C NMR 170.1', [['‹5 g›', '[13C NMR spectrum] 170.1']]],
    ['begins a fact', 'measure x: by MS, UV 254', [['[by] MS', '[UV spectrum] 254']]],
    ['not in a charge', 'charge x: MS 4 Å, base', [['MS ‹4 Å›', '[base]']]],
    ['not inside a word', 'measure x: IRA-400, MSD', [['IRA-400', 'MSD']]],
    ['without a word', 'measure x: IR', [['[IR spectrum]']]],
  ])('%s', (_, text, expected) => {
    expect(legs(text)).toEqual(expected);
  });
});

describe('plain text', () => {
  it.each([
    ['experiment TB-1: one, two; three\n  four', 'one, two; three four'],
    ['aim: a, b; c => d', 'a, b; c => d'],
    ['signed: MK, 2026-03-04 17:20', 'MK, 2026-03-04 17:20'],
    ['amend charge a: 20.0 mL -> 21.0 mL, slip, MK', '20.0 mL -> 21.0 mL, slip, MK'],
    ['accept net-mismatch: scale moved, seen', 'scale moved, seen'],
    ['plan: do it, then rest', 'do it, then rest'],
    ['test: a, b', 'a, b'],
    ['waste: a, b', 'a, b'],
    ['measure: a, b', 'a, b'],
    ['note:', ''],
  ])('%j', (text, expected) => {
    const { body } = statementOf(text);
    expect(body).toMatchObject({ kind: 'text', text: { text: expected } });
  });

  it('is not what `product:` and `reaction:` say', () => {
    expect(facts('product: 5 g, dried')).toEqual(['‹5 g›', '[dried]']);
    expect(facts('reaction: A -> B')).toEqual(['A -> B']);
  });
});
