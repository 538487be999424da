import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elements, isHalogen, isMetal } from '../../../server/chem/elements';
import {
  addScaled,
  type Formula,
  hill,
  looksLikeFormula,
  parseFormula,
  prettyFormula,
  sameComposition,
  subtract,
} from '../../../server/chem/formula';
import { Decimal } from '../../../server/quantity/decimal';

function read(text: string, x?: Decimal): Formula {
  const result = parseFormula(text, x);
  if (!result.ok) throw new Error(`${text}: ${result.problem} at ${result.at}`);
  return result.formula;
}
const hillOf = (text: string): string => hill(read(text));

// Compositions worked out by hand, or those of the compound's name in any handbook.
describe('what a formula holds', () => {
  it.each([
    ['H2O', 'H2O'],
    ['CuSO4·5H2O', 'CuH10O9S'],
    ['CuSO4 · 5 H2O', 'CuH10O9S'],
    ['CuSO4⋅5H2O', 'CuH10O9S'],
    ['CuSO4∙5H2O', 'CuH10O9S'],
    ['CuSO4•5H2O', 'CuH10O9S'],
    ['CuSO4*5H2O', 'CuH10O9S'],
    ['CuSO4.5H2O', 'CuH10O9S'],
    ['C2H2O4.2H2O', 'C2H6O6'],
    ['CaSO4·1/2H2O', 'CaHO4.5S'],
    ['CaSO4·½H2O', 'CaHO4.5S'],
    ['CaSO4.0.5H2O', 'CaHO4.5S'],
    ['2CaSO4·H2O', 'Ca2H2O9S2'],
    ['K3[Fe(C2O4)3]·3H2O', 'C6H6FeK3O15'],
    ['Na3[Al{OCH2(CH3)2}3]', 'C9H24AlNa3O3'],
    ['H₂O', 'H2O'],
    ['Al₂(SO₄)₃', 'Al2O12S3'],
    ['LiNi0.8Mn0.1Co0.1O2', 'Co0.1LiMn0.1Ni0.8O2'],
    ['(C2H4)n', 'C2H4'],
  ])('%s holds %s', (text, expected) => expect(hillOf(text)).toBe(expected));

  it('reads nuclides', () => {
    expect(hillOf('CDCl3')).toBe('C[2H]Cl3');
    expect(hillOf('C[2H]Cl3')).toBe('C[2H]Cl3');
    expect(hillOf('(13C)H3I')).toBe('[13C]H3I');
    expect(hillOf('¹³CH3I')).toBe('[13C]H3I');
    expect(hillOf('[13C6]H12O6')).toBe('[13C]6H12O6');
    expect(hillOf('[13C]6H12O6')).toBe('[13C]6H12O6');
    expect(hillOf('T2O')).toBe('[3H]2O');
  });

  // C: 6 for Et3N and so on: formulas of the substances that the abbreviations name (any supplier's catalogue).
  it.each([
    ['Et3N', 'C6H15N'],
    ['AcOH', 'C2H4O2'],
    ['Ac2O', 'C4H6O3'],
    ['AcCl', 'C2H3ClO'],
    ['EtOAc', 'C4H8O2'],
    ['NaOAc', 'C2H3NaO2'],
    ['Pd(OAc)2', 'C4H6O4Pd'],
    ['PhNHAc', 'C8H9NO'],
    ['AcONa', 'C2H3NaO2'],
    ['AcO2H', 'C2H4O3'],
    ['TsOH', 'C7H8O3S'],
    ['TsOH·H2O', 'C7H10O4S'],
    ['TsCl', 'C7H7ClO2S'],
    ['Tf2O', 'C2F6O5S2'],
    ['TMSOTf', 'C4H9F3O3SSi'],
    ['MsCl', 'CH3ClO2S'],
    ['iPr2NH', 'C6H15N'],
    ['i-Pr2NH', 'C6H15N'],
    ['HNiPr2', 'C6H15N'],
    ['iPr2NEt', 'C8H19N'],
    ['Ti(OiPr)4', 'C12H28O4Ti'],
    ['Ti(OPr)4', 'C12H28O4Ti'],
    ['PrOH', 'C3H8O'],
    ['PrNH2', 'C3H9N'],
    ['Pr2O', 'C6H14O'],
    ['Pr3N', 'C9H21N'],
    ['PrMgBr', 'C3H7BrMg'],
    ['nBuLi', 'C4H9Li'],
    ['n-BuLi', 'C4H9Li'],
    ['KOtBu', 'C4H9KO'],
    ['KOt-Bu', 'C4H9KO'],
    ['Bu3SnH', 'C12H28Sn'],
    ['Bu4NF', 'C16H36FN'],
    ['P(tBu)3', 'C12H27P'],
    ['PtBu3', 'C12H27P'],
    ['PPh3', 'C18H15P'],
    ['Pd(PPh3)4', 'C72H60P4Pd'],
    ['PdCl2(dppf)', 'C34H28Cl2FeP2Pd'],
    ['Pd2(dba)3', 'C51H42O3Pd2'],
    ['Ni(cod)2', 'C16H24Ni'],
    ['[Ir(COD)Cl]2', 'C16H24Cl2Ir2'],
    ['[Ru(bpy)3]^2+', 'C30H24N6Ru^2+'],
    ['[Cp*RhCl2]2', 'C20H30Cl4Rh2'],
    ['Cp2Fe', 'C10H10Fe'],
    ['BF3·OEt2', 'C4H10BF3O'],
    ['BH3·THF', 'C4H11BO'],
    ['SO3·py', 'C5H5NO3S'],
    ['Boc2O', 'C10H18O5'],
    ['CbzCl', 'C8H7ClO2'],
    ['FmocCl', 'C15H11ClO2'],
    ['TBSCl', 'C6H15ClSi'],
    ['TBDPSCl', 'C16H19ClSi'],
    ['BnBr', 'C7H7Br'],
    ['BzCl', 'C7H5ClO'],
    ['PhMe', 'C7H8'],
    ['MeCN', 'C2H3N'],
    ['HBpin', 'C6H13BO2'],
    ['B2pin2', 'C12H24B2O4'],
    ['PCy3', 'C18H33P'],
  ])('the abbreviation in %s gives %s', (text, expected) => expect(hillOf(text)).toBe(expected));

  it.each([
    ['PrCl3', 'Cl3Pr'],
    ['Pr2O3', 'O3Pr2'],
    ['Pr6O11', 'O11Pr6'],
    ['Pr(NO3)3', 'N3O9Pr'],
    ['Pr(OAc)3', 'C6H9O6Pr'],
    ['PrNi5', 'Ni5Pr'],
    ['PrN', 'NPr'],
    ['PrOCl', 'ClOPr'],
    ['(NH4)2Pr(NO3)5', 'H8N7O15Pr'],
    ['CsCl', 'ClCs'],
    ['CoCl2', 'Cl2Co'],
    ['SnBu4', 'C16H36Sn'],
  ])('keeps the metal in %s', (text, expected) => expect(hillOf(text)).toBe(expected));
});

describe('charge', () => {
  it.each([
    ['Fe^2+', 2, 'Fe^2+'],
    ['Fe²⁺', 2, 'Fe^2+'],
    ['Fe^+2', 2, 'Fe^2+'],
    ['Fe++', 2, 'Fe^2+'],
    ['Cr2O7^2-', -2, 'Cr2O7^2-'],
    ['SO₄²⁻', -2, 'O4S^2-'],
    ['SO4^2−', -2, 'O4S^2-'],
    ['H^+', 1, 'H^+'],
    ['Na+', 1, 'Na^+'],
    ['Cl⁻', -1, 'Cl^-'],
    ['[SO4]2-', -2, 'O4S^2-'],
    ['[Fe(CN)6]3-', -3, 'C6FeN6^3-'],
    ['[Fe(CN)6]⁴⁻', -4, 'C6FeN6^4-'],
    ['CH3CO2-', -1, 'C2H3O2^-'],
    ['C7H14O2Na+', 1, 'C7H14NaO2^+'],
    // Not one bracket round everything: the digit counts.
    ['[Co(NH3)5][NO2]2+', 1, 'CoH15N7O4^+'],
    ['(SO4)2-', -1, 'O8S2^-'],
    ['e-', -1, 'e^-'],
    ['e^-', -1, 'e^-'],
  ])('%s carries %i', (text, charge, expected) => {
    expect(read(text).charge).toBe(charge);
    expect(hillOf(text)).toBe(expected);
  });
});

// Ions as they are often typed; the charges are those of the ions in any table. IUPAC's form has the charge raised.
describe('a charge that was meant', () => {
  it.each([
    ['Fe3+', 'Fe^3+'],
    ['Ca2+', 'Ca^2+'],
    ['SO42-', 'SO4^2-'],
    ['CO32−', 'CO3^2-'],
    ['PO43-', 'PO4^3-'],
    ['Cr2O72-', 'Cr2O7^2-'],
    ['SiF62-', 'SiF6^2-'],
    ['Fe(CN)64-', 'Fe(CN)6^4-'],
  ])('%s is asked to be %s', (text, meant) => {
    expect(read(text).meant).toBe(meant);
    expect(Math.abs(read(meant).charge)).toBeGreaterThan(1);
    expect(read(meant).meant).toBeUndefined();
  });
  it.each([
    'CH3CO2-',
    'NO3-',
    'NH4+',
    'Na+',
    'C7H14O2Na+',
    'C16H23+',
    'C32-',
    '[SO4]2-',
    'Fe^3+',
    'C9H9O4+',
    'HSO4-',
    'I3-',
  ])('%s stands as it is', (text) => expect(read(text).meant).toBeUndefined());
});

describe('hydrates', () => {
  it('tells the dry formula and the waters', () => {
    const { hydrate } = read('CuSO4·5H2O');
    expect(hydrate?.waters.toNumber()).toBe(5);
    expect(hydrate?.dry.text).toBe('CuSO4');
    expect(hill(hydrate!.dry)).toBe('CuO4S');
  });
  it('takes the number of waters from x', () => {
    expect(hill(read('MgSO4·xH2O', new Decimal('2.4')))).toBe('H4.8MgO6.4S');
    expect(hill(read('MgSO4·xH2O', new Decimal(0)))).toBe('MgO4S');
    expect(read('MgSO4·xH2O', new Decimal('2.4')).hydrate?.waters.toString()).toBe('2.4');
    expect(parseFormula('MgSO4·xH2O')).toEqual({ ok: false, problem: 'The number x is not given: add “x = …”', at: 6 });
  });
  it('does not take nonsense for x', () => {
    expect(parseFormula('MgSO4·xH2O', new Decimal(-1)).ok).toBe(false);
    expect(parseFormula('MgSO4·xH2O', new Decimal(Number.NaN)).ok).toBe(false);
    expect(parseFormula('MgSO4·xH2O', new Decimal(Number.POSITIVE_INFINITY)).ok).toBe(false);
  });
  it('is no hydrate when something else follows the dot, or nothing but water is written', () => {
    expect(read('C8H11N·HCl').hydrate).toBeUndefined();
    expect(read('H2O').hydrate).toBeUndefined();
    expect(read('TsOH·H2O').hydrate?.dry.text).toBe('TsOH');
  });
  it('says where another sign stands for the dot', () => {
    expect(read('CuSO4*5H2O').dotAt).toBe(5);
    expect(read('CuSO4.5H2O').dotAt).toBe(5);
    expect(read('CuSO4·5H2O').dotAt).toBeUndefined();
    expect(read('[Cp*RhCl2]2').dotAt).toBeUndefined();
  });
  it('marks a repeat unit', () => {
    expect(read('(C2H4)n').repeat).toBe(true);
    expect(read('C2H4').repeat).toBeUndefined();
  });
});

describe('what is no formula', () => {
  it.each([
    ['', 0, 'There is no formula here'],
    ['NaXx2', 2, '“Xx” is not an element symbol'],
    ['nacl', 0, '“nacl” is not an element symbol: those begin with a capital'],
    ['Cu(SO4', 2, 'The bracket “(” is not closed'],
    ['CuSO4)', 5, '“)” closes no bracket'],
    ['Cu(SO4]', 6, '“]” cannot close “(”'],
    ['Cu()', 2, 'There is nothing between the brackets'],
    ['C0H4', 1, 'A count of 0 says nothing'],
    ['CuSO4·', 5, 'There is nothing after the dot'],
    ['CuSO4·5', 6, 'A formula must follow the number'],
    ['YBa2Cu3O6.93', 10, 'A formula must follow the number'],
    ['Na+Cl-', 2, 'A charge stands at the end of a formula, as in Fe^2+'],
    ['Na Cl', 2, 'A formula has no blanks in it'],
    ['CxH4', 1, 'The count “x” needs a number'],
    ['[15C]H4', 0, 'No mass is known here for the isotope 15C'],
    ['C1234567890', 1, 'This count is too large'],
    ['H2O!', 3, '“!” cannot stand in a formula'],
  ])('%j: at %i', (text, at, problem) => expect(parseFormula(text)).toEqual({ ok: false, problem, at }));

  it('answers at once for absurd texts', () => {
    const absurd = [
      `${'('.repeat(10_000)}C${')2'.repeat(10_000)}`,
      `${'('.repeat(900)}C${')'.repeat(900)}`,
      `${'('.repeat(400)}C${')9'.repeat(400)}`,
      'C'.repeat(1_000_000),
      `C${'9'.repeat(1_000_000)}`,
      `C1${'0'.repeat(400)}`,
      '+'.repeat(100_000),
      '·'.repeat(1000),
      '^'.repeat(1990),
      '²'.repeat(1990),
      `${'1'.repeat(1990)}+`,
    ];
    const start = performance.now();
    for (const text of absurd) {
      parseFormula(text);
      looksLikeFormula(text);
      prettyFormula(text);
    }
    // Quadratic work would take minutes.
    expect(performance.now() - start).toBeLessThan(10_000);
  });

  it('never throws, and an error points into the text', () => {
    const alphabet = fc.constantFrom(...'CHONaeltBruPSi0123₂²⁺⁻+-−^()[]{}·.*x n½/Ππ😀'.split(''));
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.string({ unit: alphabet, maxLength: 40 })), (text) => {
        const result = parseFormula(text, new Decimal(2));
        if (!result.ok) expect(result.at).toBeLessThanOrEqual(text.length);
        looksLikeFormula(text);
        prettyFormula(text);
      }),
      { numRuns: 3000 },
    );
  });
});

describe('looksLikeFormula', () => {
  it.each(
    (
      'NaCl C5H12O CuSO4·5H2O CuSO4.5H2O CuSO4*5H2O Fe^2+ Et3N H2O O2 Zn Pd(OAc)2 (COCl)2 HCl KOH KOtBu n-BuLi i-Pr2NEt ' +
      'Boc2O TMSCl PhMe MeCN H^+ Na+ Cl- [SO4]2- Cl2 Br2 N2 S8 C60 Na Mg CO HCN NaBH4 BH3·THF BF3·OEt2 Pd2(dba)3 CDCl3 ' +
      '[13C]H3I (CH3)2CO Fe²⁺ H₂O e- [NH4]+ (NH4)2SO4 K3[Fe(C2O4)3]·3H2O EtOAc Et3N·3HF'
    ).split(' '),
  )('%s does', (text) => expect(looksLikeFormula(text)).toBe(true));

  it.each([
    ...'Cyclohexanone I No water IDs KPa PyBOP T3P Es Tc NHS NBS NCS NIS DBU DCC PCC COD UV B2 F12 C18 R1 THF TMS TFA In As At He Be PBS'.split(
      ' ',
    ),
    ...'(S)-citronellal (S) (R) K S C N-methylaniline N,N-dimethylformamide Pd/C 2B 10B 3H Ac Ph Et Boc'.split(' '),
    'imide 10',
    'NHS ester',
    'compound 3',
    'sodium chloride',
    'Celite',
    'Water',
    'conc. HCl',
    'NaCl ',
    'CO2 balloon',
    '',
    '5 % NaOH',
  ])('%j does not', (text) => expect(looksLikeFormula(text)).toBe(false));

  it('is true for nothing that cannot be read', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'CHONaeltPh23()·+^- '.split('')), maxLength: 12 }), (text) => {
        if (looksLikeFormula(text)) expect(parseFormula(text).ok).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });
});

describe('prettyFormula', () => {
  it.each([
    ['K3[Fe(C2O4)3]·3H2O', 'K₃[Fe(C₂O₄)₃]·3H₂O'],
    ['K3[Fe(C2O4)3]*3H2O', 'K₃[Fe(C₂O₄)₃]·3H₂O'],
    ['CaSO4.0.5H2O', 'CaSO₄·0.5H₂O'],
    ['Cr2O7^2-', 'Cr₂O₇²⁻'],
    ['[SO4]2-', '[SO₄]²⁻'],
    ['CH3CO2-', 'CH₃CO₂⁻'],
    ['Fe^2+', 'Fe²⁺'],
    ['[13C]6H12O6', '[¹³C]₆H₁₂O₆'],
    ['(C2H4)n', '(C₂H₄)ₙ'],
    ['Et3N', 'Et₃N'],
    ['e-', 'e⁻'],
    ['no formula', 'no formula'],
  ])('%s is shown as %s', (text, expected) => expect(prettyFormula(text)).toBe(expected));

  it('is read as the same formula', () => {
    for (const text of ['K3[Fe(C2O4)3]·3H2O', 'Cr2O7^2-', '[13C]6H12O6', '[Fe(CN)6]3-', 'iPr2NEt']) {
      expect(sameComposition(read(prettyFormula(text)), read(text))).toBe(true);
    }
  });
});

describe('laws', () => {
  const symbols = ['H', 'C', 'N', 'O', 'Na', 'Cl', 'Fe', 'S'];
  const atom = fc.tuple(fc.constantFrom(...symbols), fc.integer({ min: 1, max: 12 }));
  const written = (atoms: readonly (readonly [string, number])[]): string =>
    atoms.map(([symbol, n]) => symbol + (n === 1 ? '' : n)).join('');

  it('a bracket is its content so many times over', () => {
    fc.assert(
      fc.property(fc.array(atom, { minLength: 1 }), fc.integer({ min: 2, max: 9 }), fc.nat(5), (atoms, n, depth) => {
        const nested = `${'([{'.repeat(depth)}(${written(atoms)})${n}${'}])'.repeat(depth)}`;
        expect(sameComposition(read(nested), read(written(atoms).repeat(n)))).toBe(true);
      }),
    );
  });

  it('the order of the atoms does not matter', () => {
    const shuffled = fc
      .array(atom, { minLength: 1 })
      .chain((atoms) => fc.tuple(fc.constant(atoms), fc.shuffledSubarray(atoms, { minLength: atoms.length })));
    fc.assert(fc.property(shuffled, ([a, b]) => hill(read(written(a))) === hill(read(written(b)))));
  });

  it('the order of the parts does not matter, and the Hill formula is the same formula', () => {
    fc.assert(
      fc.property(fc.array(atom, { minLength: 1 }), fc.array(atom, { minLength: 1 }), (a, b) => {
        const both = read(`${written(a)}·${written(b)}`);
        expect(sameComposition(both, read(`${written(b)}·${written(a)}`))).toBe(true);
        expect(sameComposition(both, read(hill(both)))).toBe(true);
        expect(subtract(both.counts, read(written(a)).counts)).toEqual(addScaled(new Map(), read(written(b)).counts));
      }),
    );
  });
});

describe('elements', () => {
  it('lists 118, from hydrogen to oganesson', () => {
    expect([...elements().values()].map((e) => e.Z)).toEqual(Array.from({ length: 118 }, (_, i) => i + 1));
    expect(elements().get('Al')?.name).toBe('aluminium');
    expect(elements().get('Tc')?.weight).toBeUndefined();
  });
  it('knows metals and halogens', () => {
    expect(['Na', 'Fe', 'Pd', 'Al', 'Sn', 'Ce'].every(isMetal)).toBe(true);
    expect(['H', 'C', 'Si', 'B', 'Cl', 'He', 'Xx'].some(isMetal)).toBe(false);
    expect(['F', 'Cl', 'Br', 'I'].every(isHalogen)).toBe(true);
    expect(isHalogen('O')).toBe(false);
  });
});
