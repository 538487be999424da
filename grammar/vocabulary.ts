/**
 * The words of the language: statements, facts, units, each with a line of help. Data only; what a word means is
 * read in the model, what a unit is worth stands in `server/quantity/units.ts`.
 */

type FactKind =
  /** Says something about the subject. */
  | 'property'
  /** A reading on a balance, or where and when it was taken. */
  | 'weighing'
  /** A measured result: a melting point, a titre, an excess. */
  | 'result'
  /** A number that can only be worked out. */
  | 'derived'
  /** What a substance did in the reaction. */
  | 'role'
  /** How far a product was brought, or how. */
  | 'stage'
  /** An amount without a number. */
  | 'amount'
  /** A spectrum: runs to the end of its line. */
  | 'spectrum';

export interface FactRow {
  readonly kind: FactKind;
  readonly help: string;
  /** Other spellings that are as good. */
  readonly also?: readonly string[];
  /** A bracket after this fact's value is a claim group. */
  readonly claims?: true;
}

/** Every known word (or words) that a fact can begin with. */
export const FACTS = {
  // Substances and solutions
  density: { kind: 'property', help: 'Mass per volume, with the temperature if known: `density 0.810 g/mL at 20 °C`' },
  purity: { kind: 'property', help: 'Assay: the share of the named substance: `purity 99.7 %`', also: ['assay'] },
  CAS: { kind: 'property', help: 'CAS Registry Number; its check digit is tested', also: ['CAS RN', 'CAS No.', 'cas'] },
  lot: { kind: 'property', help: 'Lot or batch number on the label', also: ['batch'] },
  supplier: { kind: 'property', help: 'Who sold or made it' },
  pKa: { kind: 'property', help: 'Acid dissociation constant, as pKa', also: ['pka', 'pKₐ'] },
  hazard: { kind: 'property', help: 'Hazard statements: `hazard H225 H319`', also: ['hazards'] },
  also: { kind: 'property', help: 'Another name for the same thing' },
  from: { kind: 'property', help: 'Where it came from: a page, a batch, a vessel or a solvent' },
  state: { kind: 'property', help: '`solid`, `liquid`, `gas` or `mixture` (a mixture needs no formula)' },
  loading: { kind: 'property', help: 'What a support carries: `loading 10 % w/w` or `loading 1.1 mmol/g`' },
  wet: { kind: 'property', help: 'Share of water in the material as taken: `wet 50 %`' },
  'repeat unit': { kind: 'property', help: 'Formula of the repeat unit of a polymer' },
  'racemate of': { kind: 'property', help: 'The racemate of this enantiomer' },
  SMILES: { kind: 'property', help: 'Structure as a SMILES string', also: ['smiles'] },
  'molar mass': { kind: 'property', help: 'Molar mass in g/mol, checked against the formula', also: ['MW', 'M.W.'] },
  x: { kind: 'property', help: 'The unknown of a formula: `x = 2.4` for `·xH2O`' },
  'made up to': {
    kind: 'property',
    help: 'Final volume of a solution: `made up to 100 mL`',
    also: ['diluted to'],
    claims: true,
  },
  resolution: { kind: 'property', help: 'A racemate is resolved: theory is half' },

  // Balances
  readability: { kind: 'property', help: 'Smallest step of the display: `readability 0.001 g`' },
  repeatability: { kind: 'property', help: 'Standard deviation of repeated weighings' },
  capacity: { kind: 'property', help: 'Largest load' },
  minimum: { kind: 'property', help: 'Smallest net mass to be weighed on it', also: ['minimum weight'] },
  checked: { kind: 'property', help: 'Date of the last check: `checked 2026-01-12`' },
  'correct for buoyancy': {
    kind: 'property',
    help: 'The mass is worked out from the reading for air of 1.2 kg/m³; needs a density (OIML D 28)',
  },

  // Weighing
  tare: { kind: 'weighing', help: 'Reading of the empty vessel', claims: true },
  gross: { kind: 'weighing', help: 'Reading of the vessel with its content', claims: true },
  net: { kind: 'weighing', help: 'Reading of the content, balance zeroed on the vessel', claims: true },
  before: { kind: 'weighing', help: 'Reading of the bottle, syringe or paper before dispensing', claims: true },
  after: { kind: 'weighing', help: 'Reading of the bottle, syringe or paper after dispensing', claims: true },
  residue: { kind: 'weighing', help: 'What was left on the paper or in the boat', claims: true },
  in: { kind: 'weighing', help: 'The vessel; else a solvent', claims: true },
  on: { kind: 'weighing', help: 'The balance', claims: true },
  at: { kind: 'weighing', help: 'A time of day or a temperature: `at 10:40`, `at 20 °C`', claims: true },

  // Roles
  limiting: { kind: 'role', help: 'The reactant that runs out first', also: ['limiting reagent', 'limiting reactant'] },
  catalyst: { kind: 'role', help: 'Catalyst: counted in mol%, not in the equation', also: ['precatalyst'] },
  ligand: { kind: 'role', help: 'Ligand of the catalyst' },
  base: { kind: 'role', help: 'Base that is not in the equation' },
  acid: { kind: 'role', help: 'Acid that is not in the equation' },
  additive: { kind: 'role', help: 'Any other helper: salt, initiator, stabiliser' },
  solvent: { kind: 'role', help: 'Solvent of the reaction', also: ['co-solvent', 'cosolvent'] },
  quench: { kind: 'role', help: 'Added to end the reaction' },
  wash: { kind: 'role', help: 'Used to wash' },
  eluent: { kind: 'role', help: 'Mobile phase of a chromatography', also: ['eluant'] },
  atmosphere: { kind: 'role', help: 'Gas above the reaction' },
  'drying agent': { kind: 'role', help: 'Takes up water and is filtered off', also: ['desiccant'] },
  'internal standard': { kind: 'role', help: 'Known amount of a substance that does not react' },

  // Amounts that nobody can compute, and `weighed`
  excess: { kind: 'amount', help: 'More than enough, not measured', also: ['in excess'] },
  balloon: { kind: 'amount', help: 'A balloon of gas' },
  saturated: { kind: 'amount', help: 'As much as dissolves', also: ['sat.', 'satd'] },
  catalytic: { kind: 'amount', help: 'A little, not measured' },
  trace: { kind: 'amount', help: 'A trace, not measured', also: ['traces'] },
  weighed: { kind: 'amount', help: 'The sum of the page’s `weigh` statements of that name', claims: true },

  // Stages
  crude: { kind: 'stage', help: 'Before purification' },
  recrystallised: {
    kind: 'stage',
    help: 'Purified by crystallising again',
    also: ['recrystallized', 'crystallised', 'crystallized'],
  },
  distilled: { kind: 'stage', help: 'Purified by distillation', also: ['redistilled'] },
  dried: { kind: 'stage', help: 'Freed from solvent or water' },
  chromatographed: { kind: 'stage', help: 'Purified by chromatography', also: ['columned'] },
  sublimed: { kind: 'stage', help: 'Purified by sublimation' },
  purified: { kind: 'stage', help: 'Purified, way not said' },
  washed: { kind: 'stage', help: 'Washed' },
  precipitated: { kind: 'stage', help: 'Thrown out of solution', also: ['reprecipitated'] },
  triturated: { kind: 'stage', help: 'Stirred with a solvent that dissolves the impurities', also: ['slurried'] },
  filtered: { kind: 'stage', help: 'Collected or freed by filtration', also: ['filtered off'] },
  extracted: { kind: 'stage', help: 'Purified by extraction' },
  lyophilised: { kind: 'stage', help: 'Freeze-dried', also: ['lyophilized', 'freeze-dried'] },
  isolated: { kind: 'stage', help: 'As taken from the reaction' },
  pure: { kind: 'stage', help: 'Purified, way not said' },
  'first crop': { kind: 'stage', help: 'First crop of crystals; crops add up', also: ['1st crop', 'crop 1'] },
  'second crop': { kind: 'stage', help: 'Second crop of crystals; crops add up', also: ['2nd crop', 'crop 2'] },
  'third crop': { kind: 'stage', help: 'Third crop of crystals; crops add up', also: ['3rd crop', 'crop 3'] },
  fractions: { kind: 'stage', help: 'Which fractions: `fractions 14–23`', also: ['fraction'] },
  label: { kind: 'stage', help: 'A batch of its own: `label V-3`', also: ['labelled', 'labeled'] },

  // Results
  contains: { kind: 'result', help: 'What else is in it, taken off: `contains ethyl acetate 8 wt%`', claims: true },
  ee: { kind: 'result', help: 'Enantiomeric excess in %', also: ['e.e.'], claims: true },
  er: { kind: 'result', help: 'Enantiomeric ratio', also: ['e.r.'], claims: true },
  dr: { kind: 'result', help: 'Diastereomeric ratio: `dr 12:1`', also: ['d.r.'], claims: true },
  'E/Z': { kind: 'result', help: 'Ratio of the double-bond isomers: `E/Z 96:4`', also: ['Z/E', 'E:Z'], claims: true },
  mp: { kind: 'result', help: 'Melting point or range', also: ['m.p.', 'mp.', 'melting point'], claims: true },
  bp: {
    kind: 'result',
    help: 'Boiling point or range, with the pressure: `bp 71–73 °C at 12 mmHg`',
    also: ['b.p.', 'bp.', 'boiling point'],
    claims: true,
  },
  'refractive index': {
    kind: 'result',
    help: 'Refractive index: `refractive index 1.4002 at 20 °C`',
    also: ['nD'],
    claims: true,
  },
  Rf: { kind: 'result', help: 'Retardation factor: `Rf 0.42 in hexane`', also: ['R_f', 'rf', 'RF'], claims: true },
  spot: { kind: 'result', help: 'Distance the spot travelled', claims: true },
  front: { kind: 'result', help: 'Distance the solvent front travelled', claims: true },
  'optical rotation': {
    kind: 'result',
    help: 'Optical or specific rotation',
    also: ['specific rotation', '[α]D', '[α]', '[a]D'],
    claims: true,
  },
  length: { kind: 'property', help: 'Of the polarimeter tube: `length 1 dm`', claims: true },
  concentration: {
    kind: 'property',
    help: 'Of the solution in the polarimeter: `concentration 1.05 g/100 mL in chloroform`; a bare number is g/100 mL',
    claims: true,
  },
  HRMS: { kind: 'result', help: 'Exact mass: `HRMS [M+Na]+ found 153.0886 (calcd 153.0886)`', claims: true },
  combustion: {
    kind: 'result',
    help: 'Elemental analysis in %: `combustion C 60.02, H 4.51`',
    also: ['elemental analysis', 'microanalysis'],
    claims: true,
  },
  found: { kind: 'result', help: 'What was measured', also: ['Found'], claims: true },
  'water content': { kind: 'result', help: 'Water found in it', also: ['Karl Fischer'], claims: true },
  '1H NMR': { kind: 'spectrum', help: 'Proton spectrum; its hydrogens are counted', also: ['¹H NMR', '1H-NMR'] },
  '13C NMR': { kind: 'spectrum', help: 'Carbon spectrum', also: ['¹³C NMR', '13C-NMR', '13C{1H} NMR', '¹³C{¹H} NMR'] },
  '19F NMR': { kind: 'spectrum', help: 'Fluorine spectrum', also: ['¹⁹F NMR', '19F-NMR', '19F{1H} NMR'] },
  '31P NMR': { kind: 'spectrum', help: 'Phosphorus spectrum', also: ['³¹P NMR', '31P-NMR', '31P{1H} NMR'] },
  IR: { kind: 'spectrum', help: 'Infrared spectrum' },
  UV: {
    kind: 'spectrum',
    help: 'Ultraviolet and visible spectrum',
    also: ['UV-vis', 'UV–vis', 'UV/vis', 'UV-Vis', 'UV/Vis'],
  },
  MS: { kind: 'spectrum', help: 'Mass spectrum' },

  // Titration
  run: { kind: 'result', help: 'Mass taken for one run', claims: true },
  burette: {
    kind: 'result',
    help: 'Readings of the burette: `burette 0.05 to 24.83 mL`',
    also: ['buret'],
    claims: true,
  },
  titre: { kind: 'result', help: 'Volume delivered', also: ['titer'], claims: true },
  blank: { kind: 'result', help: 'Titre without the sample; taken off', claims: true },
  indicator: { kind: 'property', help: 'Indicator of the end point' },
  against: { kind: 'property', help: 'The standard' },

  // Conditions and persons
  of: { kind: 'property', help: 'Of what' },
  for: { kind: 'property', help: 'For how long, or what for' },
  kept: { kind: 'property', help: 'Put aside' },
  with: { kind: 'property', help: 'With what' },
  'to pH': { kind: 'property', help: 'The pH that was reached' },
  by: { kind: 'property', help: 'Who did it, or how it was found' },
  takes: { kind: 'property', help: 'What a waste stream takes, in a register: `takes halogenated organics`' },
  not: { kind: 'property', help: 'What must not go into a waste stream, in a register: `not cyanides`' },

  // Is a step worth it
  'hold-up': { kind: 'property', help: 'What stays in the apparatus', also: ['holdup', 'hold up'] },
  solubility: {
    kind: 'property',
    help: 'Solubility, hot and cold: `solubility 40 g/100 mL at 78 °C, 1.5 g/100 mL at 0 °C`',
  },
  loss: { kind: 'derived', help: 'Share that is lost' },

  // Inside a claim group
  'lit.': { kind: 'derived', help: 'Value in the literature', also: ['lit'] },
  calcd: {
    kind: 'derived',
    help: 'Calculated value',
    also: ['calcd.', 'calc.', 'calc', 'calculated', 'theory', 'requires'],
  },
  mean: { kind: 'derived', help: 'Mean of the runs', also: ['average'] },
  yield: { kind: 'derived', help: 'Percent yield' },
  theoretical: { kind: 'derived', help: 'Theoretical yield' },
  brsm: { kind: 'derived', help: 'Yield based on recovered starting material' },
  conversion: { kind: 'derived', help: 'Share of the starting material that reacted' },
  recovery: { kind: 'derived', help: 'Share that was got back' },
  overall: { kind: 'derived', help: 'Yield over the whole route', also: ['overall yield'] },
  selectivity: { kind: 'derived', help: 'Yield over conversion' },
} as const satisfies Record<string, FactRow>;

export type FactKey = keyof typeof FACTS;

type KeysOf<K extends FactKind> = { [F in FactKey]: (typeof FACTS)[F]['kind'] extends K ? F : never }[FactKey];
export type Role = KeysOf<'role'>;
export type Stage = KeysOf<'stage'>;
export type AmountWord = KeysOf<'amount'>;

const ofKind = <K extends FactKind>(kind: K): readonly KeysOf<K>[] =>
  (Object.keys(FACTS) as FactKey[]).filter((key): key is KeysOf<K> => FACTS[key].kind === kind);

/** Roles a charge can have; `excess` after an amount is one too. */
export const ROLES: readonly (Role | 'excess')[] = [...ofKind('role'), 'excess'];
export const STAGES: readonly Stage[] = ofKind('stage');
/** Amounts that nobody can compute, and `weighed`. */
export const AMOUNT_WORDS: readonly AmountWord[] = ofKind('amount');
const SPECTRA = ofKind('spectrum');

type FactKeys = readonly (FactKey | readonly FactKey[])[];
const keys = (...list: FactKeys): readonly FactKey[] => [...new Set(list.flat())];

const WEIGHING = keys('tare', 'gross', 'net', 'before', 'after', 'residue', 'in', 'on', 'at', 'correct for buoyancy');
const BATCH = keys('from', 'lot', 'label', 'supplier');
const QUALITY = keys('purity', 'contains', 'ee', 'er', 'dr', 'E/Z', 'water content', 'wet');
const RESULTS = keys('mp', 'bp', 'refractive index', 'Rf', 'spot', 'front', 'optical rotation', 'HRMS', 'combustion');
const OUTCOME = keys(
  WEIGHING,
  STAGES,
  BATCH,
  QUALITY,
  RESULTS,
  SPECTRA,
  AMOUNT_WORDS,
  'of',
  'for',
  'by',
  'with',
  'kept',
);
const IDENTITY = keys('CAS', 'lot', 'supplier', 'hazard', 'also', 'from', 'purity', 'density', 'at', 'by');
const PHYSICAL = keys('mp', 'bp', 'pKa', 'refractive index', 'optical rotation', 'molar mass', 'wet', 'loading');

/** What a fact inside a claim group can begin with. */
export const CLAIM_FACTS: readonly FactKey[] = keys(
  keys('lit.', 'calcd', 'found', 'mean', 'yield', 'theoretical', 'brsm', 'conversion', 'recovery', 'overall'),
  keys('selectivity', 'loss', 'residue', 'net', 'gross', 'tare', 'titre', 'density', 'molar mass', 'purity'),
  keys('crude', 'ee', 'er', 'dr', 'E/Z', 'mp', 'bp', 'Rf', 'optical rotation', 'at', 'in'),
);

export interface KeywordRow {
  readonly help: string;
  /** `text` is never split into facts. */
  readonly body: 'facts' | 'text';
  readonly subject: 'required' | 'optional' | 'none';
  /** The words a fact of this statement can begin with. */
  readonly facts: readonly FactKey[];
}

const text = (subject: KeywordRow['subject'], help: string): KeywordRow => ({ help, body: 'text', subject, facts: [] });
const facts = (subject: KeywordRow['subject'], help: string, ...list: FactKeys): KeywordRow => ({
  help,
  body: 'facts',
  subject,
  facts: keys(...list),
});

const ROWS = {
  experiment: text('required', 'Opens a page, up to the next `experiment` or the end of the file'),
  date: text('none', 'The day, as ISO 8601: `2026-03-04`; further down it dates the log below it'),
  author: text('none', 'Who did the work'),
  aim: text('none', 'What it was done for'),
  reference: text('none', 'Where the procedure comes from'),
  note: text('none', 'A remark; `note:` turns any line into plain text'),
  substance: facts(
    'required',
    'Declares a substance: formula or SMILES first, then what is known of it',
    keys('SMILES', 'state', 'repeat unit', 'x', 'racemate of', 'contains', 'ee', 'er', 'dr', 'water content'),
    IDENTITY,
    PHYSICAL,
  ),
  solution: facts(
    'required',
    'Declares a solution: how much of what in what',
    keys('made up to', 'saturated', 'checked', 'in', 'on', 'for', 'with', 'label'),
    IDENTITY,
  ),
  vessel: facts(
    'required',
    'Declares a vessel, with its readings when empty',
    'tare',
    'from',
    'also',
    'on',
    'at',
    'by',
  ),
  balance: facts(
    'required',
    'Declares a balance',
    keys('readability', 'repeatability', 'capacity', 'minimum', 'checked', 'correct for buoyancy', 'also', 'by'),
  ),
  reaction: facts(
    'optional',
    'An equation: `A + B -> C + D`',
    keys('also', 'resolution', 'at', 'for', 'in', 'by', 'from'),
  ),
  plan: facts(
    'optional',
    'A target: `5.00 g at 80 %` for a product, `1.5 equiv` or an amount for the others',
    ROLES,
    keys('from', 'in', 'at', 'for', 'of'),
  ),
  charge: facts(
    'required',
    'What went in, and how much',
    keys(WEIGHING, ROLES, AMOUNT_WORDS, BATCH),
    keys('of', 'purity', 'for', 'by', 'with', 'wet', 'loading', 'contains', 'ee'),
  ),
  weigh: facts(
    'required',
    'A weighing on its own: an empty vessel, a substance, a drying series',
    keys(WEIGHING, BATCH, 'by', 'for', 'with'),
  ),
  product: facts('optional', 'What came out, and how pure', OUTCOME),
  consider: facts(
    'required',
    'Is the step worth it: what would be left after it',
    keys('hold-up', 'solubility', 'loss', 'from', 'at', 'in', 'by'),
  ),
  decided: text('none', 'What was chosen, and why'),
  recovered: facts('required', 'Starting material that was got back', OUTCOME),
  sample: facts(
    'required',
    'Taken out, for what',
    keys(WEIGHING, BATCH, RESULTS, SPECTRA, 'of', 'for', 'kept', 'by', 'with'),
  ),
  titrate: facts(
    'required',
    'A titration; runs are separated by `;`',
    keys(
      'against',
      'with',
      'run',
      'burette',
      'titre',
      'blank',
      'indicator',
      'mean',
      'to pH',
      'of',
      'for',
      'by',
      'from',
    ),
    WEIGHING,
  ),
  test: facts(
    'optional',
    'A classification test: conditions, what was seen, `=> conclusion`',
    keys('of', 'at', 'for', 'in', 'with', 'by', 'from', 'on'),
  ),
  measure: facts(
    'optional',
    'A measured property, with what it should be in parentheses',
    keys(RESULTS, SPECTRA, QUALITY, PHYSICAL),
    keys('length', 'concentration', 'found', 'density', 'at', 'in', 'of', 'by', 'with', 'for', 'on', 'from', 'label'),
  ),
  waste: facts(
    'optional',
    'What went where, and how much; in a register, what a stream takes',
    keys('from', 'by', 'at', 'with', 'of', 'in', 'label', 'contains', 'trace', 'density', 'takes', 'not', 'also'),
  ),
  neutralise: facts(
    'required',
    'Acid and base that met on purpose',
    keys('with', 'to pH', 'by', 'at', 'in', 'of', 'excess', 'for'),
  ),
  accept: text('required', 'Accepts a finding of the statement above, with the reason'),
  signed: text('none', 'Closes the page: who and when'),
  witnessed: text('none', 'Who read the page, and when'),
  amend: text('required', 'Below the signature: old -> new, reason, who, when'),
};

export type Keyword = keyof typeof ROWS;
export const KEYWORDS: Readonly<Record<Keyword, KeywordRow>> = ROWS;

export interface UnitRow {
  readonly name: string;
  /** Accepted spellings. Look-alikes (`μ` for `µ`, `cm^3` for `cm³`, `·` or a blank) are folded and not listed. */
  readonly also?: readonly string[];
  /** Common wrong spellings: understood, flagged, fixed by the formatter. None is the right spelling of another unit. */
  readonly wrong?: readonly string[];
  /** A quantity in this unit is an amount of something: a bracket after it is a claim group. */
  readonly amount?: true;
  /** The symbol itself is not read after a number, because there it means something else (`C`, `in`, `eq`). */
  readonly unread?: true;
}

/** Units by the form to write. */
export const UNITS = {
  kg: { name: 'kilogram', wrong: ['Kg', 'KG', 'kgs', 'kilo', 'kilos'], amount: true },
  g: { name: 'gram', also: ['gram', 'grams'], wrong: ['gm', 'gms', 'grm', 'gramme', 'grammes'], amount: true },
  mg: { name: 'milligram', wrong: ['Mg', 'mgs', 'mgm', 'MG'], amount: true },
  µg: { name: 'microgram', also: ['ug', 'μg'], wrong: ['mcg', 'gamma', 'γ', 'UG'], amount: true },
  ng: { name: 'nanogram', wrong: ['Ng'], amount: true },
  t: { name: 'tonne', also: ['metric ton'], wrong: ['mt', 'MT'], amount: true },
  Da: { name: 'dalton', also: ['u'], wrong: ['amu', 'AMU'] },
  oz: { name: 'ounce (avoirdupois)', wrong: ['Oz', 'ozs', 'OZ'], amount: true },
  lb: { name: 'pound (avoirdupois)', wrong: ['lbs', 'Lb', 'LB'], amount: true },
  gr: { name: 'grain', also: ['grain', 'grains'], amount: true },
  'm³': { name: 'cubic metre', also: ['m3', 'm^3'], wrong: ['cbm', 'cu m'], amount: true },
  'dm³': { name: 'cubic decimetre', also: ['dm3', 'dm^3'], wrong: ['cdm'], amount: true },
  'cm³': { name: 'cubic centimetre', also: ['cm3', 'cm^3'], wrong: ['cc', 'ccm', 'c.c.', 'cu cm', 'CC'], amount: true },
  'mm³': { name: 'cubic millimetre', also: ['mm3', 'mm^3'], wrong: ['cmm'], amount: true },
  L: {
    name: 'litre',
    also: ['l', 'litre', 'liter', 'litres', 'liters'],
    wrong: ['lt', 'ltr', 'Lt', 'LTR', 'ℓ'],
    amount: true,
  },
  dL: { name: 'decilitre', wrong: ['dl', 'Dl', 'DL'], amount: true },
  cL: { name: 'centilitre', wrong: ['cl', 'CL'], amount: true },
  mL: { name: 'millilitre', wrong: ['ml', 'ML', 'mls', 'mLs', 'MLs', 'Ml', 'mil'], amount: true },
  µL: { name: 'microlitre', also: ['uL', 'μL'], wrong: ['µl', 'μl', 'ul', 'UL', 'mcL', 'lambda', 'λ'], amount: true },
  nL: { name: 'nanolitre', wrong: ['nl', 'NL'], amount: true },
  drops: { name: 'drop', also: ['drop', 'gtt'], wrong: ['drp', 'drps'], amount: true },
  gal: { name: 'US gallon', also: ['US gal'], amount: true },
  'imp gal': { name: 'imperial gallon', also: ['UK gal'], amount: true },
  qt: { name: 'US liquid quart', amount: true },
  pt: { name: 'US liquid pint', amount: true },
  'fl oz': { name: 'US fluid ounce', also: ['US fl oz'], wrong: ['oz fl', 'floz'], amount: true },
  'ft³': { name: 'cubic foot', also: ['ft3', 'ft^3'], wrong: ['cu ft'], amount: true },
  mol: { name: 'mole', also: ['mole', 'moles'], wrong: ['mols', 'Mol', 'MOL', 'gmol', 'mole(s)'], amount: true },
  mmol: { name: 'millimole', wrong: ['mMol', 'Mmol', 'mmols'], amount: true },
  µmol: { name: 'micromole', also: ['umol', 'μmol'], wrong: ['uMol', 'mcmol'], amount: true },
  nmol: { name: 'nanomole', wrong: ['nMol'], amount: true },
  pmol: { name: 'picomole', amount: true },
  kmol: { name: 'kilomole', amount: true },
  lbmol: { name: 'pound-mole', also: ['lb-mol'], amount: true },
  eq: { name: 'equivalent (acid, base, redox)', amount: true, unread: true },
  equiv: {
    name: 'equivalents relative to the limiting reactant',
    also: ['equivs'],
    wrong: ['eq.', 'eqs', 'eqv', 'equ', 'equivalents', 'eq', 'Eq'],
    amount: true,
  },
  'mol%': { name: 'mole per cent', also: ['mol %', 'mol-%'], wrong: ['mole%', 'mole %', '% mol'], amount: true },
  M: { name: 'mole per litre', wrong: ['m/l', 'Molar', 'molar'] },
  mM: { name: 'millimole per litre', wrong: ['mMolar'] },
  µM: { name: 'micromole per litre', also: ['μM'], wrong: ['mcM'] },
  N: { name: 'normal', wrong: ['Normal'] },
  'mol/L': {
    name: 'mole per litre',
    also: ['mol L-1', 'mol L^-1', 'mol·L⁻¹', 'mol/l', 'mol/dm3', 'mol/dm³'],
    wrong: ['mol/lt', 'moles/L'],
  },
  'mmol/L': { name: 'millimole per litre', also: ['mmol/l', 'mmol L-1'] },
  'mol/m³': { name: 'mole per cubic metre', also: ['mol/m3'] },
  'mmol/mL': { name: 'millimole per millilitre', wrong: ['mmol/ml'] },
  'mol/kg': { name: 'mole per kilogram', also: ['mol kg-1'], wrong: ['molal'] },
  'mmol/g': { name: 'millimole per gram' },
  'g/mL': {
    name: 'gram per millilitre',
    also: ['g mL-1', 'g·mL⁻¹'],
    wrong: ['g/ml', 'gm/ml', 'g/cc', 'gms/ml', 'gm/cc'],
  },
  'g/cm³': { name: 'gram per cubic centimetre', also: ['g/cm3', 'g/cm^3', 'g cm-3'], wrong: ['g/ccm'] },
  'kg/m³': { name: 'kilogram per cubic metre', also: ['kg/m3', 'kg m-3'] },
  'kg/L': { name: 'kilogram per litre', also: ['kg/l'] },
  'g/L': { name: 'gram per litre', also: ['g/l', 'g L-1'], wrong: ['gm/l', 'gms/L'] },
  'mg/mL': { name: 'milligram per millilitre', wrong: ['mg/ml', 'mgs/ml'] },
  'mg/L': { name: 'milligram per litre', also: ['mg/l'] },
  'µg/mL': { name: 'microgram per millilitre', also: ['ug/mL', 'μg/mL'], wrong: ['mcg/ml'] },
  'g/mol': { name: 'gram per mole', also: ['g mol-1', 'g·mol⁻¹'], wrong: ['g/mole', 'gm/mol', 'g/M'] },
  'kg/mol': { name: 'kilogram per mole' },
  kDa: { name: 'kilodalton', wrong: ['kD', 'KDa'] },
  '%': { name: 'per cent', wrong: ['percent', 'pct', 'pc'], amount: true },
  '% w/w': {
    name: 'per cent by mass',
    also: ['%w/w', '% (w/w)', 'wt%', 'wt %', 'wt.%', 'mass%', '% m/m'],
    wrong: ['w%', 'weight%'],
    amount: true,
  },
  '% w/v': { name: 'per cent mass in volume', also: ['%w/v', '% (w/v)', '% m/v'] },
  '% v/v': {
    name: 'per cent by volume',
    also: ['%v/v', '% (v/v)', 'vol%', 'vol %', '% ABV'],
    wrong: ['v%'],
    amount: true,
  },
  '‰': { name: 'per mille', also: ['per mil'] },
  ppm: { name: 'parts per million', wrong: ['PPM', 'ppM'] },
  ppb: { name: 'parts per billion', wrong: ['PPB'] },
  s: { name: 'second', wrong: ['sec', 'secs', 'seconds'] },
  min: { name: 'minute', also: ['minute', 'minutes'], wrong: ['mins', 'Min', 'mn'] },
  h: { name: 'hour', also: ['hour', 'hours'], wrong: ['hr', 'hrs', 'Hr'] },
  d: { name: 'day', also: ['day', 'days'] },
  wk: { name: 'week', also: ['week', 'weeks'] },
  ms: { name: 'millisecond', wrong: ['msec'] },
  µs: { name: 'microsecond', also: ['us', 'μs'], wrong: ['usec'] },
  K: { name: 'kelvin', wrong: ['°K', 'deg K', 'degK'] },
  '°C': {
    name: 'degree Celsius',
    also: ['℃', 'deg C'],
    wrong: ['degC', '° C', 'oC', 'ºC', '˚C', "'C", 'Celsius', 'centigrade', 'C'],
  },
  '°F': { name: 'degree Fahrenheit', also: ['℉', 'deg F'], wrong: ['degF', '° F', 'oF', 'F'] },
  Pa: { name: 'pascal', wrong: ['pa', 'PA'] },
  hPa: { name: 'hectopascal', wrong: ['hpa', 'HPa'] },
  kPa: { name: 'kilopascal', wrong: ['KPa', 'kpa', 'Kpa'] },
  MPa: { name: 'megapascal', wrong: ['mpa'] },
  bar: { name: 'bar', wrong: ['Bar', 'BAR', 'bars'] },
  mbar: { name: 'millibar', wrong: ['mb', 'mBar', 'Mbar', 'MBAR'] },
  atm: { name: 'standard atmosphere', wrong: ['Atm', 'ATM', 'atms'] },
  Torr: { name: 'torr', wrong: ['torr', 'TORR', 'Tor'] },
  mTorr: { name: 'millitorr', wrong: ['mtorr'] },
  mmHg: { name: 'conventional millimetre of mercury', also: ['mm Hg'], wrong: ['mmhg', 'MMHG', 'mm.Hg'] },
  µmHg: { name: 'conventional micrometre of mercury', also: ['um Hg', 'µm Hg'] },
  inHg: { name: 'conventional inch of mercury', also: ['in Hg', '"Hg'], wrong: ['in.Hg', 'inhg'] },
  psi: { name: 'pound-force per square inch', also: ['lbf/in2', 'psia'], wrong: ['PSI', 'lb/in2'] },
  psig: { name: 'pound-force per square inch, gauge' },
  cmH2O: { name: 'conventional centimetre of water', also: ['cmH₂O'], wrong: ['cm water'] },
  'kgf/cm²': { name: 'technical atmosphere', also: ['kgf/cm2'], wrong: ['kg/cm2'] },
  J: { name: 'joule', wrong: ['joule', 'j'] },
  kJ: { name: 'kilojoule', wrong: ['KJ', 'kj'] },
  cal: { name: 'thermochemical calorie', also: ['cal_th'] },
  kcal: { name: 'kilocalorie', wrong: ['Kcal', 'KCAL'] },
  eV: { name: 'electronvolt', wrong: ['ev', 'EV'] },
  'kJ/mol': { name: 'kilojoule per mole', also: ['kJ mol-1'], wrong: ['KJ/mol', 'kj/mole'] },
  'kcal/mol': { name: 'kilocalorie per mole', also: ['kcal mol-1'], wrong: ['Kcal/mol'] },
  'J/g': { name: 'joule per gram' },
  W: { name: 'watt', wrong: ['watts'] },
  mW: { name: 'milliwatt' },
  V: { name: 'volt', wrong: ['volts'] },
  mV: { name: 'millivolt', wrong: ['MV', 'mv'] },
  A: { name: 'ampere', wrong: ['amp', 'amps', 'Amp'] },
  mA: { name: 'milliampere', wrong: ['ma', 'MA', 'mAmp'] },
  C: { name: 'coulomb', wrong: ['coul'], unread: true },
  'F/mol': { name: 'faraday per mole' },
  'mA/cm²': { name: 'milliampere per square centimetre', also: ['mA/cm2'] },
  m: { name: 'metre', also: ['meter'] },
  dm: { name: 'decimetre' },
  cm: { name: 'centimetre', wrong: ['cms', 'Cm'] },
  mm: { name: 'millimetre', wrong: ['mms'] },
  µm: { name: 'micrometre', also: ['um', 'μm'] },
  nm: { name: 'nanometre', wrong: ['NM', 'mµ', 'nanom'] },
  Å: { name: 'ångström', also: ['Angstrom', 'angstrom'], wrong: ['Ao'] },
  in: { name: 'inch', also: ['"', 'inches'], wrong: ['inch', 'ins'], unread: true },
  ft: { name: 'foot', wrong: ['feet'] },
  'cm²': { name: 'square centimetre', also: ['cm2', 'cm^2'], wrong: ['sq cm'] },
  Hz: { name: 'hertz', wrong: ['hz', 'HZ'] },
  MHz: { name: 'megahertz', wrong: ['mHz', 'Mhz', 'mhz'] },
  rpm: { name: 'revolution per minute', also: ['r/min', 'min⁻¹'], wrong: ['RPM', 'rpms'] },
  'cm⁻¹': { name: 'reciprocal centimetre', also: ['cm-1', 'cm^-1', '1/cm'], wrong: ['wavenumbers', 'cm1'] },
  '°': { name: 'degree (angle)', also: ['deg'], wrong: ['degrees'] },
  'mL/min': { name: 'millilitre per minute', wrong: ['ml/min', 'mls/min', 'mL/m'] },
  'mL/h': { name: 'millilitre per hour', wrong: ['ml/h', 'mL/hr'] },
  'µL/min': { name: 'microlitre per minute', also: ['uL/min', 'μL/min'], wrong: ['ul/min'] },
  'L/min': { name: 'litre per minute', also: ['l/min'], wrong: ['lpm'] },
  sccm: { name: 'standard cubic centimetre per minute' },
  'g/min': { name: 'gram per minute' },
  'K/min': { name: 'kelvin per minute', also: ['°C/min'], wrong: ['C/min', 'deg/min'] },
  mPa·s: { name: 'millipascal second', also: ['mPa s', 'mPa.s'] },
  cP: { name: 'centipoise', wrong: ['cp', 'CP'] },
  cSt: { name: 'centistokes', wrong: ['cst'] },
  'mN/m': { name: 'millinewton per metre' },
  'dyn/cm': { name: 'dyne per centimetre', also: ['dyne/cm'] },
  'S/m': { name: 'siemens per metre' },
  'µS/cm': { name: 'microsiemens per centimetre', also: ['uS/cm'], wrong: ['us/cm'] },
  'L/(mol·cm)': { name: 'litre per mole centimetre', also: ['L mol-1 cm-1', 'M-1 cm-1', 'M⁻¹ cm⁻¹'] },
  '° cm² g⁻¹': { name: 'degree square centimetre per gram' },
  D: { name: 'debye' },
  Bq: { name: 'becquerel' },
  MBq: { name: 'megabecquerel', wrong: ['mBq'] },
  Ci: { name: 'curie', wrong: ['ci'] },
  mCi: { name: 'millicurie' },
  'Ci/mmol': { name: 'curie per millimole' },
  U: { name: 'enzyme unit', wrong: ['IU', 'units'] },
  kat: { name: 'katal' },
  'mol/h': { name: 'mole per hour' },
  'g/g': { name: 'gram per gram' },
  'mg/kg': { name: 'milligram per kilogram' },
  'mL/g': { name: 'millilitre per gram', also: ['vol', 'volumes'], wrong: ['ml/g'] },
  nM: { name: 'nanomole per litre' },
  'g/100 mL': { name: 'gram per 100 millilitres', also: ['g per 100 mL'], wrong: ['g/100 ml', 'gm/100ml', 'g%'] },
  'g/100 g': { name: 'gram per 100 grams', also: ['g per 100 g'], wrong: ['g/100g', 'gm/100gm'] },
  'g/dL': { name: 'gram per decilitre', wrong: ['g/dl'] },
  meq: { name: 'milliequivalent', also: ['mEq'], wrong: ['mequiv', 'mval'], amount: true },
  'meq/g': { name: 'milliequivalent per gram', also: ['mEq/g'] },
  'L/mol': { name: 'litre per mole', also: ['l/mol', 'L mol-1'] },
  'J/(g·K)': { name: 'joule per gram kelvin', also: ['J/(g K)', 'J g-1 K-1', 'J/gK'] },
  'J/(mol·K)': { name: 'joule per mole kelvin', also: ['J/(mol K)', 'J mol-1 K-1', 'J/molK'] },
  's⁻¹': { name: 'reciprocal second', also: ['s-1', 's^-1', '1/s'] },
  'L/(mol·s)': { name: 'litre per mole second', also: ['L mol-1 s-1', 'M-1 s-1', 'M⁻¹ s⁻¹'] },
  'mW/cm²': { name: 'milliwatt per square centimetre', also: ['mW/cm2'] },
  barg: { name: 'bar, gauge', also: ['bar(g)'], wrong: ['bar g'] },
  'L/h': { name: 'litre per hour', also: ['l/h'], wrong: ['lph'] },
  'kg/h': { name: 'kilogram per hour', wrong: ['kgph'] },
  T: { name: 'tesla', wrong: ['Tesla'] },
} as const satisfies Record<string, UnitRow>;

export type UnitSymbol = keyof typeof UNITS;

/** Symbols that need white space before them: `13C`, `2D` and `19F` are words. */
export const APART: ReadonlySet<string> = new Set(['A', 'C', 'D', 'F', 'T', 'U', 't', 'u']);
