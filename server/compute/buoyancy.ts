/**
 * The mass of a thing from what a balance shows of it in air, where the page asks for it.
 *
 * A balance is adjusted with weights of conventional density, and shows the conventional mass: right for what is as dense
 * as steel, too little for all that is lighter. m = m(shown) · (1 − ρₐ ÷ ρₛ) ÷ (1 − ρₐ ÷ ρ), with the reference values of
 * OIML D 28: ρₐ = 1.2 kg/m³ for air, ρₛ = 8000 kg/m³ for the weights.
 */
import { Decimal } from '../quantity/decimal';
import { divide, exact, type Held, multiply, type Origin, reading, relabel, subtract } from '../quantity/held';

const SOURCE = 'OIML D 28, conventional value of the result of weighing in air';
const AIR = new Decimal('0.0012');
const WEIGHTS = new Decimal('8');
/**
 * OIML D 28 lets the density of air differ from 1.2 kg/m³ by a tenth; as a rectangular distribution (JCGM 100 4.3.7) that
 * is a standard uncertainty of a tenth by √3.
 */
const AIR_SHARE = 0.1 / Math.sqrt(3);
const FROM_OIML: Origin = { from: 'table', source: SOURCE };

/** The air is one reading, however often it counts. */
const AIR_DENSITY = reading('density', AIR, AIR.toNumber() * AIR_SHARE, Number.POSITIVE_INFINITY, {
  name: 'density of air',
  origin: FROM_OIML,
});

const ONE = exact('ratio', 1);
const STEEL = exact('density', WEIGHTS, FROM_OIML);

/** 1 − ρₐ ÷ ρ; undefined for a thing without density, or one that air would lift. */
function lifted(density: Held, symbol: string): Held | undefined {
  const inputs = [
    { symbol: 'ρₐ', held: AIR_DENSITY },
    { symbol, held: density },
  ];
  const share = divide('ratio', AIR_DENSITY, density, { formula: `ρₐ ÷ ${symbol}`, inputs });
  if (!share || share.value.gte(1)) return undefined;
  const rest = subtract(ONE, share, { inputs: [] });
  return relabel(rest, { formula: `1 − ρₐ ÷ ${symbol}`, inputs });
}

/** `shown`: a mass as the balance shows it, g; `density`: of what was weighed, g/mL. Undefined where there is no answer. */
export function inVacuo(shown: Held, density: Held): Held | undefined {
  const weights = lifted(STEEL, 'ρₛ');
  const thing = lifted(density, 'ρ');
  const factor = weights && thing && divide('ratio', weights, thing, { inputs: [] });
  if (!factor) return undefined;
  // The correction is far better known than its third figure: the reading decides how many digits are shown.
  const product = multiply('mass', shown, { ...factor, figures: Number.POSITIVE_INFINITY }, { inputs: [] });
  return relabel(product, {
    formula: 'm · (1 − ρₐ ÷ ρₛ) ÷ (1 − ρₐ ÷ ρ)',
    inputs: [
      { symbol: 'm', held: shown },
      { symbol: 'ρₐ', held: AIR_DENSITY },
      { symbol: 'ρₛ', held: STEEL },
      { symbol: 'ρ', held: density },
    ],
    note: 'corrected for buoyancy, as the page asks: air 1.2 kg/m³, weights 8000 kg/m³ (OIML D 28)',
  });
}
