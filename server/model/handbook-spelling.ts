/** How chemists spell what the handbook holds: other spellings of a name, and strengths written into a name. */

import { foldFormula } from '../../grammar/names';

/** Solutions that have a name of their own, and what is dissolved in them. Keys are folded names. */
const SOLUTES: Readonly<Record<string, string>> = {
  'hydrochloric acid': 'hydrogen chloride',
  'hydrobromic acid': 'hydrogen bromide',
  'hydriodic acid': 'hydrogen iodide',
  'hydroiodic acid': 'hydrogen iodide',
  'hydrofluoric acid': 'hydrogen fluoride',
  'aqueous ammonia': 'ammonia',
  'ammonia solution': 'ammonia',
  'ammonia water': 'ammonia',
  'ammonium hydroxide': 'ammonia',
  nh4oh: 'ammonia',
  formalin: 'formaldehyde',
  bleach: 'sodium hypochlorite',
  brine: 'sodium chloride',
};

/** What is dissolved in a solution known by a trade name (folded). */
export function soluteOfTrade(key: string): string | undefined {
  return SOLUTES[key.replace(/^(aq\.|aqueous) (?!ammonia)/, '')];
}

/** Rewritings of a folded name, each tried on its own and then together; common practice, no source. */
const SPELLINGS: readonly (readonly [RegExp, string])[] = [
  [/sulph/g, 'sulf'],
  [/\baluminum\b/g, 'aluminium'],
  [/\bcesium\b/g, 'caesium'],
  [/\bbicarbonate\b/g, 'hydrogencarbonate'],
  [/\bbisulf(ate|ite|ide)\b/g, 'hydrogensulf$1'],
  [/\bhydrogen (carbonate|sulfate|sulfite|sulfide)\b/g, 'hydrogen$1'],
  [/\biso-/g, 'iso'],
  [/\bt(?:ert)?[- ]?butyl/g, 'tert-butyl'],
  [/\bs-butyl/g, 'sec-butyl'],
  [/\b(p|o|m)(?:ara|rtho|eta)-/g, '$1-'],
  [/yl amine\b/g, 'ylamine'],
  [/\bn-(?=[a-z])/g, ''],
  [/ solution$/, ''],
];

/** Other folded spellings of a folded name, without itself. */
export function respell(key: string): readonly string[] {
  const sulf = key.replaceAll('sulph', 'sulf');
  const spelt = SPELLINGS.reduce((name, [from, to]) => name.replace(from, to), key);
  return [...new Set([sulf, spelt])].filter((name) => name !== key && name !== '');
}

const BEFORE = /^(?:anhydrous|anhyd\.?|dry|absolute|abs\.|powdered|(?:freshly )?distilled|degassed) (?=.)/i;
const BEHIND = /(?<=.),? \(?(?:anhydrous|anhyd\.?|anh\.?|dry|powder|pellets|flakes|granular)\)?$/i;

/** A name without what is said of the stuff in the bottle: `dry THF`, `NaOH (pellets)`, `MgSO4, anhydrous`. */
export function withoutCondition(name: string): string {
  return name.trim().replace(BEFORE, '').replace(BEHIND, '');
}

/** A solution told by its name: `2 M hydrochloric acid`, `n-BuLi (2.5 M in hexanes)`, `conc. H2SO4`, `sat. NaHCO3`. */
export interface WrittenStrength {
  readonly solute: string;
  readonly solvent?: string;
  /** `N` stays as written: how many equivalents a mole has depends on the solute. A bare `%` says not of what. */
  readonly strength: 'conc.' | 'saturated' | { readonly digits: string; readonly unit: '%' | '% w/w' | 'mol/L' | 'N' };
}

const NUMBER = String.raw`(?<digits>\d+(?:\.\d+)?)[ -]?(?<unit>mol\/L|M|N|% ?\(?w\/w\)?|wt\.? ?%|% ?\(?wt\)?|%)`;
const WORD = String.raw`(?<word>conc\.?|concentrated|sat\.?|satd\.?|saturated)`;
const STRENGTH = `(?:${NUMBER}|${WORD})`;
const SOLVENT = '(?: in (?<solvent>[^()]+?))?';
const SHAPES = [
  new RegExp(`^${STRENGTH}(?:,? (?:aq\\.?|aqueous))? (?<solute>.+?)(?: solution)?${SOLVENT}$`),
  new RegExp(`^(?<solute>.+?) \\(${STRENGTH}(?: aq\\.?| solution)?${SOLVENT}\\)$`),
  new RegExp(`^(?<solute>.+?),? ${STRENGTH}(?: aq\\.?| solution)?${SOLVENT}$`),
];

/** A quick look first: most names say nothing of the kind, and a whole sentence is no name. */
const SAYS_STRENGTH = /\d ?-?(?:M\b|N\b|%|mol|wt)|\b(?:conc|sat)/;
const LONGEST = 120;

/** Reads a strength out of a name; case counts (`M` is not `m`). */
export function readStrength(name: string): WrittenStrength | undefined {
  const text = name.trim().replace(/\s+/g, ' ');
  if (text.length > LONGEST || !SAYS_STRENGTH.test(text)) return undefined;
  for (const shape of SHAPES) {
    const { digits, unit, word, solute, solvent } = shape.exec(text)?.groups ?? {};
    if (!solute) continue;
    const strength = word ? readWord(word) : { digits: digits!, unit: readUnit(unit!) };
    return { solute, ...(solvent && { solvent }), strength };
  }
  return undefined;
}

const readWord = (word: string) => (word.startsWith('c') ? 'conc.' : 'saturated');

function readUnit(unit: string): '%' | '% w/w' | 'mol/L' | 'N' {
  if (unit === '%' || unit === 'N') return unit;
  return unit.includes('%') ? '% w/w' : 'mol/L';
}

/** Acids and bases that a formula names when it is said to be concentrated. */
const CONCENTRATED: Readonly<Record<string, string>> = {
  HCl: 'hydrochloric acid',
  HBr: 'hydrobromic acid',
  HI: 'hydriodic acid',
  HF: 'hydrofluoric acid',
  H2SO4: 'sulfuric acid',
  HNO3: 'nitric acid',
  H3PO4: 'phosphoric acid',
  HClO4: 'perchloric acid',
  NH3: 'aqueous ammonia',
  NH4OH: 'aqueous ammonia',
  HCO2H: 'formic acid',
  HCOOH: 'formic acid',
};

/** The name under which a concentrated acid or base is sold. */
export function concentrated(solute: string): string {
  return `conc. ${CONCENTRATED[foldFormula(solute)] ?? solute}`;
}
