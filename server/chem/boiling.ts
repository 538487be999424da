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

/**
 * @param tb boiling temperature in K at `p0`
 * @param p0 kPa
 * @param p kPa
 * @param entropy of vaporisation, J/(mol·K)
 * @returns K; undefined below 1 mmHg, where the estimate is not to be used, and for what is no pressure
 */
export function boilingAt(tb: number, p0: number, p: number, entropy: number): number | undefined {
  if (!(tb > 0 && p0 > 0 && p >= MM_HG && p < 10 * p0)) return undefined;
  const wanted = Math.log(p / p0);
  const r = constant('R').toNumber();
  const logOfPressure = (t: number): number => -(entropy / r) * (1.8 * (tb / t - 1) - 0.8 * Math.log(tb / t));
  let low = tb / 4;
  let high = tb * 2;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (logOfPressure(middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const MM_HG = 0.133322387415;
