/** Green metrics of a page: all that was charged with a mass, over the product in its last stage. */
import { asKind, divide, type Held, held, isHeld, type Result, subtract, total, unknown } from '../quantity/held';
import type { ChargeValue, Metrics, ProductValue } from './values';

/**
 * E factor (Sheldon 1992: mass of waste over mass of product), process mass intensity (all mass in over product) and
 * reaction mass efficiency (product over reactants). What has no mass, such as an excess, leaves them unknown.
 */
export function metricsOf(charges: readonly ChargeValue[], products: readonly ProductValue[]): { metrics?: Metrics } {
  const made = products.filter((p) => !p.superseded);
  if (charges.length === 0 || made.length === 0) return {};
  const output = sum(made.map((p) => p.mass));
  const input = sum(
    charges.map((c) => (c.unlimited ? unknown('amount-missing', `a mass of ${c.charge.name.text}`) : c.mass)),
  );
  const reactants = sum(charges.filter((c) => c.term).map((c) => c.mass));
  const ratio = (a: Result, b: Result, formula: string, sa: string, sb: string): Result => {
    const x = held(a);
    const y = held(b);
    if (!x) return a;
    if (!y) return b;
    return (
      divide('number', x, y, {
        formula,
        inputs: [
          { symbol: sa, held: x },
          { symbol: sb, held: y },
        ],
      }) ?? unknown('amount-missing', 'a mass of product')
    );
  };
  const waste = wasted(input, output);
  return {
    metrics: {
      eFactor: ratio(waste, output, 'm(waste) ÷ m(product)', 'm(waste)', 'm(product)'),
      processMassIntensity: ratio(input, output, 'm(in) ÷ m(product)', 'm(in)', 'm(product)'),
      reactionMassEfficiency: asRatio(
        ratio(output, reactants, 'm(product) ÷ m(reactants)', 'm(product)', 'm(reactants)'),
      ),
    },
  };
}

const asRatio = (r: Result): Result => (isHeld(r) ? asKind(r, 'ratio') : r);

function wasted(input: Result, output: Result): Result {
  const i = held(input);
  const o = held(output);
  if (!i) return input;
  if (!o) return output;
  return subtract(i, o, {
    formula: 'm(in) − m(product)',
    inputs: [
      { symbol: 'm(in)', held: i },
      { symbol: 'm(product)', held: o },
    ],
  });
}

function sum(masses: readonly Result[]): Result {
  const missing = masses.find((m) => !isHeld(m));
  if (missing) return missing;
  const all: Held[] = masses.flatMap((m) => held(m) ?? []);
  return total(all, 'm') ?? unknown('amount-missing', 'a mass');
}
