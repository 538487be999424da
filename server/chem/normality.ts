import type { Decimal } from '../quantity/decimal';
import { isMetal } from './elements';
import { type Formula, hill } from './formula';

// Protons that a standardised acid gives, or that an ammonia-like base takes, in a titration to its usual end point.
// Common practice of volumetric analysis, no single source. What depends on the reaction (KMnO4, K2Cr2O7, I2,
// Na2S2O3) is left out on purpose.
const KNOWN: Readonly<Record<string, number>> = {
  ClH: 1,
  BrH: 1,
  HI: 1,
  FH: 1,
  HNO3: 1,
  ClHO4: 1,
  BF4H: 1,
  H3NO3S: 1,
  H2O4S: 2,
  H2O3S: 2,
  CH2O3: 2,
  H3O4P: 3,
  H3O3P: 2,
  CH2O2: 1,
  C2H4O2: 1,
  C2HF3O2: 1,
  C3H6O2: 1,
  C3H6O3: 1,
  C7H6O2: 1,
  C8H5KO4: 1,
  CH4O3S: 1,
  C7H8O3S: 1,
  C2H2O4: 2,
  C3H4O4: 2,
  C4H6O4: 2,
  C4H6O6: 2,
  C6H8O7: 3,
  H3N: 1,
  H5NO: 1,
  C4H13NO: 1,
  C16H37NO: 1,
};

/**
 * Equivalents in one mole, for normality: `N = equivalents × M`. The water of a hydrate is left out.
 *
 * @param hint what the substance's name or use says: an acid of C, H and two O then counts once, an amine once for
 * each nitrogen
 * @returns undefined where it depends on the reaction (oxidants, salts)
 */
export function equivalentsPerMole(f: Formula, hint?: 'acid' | 'base'): number | undefined {
  if (f.hydrate) return equivalentsPerMole(f.hydrate.dry, hint);
  if (f.charge !== 0) return undefined;
  return KNOWN[hill(f)] ?? hydroxide(f) ?? carbonate(f) ?? hinted(f, hint);
}

const whole = (count: Decimal | undefined): number => (count?.isInteger() ? count.toNumber() : 0);

function metals(f: Formula): readonly string[] {
  return [...f.counts.keys()].filter(isMetal);
}

/** M(OH)n. */
function hydroxide(f: Formula): number | undefined {
  const hydrogen = whole(f.counts.get('H'));
  const oxygen = whole(f.counts.get('O'));
  const [metal, ...others] = metals(f);
  const fits = metal && others.length === 0 && f.counts.size === 3 && whole(f.counts.get(metal)) === 1;
  return fits && hydrogen > 0 && hydrogen === oxygen ? hydrogen : undefined;
}

/** Carbonates of metals and of ammonium take two protons, hydrogencarbonates one. */
function carbonate(f: Formula): number | undefined {
  if (whole(f.counts.get('C')) !== 1 || whole(f.counts.get('O')) !== 3) return undefined;
  const nitrogen = whole(f.counts.get('N'));
  const cations = nitrogen > 0 ? 0 : metals(f).length;
  const acidic = whole(f.counts.get('H')) - 4 * nitrogen;
  const kinds = 2 + cations + Number(f.counts.has('H')) + Number(nitrogen > 0);
  if (cations + nitrogen === 0 || kinds !== f.counts.size || (acidic !== 0 && acidic !== 1)) return undefined;
  return 2 - acidic;
}

function hinted(f: Formula, hint: 'acid' | 'base' | undefined): number | undefined {
  const only = (symbols: string): boolean => [...f.counts.keys()].every((key) => symbols.includes(key));
  if (hint === 'acid' && only('CHO') && whole(f.counts.get('O')) === 2) return 1;
  if (hint === 'base' && only('CHN')) return whole(f.counts.get('N')) || undefined;
  return undefined;
}
