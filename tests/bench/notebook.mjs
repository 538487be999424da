// A `.tare` notebook for timing: common stock, then pages that agree with themselves but for a few planted errors.
//
//   node tests/bench/notebook.mjs LINES [SEED]
//
// Weighings are whole milligrams and claims have three figures. Masses and densities are good enough for the claims to
// agree; boiling points and the prose are invented. For timing only: nothing here is a reference.

const WEIGHTS = { H: 1.008, C: 12.011, N: 14.007, O: 15.999, Cl: 35.45 };
const EXACT = { H: 1.00782503, C: 12, N: 14.003074, O: 15.9949146, Cl: 34.9688527 };
const SODIUM_CATION = 22.9892207;

// name, formula, density in g/mL (none for solids), and what the product is called
const ALCOHOLS = [
  ['isopentyl alcohol', 'C5H12O', 0.81, 'isopentyl'],
  ['1-butanol', 'C4H10O', 0.81, 'butyl'],
  ['1-hexanol', 'C6H14O', 0.814, 'hexyl'],
  ['benzyl alcohol', 'C7H8O', 1.044, 'benzyl'],
  ['cyclohexanol', 'C6H12O', 0.962, 'cyclohexyl'],
];
const ACIDS = [
  ['acetic acid', 'C2H4O2', 1.049, 'acetate'],
  ['propanoic acid', 'C3H6O2', 0.993, 'propanoate'],
  ['butanoic acid', 'C4H8O2', 0.958, 'butanoate'],
  ['benzoic acid', 'C7H6O2', undefined, 'benzoate'],
];
const AMINES = [
  ['aniline', 'C6H7N', 1.022, 'acetanilide'],
  ['4-toluidine', 'C7H9N', undefined, "4'-methylacetanilide"],
  ['4-anisidine', 'C7H9NO', undefined, "4'-methoxyacetanilide"],
  ['benzylamine', 'C7H9N', 0.981, 'N-benzylacetamide'],
];
const ALDEHYDES = [
  ['benzaldehyde', 'C7H6O', 1.044, 'dibenzylideneacetone'],
  ['4-methoxybenzaldehyde', 'C8H8O2', 1.119, 'bis(4-methoxybenzylidene)acetone'],
  ['4-chlorobenzaldehyde', 'C7H5ClO', undefined, 'bis(4-chlorobenzylidene)acetone'],
];
const ANHYDRIDE = ['acetic anhydride', 'C4H6O3', 1.082];
const ACETONE = ['acetone', 'C3H6O', 0.791];
const WORDS = (
  'the flask was left to stand and the solid came down slowly as white needles which were filtered off washed with a ' +
  'little cold water drained on the filter and dried in the air until the next morning when the mass no longer changed'
).split(' ');

/** Marsaglia-style 32-bit mixing: the same seed gives the same notebook on every machine. */
export function rng(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Element counts of a sum of formulas, each with its factor. */
function elements(...terms) {
  const counts = {};
  for (const [formula, factor] of terms)
    for (const [, symbol, count] of formula.matchAll(/([A-Z][a-z]?)(\d*)/g))
      counts[symbol] = (counts[symbol] ?? 0) + factor * Number(count || 1);
  return counts;
}
const weigh = (counts, table) => Object.entries(counts).reduce((total, [symbol, n]) => total + n * table[symbol], 0);
const molarMass = (formula) => weigh(elements([formula, 1]), WEIGHTS);
const spell = (counts) =>
  ['C', 'H', 'Cl', 'N', 'O'].map((s) => (counts[s] > 1 ? `${s}${counts[s]}` : counts[s] === 1 ? s : '')).join('');

const three = (x) => x.toFixed(Math.max(0, 2 - Math.floor(Math.log10(x))));
const grams = (milligrams) => (milligrams / 1000).toFixed(3);
const amount = (mol) => (mol < 1 ? `${three(mol * 1000)} mmol` : `${three(mol)} mol`);
/** The first two unequal neighbouring digits change places. */
const swapped = (number) => number.replace(/(\d)(?!\1)(\d)/, (_, one, other) => other + one);

/**
 * A notebook of exactly `lines` lines, or of `pages` pages. `errors` is the chance of each kind of error on each page;
 * `planted` holds the code and the 1-based line of each.
 */
export function notebook({
  lines = Number.POSITIVE_INFINITY,
  pages = Number.POSITIVE_INFINITY,
  seed = 1,
  errors = 0.05,
}) {
  const random = rng(seed);
  const int = (low, high) => low + Math.floor(random() * (high - low + 1));
  const pick = (list) => list[int(0, list.length - 1)];
  const planted = [];
  const out = [];
  const write = (...texts) => out.push(...texts);
  const plant = (code) => {
    const here = random() < errors;
    if (here) planted.push({ line: out.length + 1, code });
    return here;
  };
  const prose = (length) => {
    let text = pick(WORDS);
    while (text.length < length) text = `${text} ${pick(WORDS)}`;
    return `${text[0].toUpperCase()}${text.slice(1)}.`;
  };

  const vessels = Array.from({ length: 12 }, (_, i) => [`F-${i + 1}`, int(28000, 93000)]);
  const state = ([, , density]) => (density ? `density ${density.toFixed(3)} g/mL at 20 °C` : 'state solid');
  write(
    '# Group stock, balances and glassware',
    'balance B-1: readability 0.0001 g, repeatability 0.0001 g, capacity 220 g',
    'balance B-2: readability 0.001 g, repeatability 0.001 g, capacity 620 g, minimum 0.02 g, checked 2026-01-12',
    ...vessels.map(
      ([id, tare]) => `vessel ${id}: ${pick([25, 50, 100, 250])} mL round-bottom flask, tare ${grams(tare)} g`,
    ),
    ...[...ALCOHOLS, ...ACIDS, ...AMINES, ...ALDEHYDES, ANHYDRIDE, ACETONE].map(
      (stock) => `substance ${stock[0]}: ${stock[1]}, ${state(stock)}, supplier stock room, lot ${int(1000, 9999)}`,
    ),
    'solution conc. sulfuric acid: 96 % w/w sulfuric acid in water, density 1.84 g/mL',
    'solution sodium hydroxide solution: 8.00 g sodium hydroxide in water, made up to 100 mL',
    '',
  );

  /** What reacts: limiting reactant, the other one, product name and formula, by-product, a test to try on it. */
  function reaction(kind) {
    if (kind === 0) {
      const [alcohol, acid] = [pick(ALCOHOLS), pick(ACIDS)];
      const formula = spell(elements([alcohol[1], 1], [acid[1], 1], ['H2O', -1]));
      return [
        alcohol,
        acid,
        `${alcohol[3]} ${acid[3]}`,
        formula,
        'water',
        1,
        'iron(III) hydroxamate: at 22 °C, magenta at once => ester',
      ];
    }
    if (kind === 1) {
      const amine = pick(AMINES);
      const formula = spell(elements([amine[1], 1], ['C2H2O', 1]));
      return [
        amine,
        ANHYDRIDE,
        amine[3],
        formula,
        'acetic acid',
        1,
        'ferric chloride: at 22 °C, for 5 min, no colour => no phenol',
      ];
    }
    const aldehyde = pick(ALDEHYDES);
    const formula = spell(elements([aldehyde[1], 2], [ACETONE[1], 1], ['H2O', -2]));
    return [
      aldehyde,
      ACETONE,
      aldehyde[3],
      formula,
      'water',
      2,
      '2,4-dinitrophenylhydrazine: at 22 °C, orange-red solid => carbonyl',
    ];
  }

  function page(number) {
    const [first, other, product, formula, byProduct, factor, test] = reaction(number % 3);
    const times = factor > 1 ? `${factor} ` : '';
    const [vessel, tare] = pick(vessels);
    const volume = int(40, 260) / 10;
    const charged = first[2] ? volume * first[2] : int(2000, 24000) / 1000;
    const limiting = charged / molarMass(first[1]);
    const wanted = (limiting / factor) * (int(11, 28) / 10) * molarMass(other[1]);
    const otherVolume = other[2] && Number((wanted / other[2]).toFixed(1));
    const otherMass = other[2] ? otherVolume * other[2] : Number(wanted.toFixed(3));
    const otherAmount = otherMass / molarMass(other[1]);
    const net = Math.round((limiting / factor) * molarMass(formula) * (0.55 + random() * 0.35) * 1000);
    const made = net / 1000 / molarMass(formula);
    const date = new Date(Date.UTC(2020, 0, 1) + (number % 2400) * 86_400_000).toISOString().slice(0, 10);
    const id = (n) => `TB-${String(n).padStart(4, '0')}`;
    let minutes = 8 * 60 + int(0, 90);
    const clock = () => {
      minutes += int(4, 40);
      return `${String(Math.floor(minutes / 60) % 24).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
    };

    write(`experiment ${id(number)}: ${product[0].toUpperCase()}${product.slice(1)}`);
    write(plant('date-format') ? `date: ${date.split('-').reverse().join('.')}` : `date: ${date}`);
    write(
      `author: ${pick(['MK', 'JL', 'TO'])}`,
      `reference: the usual way; see also ${id(Math.max(1, number - int(1, 9)))}`,
      '',
    );
    write(`substance ${product}: ${formula}, bp ${int(120, 220)} °C at 12 mmHg`);
    write(`reaction R1: ${times}${first[0]} + ${other[0]} -> ${product} + ${times}${byProduct}`, '');
    const claim = `(${first[2] ? `${three(charged)} g, ` : ''}${amount(limiting)}, 1.0 equiv)`;
    const unit = plant('unit-spelling') && first[2] ? 'ml' : 'mL';
    write(
      `charge ${first[0]}: ${first[2] ? `${volume.toFixed(1)} ${unit}` : `${charged.toFixed(3)} g`} ${claim}, limiting`,
    );
    const keyword = plant('keyword-misspelt') ? 'chrage' : 'charge';
    const taken = other[2] ? `${otherVolume.toFixed(1)} mL` : `${otherMass.toFixed(3)} g`;
    write(
      `${keyword} ${other[0]}: ${taken} (${amount(otherAmount)}, ${(otherAmount / limiting).toPrecision(2)} equiv)`,
    );
    if (number % 3 === 0) write(`charge conc. sulfuric acid: ${plant('number-format') ? '1,0' : '1.0'} mL, catalyst`);
    if (number % 3 === 2) write(`charge sodium hydroxide solution: ${int(2, 6)}.0 mL, catalyst`);
    write('');
    for (let i = int(3, 7); i > 0; i--) write(`${clock()} ${prose(int(30, 90))}`);
    write('', '## Work-up');
    for (let i = int(2, 7); i > 0; i--) write(prose(int(60, 100)));
    write(`Washed with water (2 × ${int(10, 40)} mL), then with 5 % sodium hydrogencarbonate (3 × 20 mL).`, '');
    write(`weigh ${vessel}: tare ${grams(tare)} g, on B-2, at ${clock()}`, `product ${product}:`);
    const netClaim = plant('net-mismatch') ? swapped(grams(net)) : grams(net);
    const share = ((made / limiting) * factor * 100).toFixed(1);
    const shareClaim = plant('claim-mismatch') ? swapped(share) : share;
    write(`  gross ${grams(tare + net)} g (net ${netClaim} g, ${amount(made)}, ${shareClaim} %), in ${vessel}, on B-2`);
    write('  distilled', '', `test ${test}`);
    const adduct = weigh(elements([formula, 1]), EXACT) + SODIUM_CATION + int(-3, 3) / 10_000;
    write(`measure ${product}: HRMS [M+Na]+ found ${adduct.toFixed(4)}`);
    write(`waste non-halogenated organic: ${int(4, 30)} mL forerun and still residue`);
    write(`waste aqueous base: ${int(40, 90)} mL hydrogencarbonate washes`);
    write(`signed: MK, ${date} 17:${int(10, 59)}`, '');
  }

  for (let number = 1; number <= pages && out.length < lines; number++) page(number);
  out.length = Math.min(lines, out.length);
  return { text: `${out.join('\n')}\n`, planted: planted.filter((error) => error.line <= out.length) };
}

if (import.meta.filename === process.argv[1]) {
  const [lines, seed] = process.argv.slice(2).map(Number);
  process.stdout.write(notebook({ lines, ...(seed && { seed }) }).text);
}
