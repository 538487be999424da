/**
 * The boiling point at another pressure, an estimate: ln(p/p₀) = −(ΔS/R)·[1.8·(Tb/T − 1) − 0.8·ln(Tb/T)], solved for T
 * by bisection. The enthalpy of vaporisation grows on cooling with ΔCp = −0.8·ΔS. Form and factors as in textbooks of
 * environmental chemistry (Schwarzenbach, Gschwend, Imboden; from memory).
 */
import { constant } from './constants';

/** Entropy of vaporisation of ordinary liquids, J/(mol·K) (Trouton's rule), and the factor for alcohols and water. */
export const TROUTON = 88;
export const HYDROXYL = 1.3;
/** Half of the range in which most liquids lie, K. */
export const BOILING_SPREAD = 10;

const ORDINARY = 101.325;
const MM_HG = 0.133322387415;

/**
 * @param tb boiling temperature in K at `p0`; of one at another than ordinary pressure, the ordinary boiling point that
 * would give it is worked out first, since the entropy holds there
 * @param p0 kPa
 * @param p kPa
 * @param entropy of vaporisation at the ordinary boiling point, J/(mol·K)
 * @returns K; undefined below 1 mmHg, where the estimate is not to be used, and for what is no pressure
 */
export function boilingAt(tb: number, p0: number, p: number, entropy: number): number | undefined {
  const usable = (pressure: number): boolean => pressure >= MM_HG && pressure < 10 * ORDINARY;
  if (!(tb > 0 && usable(p0) && usable(p))) return undefined;
  const near = Math.abs(p0 / ORDINARY - 1) < 1e-9;
  const ordinary = near ? tb : bisect((t) => at(t, p0, entropy) - tb, tb / 4, tb * 4);
  return at(ordinary, p, entropy);
}

/** Temperature at which a liquid of an ordinary boiling point `tb` boils under `p`. */
function at(tb: number, p: number, entropy: number): number {
  const r = constant('R').toNumber();
  const wanted = Math.log(p / ORDINARY);
  return bisect((t) => -(entropy / r) * (1.8 * (tb / t - 1) - 0.8 * Math.log(tb / t)) - wanted, tb / 4, tb * 2);
}

/** The zero of a rising function. */
function bisect(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (f(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
