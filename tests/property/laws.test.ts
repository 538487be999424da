/** Laws of the trade that hold for any page: what must not matter does not, and what must scale does. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Values } from '../../server/compute/values';
import { inlayHints } from '../../server/features/inlay-hints';
import { Decimal } from '../../server/quantity/decimal';
import { isHeld, type Result } from '../../server/quantity/held';
import { uriOf } from '../kit/notebook';
import { CASES, notebookOf, SAMPLES, valuesIn, valuesOf } from './pages';

// ── pages made at random ─────────────────────────────────────────────────────────────────────────────────────────

/** Balanced equations with the states of matter that the charges need; common knowledge, no source. */
const EQUATIONS = [
  { left: ['C5H12O', 'C2H4O2'], nu: [1, 1], product: 'C7H14O2', nuProduct: 1, rest: 'H2O' },
  { left: ['C7H6O', 'C3H6O'], nu: [2, 1], product: 'C17H14O', nuProduct: 1, rest: '2 H2O' },
  { left: ['Fe2O3', 'CO'], nu: [1, 3], product: 'Fe', nuProduct: 2, rest: '3 CO2' },
  { left: ['C2H6', 'O2'], nu: [2, 7], product: 'CO2', nuProduct: 4, rest: '6 H2O' },
  { left: ['Al', 'HCl'], nu: [2, 6], product: 'AlCl3', nuProduct: 2, rest: '3 H2' },
] as const;

interface Charged {
  /** Thousandths of a gram. */
  readonly milligrams: number;
  /** Per mille of the pure substance. */
  readonly purity: number;
  /** Milligrams per millilitre; taken by volume where it is given. */
  readonly density?: number;
}

interface Drawn {
  readonly equation: (typeof EQUATIONS)[number];
  readonly charges: readonly [Charged, Charged];
  readonly product: number;
}

const charged = fc.record(
  {
    milligrams: fc.integer({ min: 10, max: 999_999 }),
    purity: fc.integer({ min: 500, max: 1000 }),
    density: fc.integer({ min: 500, max: 3000 }),
  },
  { requiredKeys: ['milligrams', 'purity'] },
);
const drawn: fc.Arbitrary<Drawn> = fc.record({
  equation: fc.constantFrom(...EQUATIONS),
  charges: fc.tuple(charged, charged),
  product: fc.integer({ min: 1, max: 999_999 }),
});

interface Writing {
  readonly names?: readonly [string, string, string];
  readonly reverse?: boolean;
  /** A whole number that every reading is multiplied by. */
  readonly scale?: number;
  readonly mass?: 'g' | 'mg' | 'kg' | 'µg';
  readonly volume?: 'mL' | 'L' | 'µL' | 'cm³' | 'dm³';
  readonly density?: 'g/mL' | 'g/cm³' | 'kg/m³' | 'g/L' | 'kg/L';
}

const PER_GRAM = { g: '1', mg: '1000', kg: '0.001', µg: '1000000' };
const PER_ML = { mL: '1', L: '0.001', µL: '1000', 'cm³': '1', 'dm³': '0.001' };
const PER_G_ML = { 'g/mL': '1', 'g/cm³': '1', 'kg/m³': '1000', 'g/L': '1000', 'kg/L': '1' };

/** Exactly, in decimals: a law must not hang on how a double prints. */
const times = (...factors: Decimal.Value[]): string =>
  factors.reduce<Decimal>((product, factor) => product.times(factor), new Decimal(1)).toFixed();

function write({ equation, charges, product }: Drawn, writing: Writing = {}): string {
  const { names = ['alpha', 'beta', 'gamma'], scale = 1, mass = 'g', volume = 'mL', density = 'g/mL' } = writing;
  const lines = charges.map(({ milligrams, density: rho }, i) =>
    rho === undefined
      ? `charge ${names[i]}: ${times(milligrams, '0.001', scale, PER_GRAM[mass])} ${mass}`
      : `charge ${names[i]}: ${times(milligrams, '0.001', scale, PER_ML[volume])} ${volume}`,
  );
  const facts = charges.map(
    ({ purity, density: rho }, i) =>
      `substance ${names[i]}: ${equation.left[i]}, purity ${times(purity, '0.1')} %` +
      (rho === undefined ? '' : `, density ${times(rho, '0.001', PER_G_ML[density])} ${density}`),
  );
  return [
    'experiment X-1: law',
    'date: 2026-03-02',
    ...facts,
    `substance ${names[2]}: ${equation.product}`,
    `reaction R1: ${equation.nu[0]} ${names[0]} + ${equation.nu[1]} ${names[1]} -> ${equation.nuProduct} ${names[2]} + ${equation.rest}`,
    ...(writing.reverse ? lines.reverse() : lines),
    `product ${names[2]}: ${times(product, '0.001', scale, PER_GRAM[mass])} ${mass}`,
    '',
  ].join('\n');
}

// ── what is compared ─────────────────────────────────────────────────────────────────────────────────────────────

const number = (result: Result | undefined): string | undefined =>
  isHeld(result) ? result.value.toSignificantDigits(25).toString() : undefined;

/** All numbers of a page that any reader could ask for, charges by name. */
const numbers = ({ charges, reactions, products, recovered }: Values, rename = (name: string): string => name) => ({
  charges: charges
    .map(({ charge, mass, amount, equiv }) => [rename(charge.name.text), number(mass), number(amount), number(equiv)])
    .sort((a, b) => String(a).localeCompare(String(b))),
  reactions: reactions.map(({ limiting, theoretical, atomEconomy, balancing }) => ({
    balancing: balancing.kind,
    limiting: limiting && rename(limiting.term.term.name.text),
    theory: theoretical.map(({ amount, mass }) => [number(amount), number(mass)]),
    atomEconomy: number(atomEconomy),
  })),
  products: products.map(({ product, mass, amount, yield: share }) => [
    rename(product.name.text),
    ...[mass, amount, share].map(number),
  ]),
  recovered: recovered.map(({ mass, amount, recovery }) => [mass, amount, recovery].map(number)),
});

describe('pages made at random', () => {
  test('a yield comes out, worked out here by another road', () => {
    fc.assert(
      fc.property(drawn, (page) => {
        const values = valuesOf(write(page));
        const molar = values.substances.map(({ molarMass }) => (isHeld(molarMass) ? molarMass.value.toNumber() : NaN));
        const amounts = page.charges.map(
          ({ milligrams, purity, density = 1000 }, i) =>
            ((milligrams / 1000) * (density / 1000) * (purity / 1000)) / molar[i]!,
        );
        const extent = Math.min(...amounts.map((n, i) => n / page.equation.nu[i]!));
        const made = page.product / 1000 / molar[2]!;
        const share = values.products[0]!.yield;
        expect(isHeld(share) && share.value.toNumber() / (made / (extent * page.equation.nuProduct))).toBeCloseTo(
          1,
          12,
        );
      }),
      { numRuns: 300 },
    );
  });

  test('the order of the charges does not matter', () => {
    fc.assert(
      fc.property(drawn, (page) => {
        expect(numbers(valuesOf(write(page, { reverse: true })))).toEqual(numbers(valuesOf(write(page))));
      }),
      { numRuns: 200 },
    );
  });

  test('ten times as much of everything is ten times the mass and the same yield', () => {
    fc.assert(
      fc.property(drawn, fc.constantFrom(2, 3, 7, 10, 1000), (page, scale) => {
        const one = valuesOf(write(page));
        const many = valuesOf(write(page, { scale }));
        const { theoretical } = one.reactions[0]!;
        many.reactions[0]!.theoretical.forEach(({ mass }, i) => {
          const single = theoretical[i]!.mass;
          expect(
            isHeld(mass) && isHeld(single) && mass.value.div(single.value).toSignificantDigits(20).toNumber(),
          ).toBe(scale);
        });
        expect(number(many.products[0]!.yield)).toBe(number(one.products[0]!.yield));
        expect(many.charges.map(({ equiv }) => number(equiv))).toEqual(one.charges.map(({ equiv }) => number(equiv)));
        expect(numbers(many).reactions[0]!.limiting).toBe(numbers(one).reactions[0]!.limiting);
      }),
      { numRuns: 200 },
    );
  });

  test('the unit that a reading is written in does not matter', () => {
    const units = fc.record({
      mass: fc.constantFrom('g', 'mg', 'kg', 'µg'),
      volume: fc.constantFrom('mL', 'L', 'µL', 'cm³', 'dm³'),
      density: fc.constantFrom('g/mL', 'g/cm³', 'kg/m³', 'g/L', 'kg/L'),
    }) as fc.Arbitrary<Writing>;
    fc.assert(
      fc.property(drawn, units, (page, writing) => {
        expect(numbers(valuesOf(write(page, writing)))).toEqual(numbers(valuesOf(write(page))));
      }),
      { numRuns: 300 },
    );
  });

  test('mol and mmol, too', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99_999 }), (micromoles) => {
        const page = (amount: string) =>
          valuesOf(
            `experiment X-1: amount\nreaction R1: C2H4O2 + NaOH -> C2H3NaO2 + H2O\ncharge C2H4O2: ${amount}\n` +
              'charge NaOH: excess\nproduct C2H3NaO2: 1.00 g\n',
          );
        const written = [
          `${times(micromoles, '0.001')} mmol`,
          `${times(micromoles, '0.000001')} mol`,
          `${micromoles} µmol`,
        ];
        const [first, ...others] = written.map((amount) => numbers(page(amount)));
        for (const other of others) expect(other).toEqual(first);
      }),
      { numRuns: 100 },
    );
  });

  test('the name of a substance does not matter', () => {
    const NAMES = [
      '4-(dimethylamino)pyridine X',
      'N,N-bis(2-hydroxyethyl)thing',
      '(S)-ester',
      '(±)-thing',
      'compound 12a',
      'öl',
      'α-keto acid 3′',
      'my  acid',
      'thing·HCl',
      'A',
    ];
    fc.assert(
      fc.property(drawn, fc.shuffledSubarray(NAMES, { minLength: 3, maxLength: 3 }), (page, [a, b, c]) => {
        const names = [a!, b!, c!] as const;
        const fold = (name: string): string => name.replace(/\s+/g, ' ');
        const plain = ['alpha', 'beta', 'gamma'];
        const back = (name: string): string => plain[names.findIndex((one) => fold(one) === fold(name))] ?? name;
        expect(numbers(valuesOf(write(page, { names })), back)).toEqual(numbers(valuesOf(write(page))));
      }),
      { numRuns: 300 },
    );
  });
});

// ── pages that somebody wrote ────────────────────────────────────────────────────────────────────────────────────

describe('published cases', () => {
  /** Charges of one line, for moving about. */
  const chargesOf = (lines: readonly string[]): number[] =>
    lines.flatMap((line, i) => (line.startsWith('charge ') && !/^\s/.test(lines[i + 1] ?? '') ? [i] : []));
  const several = [...CASES].filter(([, text]) => {
    const lines = text.split('\n');
    return (
      text.split('experiment ').length === 2 && text.split('reaction ').length === 2 && chargesOf(lines).length > 1
    );
  });

  test('the order of the charges does not matter', () => {
    expect(several.length).toBeGreaterThan(10);
    fc.assert(
      fc.property(fc.constantFrom(...several), fc.infiniteStream(fc.nat()), ([, text], random) => {
        const lines = text.split('\n');
        const places = chargesOf(lines);
        const rest = places.map((i) => lines[i]!);
        for (const place of places) lines[place] = rest.splice(random.next().value! % rest.length, 1)[0]!;
        expect(numbers(valuesOf(lines.join('\n')))).toEqual(numbers(valuesOf(text)));
      }),
      { numRuns: 200 },
    );
  });
});

describe('claims that the tool writes', () => {
  /** The claim groups of charges, products and recovered material taken out; readings stay. */
  const unclaimed = (text: string): string =>
    text
      .split('\n')
      .map((line) =>
        /^(charge|product|recovered|weigh|\s)/.test(line) ? line.replace(/ \([^()]*\b(g|mmol|equiv|%)\)/g, '') : line,
      )
      .join('\n');

  test.each([...SAMPLES.keys()].filter((name) => name.startsWith('tb-')))('agree with what it computes: %s', (name) => {
    const bare = unclaimed(SAMPLES.get(name)!).replace(/^signed:.*\n/gm, '');
    const files = new Map([...SAMPLES, [name, bare]]);
    const snapshot = notebookOf(files).snapshot(uriOf(name));
    const whole = { start: { line: 0, character: 0 }, end: { line: Number.MAX_SAFE_INTEGER, character: 0 } };
    const hints = inlayHints(snapshot, whole, { charges: true, products: true }).flatMap(({ edit }) => edit ?? []);
    const lines = bare.split('\n');
    for (const { range, text } of hints.toReversed()) {
      const { line, character } = range.start;
      lines[line] = lines[line]!.slice(0, character) + text + lines[line]!.slice(character);
    }
    const filled = notebookOf(new Map([...files, [name, lines.join('\n')]]));
    const claims = valuesIn(filled, name).flatMap((values) => values.claims);
    const before = valuesIn(notebookOf(files), name).flatMap((values) => values.claims);
    expect(claims.length - before.length).toBeGreaterThanOrEqual(hints.length);
    const wrong = claims.filter(
      ({ claim, verdict }) => claim.label !== 'lit.' && !['exact', 'rounded'].includes(verdict ?? ''),
    );
    expect(wrong.map(({ subject, claim, verdict }) => `${subject}: ${claim.quantity.number.text} ${verdict}`)).toEqual(
      [],
    );
  });
});
