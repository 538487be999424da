import { describe, expect, it } from 'vitest';
import { divide, exact, type Held, multiply, subtract, total } from '../../../server/quantity/held';
import { filledIn, shown, step, steps } from '../../../server/quantity/steps';
import { read } from './typed';

const inputs = (symbols: Readonly<Record<string, Held>>) =>
  Object.entries(symbols).map(([symbol, held]) => ({ symbol, held }));

const V = read('volume', '15.0', 0.029, 3, '15.0 mL');
const rho = read('density', '0.810', 0.0003, 3, '0.810 g/mL');
const M = exact('molarMass', '88.15');
const m = multiply('mass', V, rho, { formula: 'V · ρ', inputs: inputs({ V, ρ: rho }) });
const n = divide('amount', m, M, { formula: 'm ÷ M', inputs: inputs({ m, M }) })!;

describe('working in words', () => {
  it('puts the numbers in, readings as they were typed', () => {
    expect(filledIn(m)).toBe('15.0 mL × 0.810 g/mL');
    expect(step(m)).toBe('15.0 mL × 0.810 g/mL = 12.15 g');
    expect(step(n)).toBe('12.15 g ÷ 88.15 g/mol = 137.8 mmol');
  });

  it('shows a reading as it was typed and an exact number as it is', () => {
    expect([filledIn(V), step(V), shown(V)]).toEqual([undefined, '15.0 mL', '15.0 mL']);
    expect(step(exact('number', 2))).toBe('2');
  });

  it('differences, sums, symbols in brackets and symbols with brackets', () => {
    const gross = read('mass', '54.881', 0.001, 5, '54.881 g');
    const tare = read('mass', '41.207', 0.001, 5, '41.207 g');
    const net = subtract(gross, tare, { formula: 'gross − tare', inputs: inputs({ gross, tare }) });
    expect(step(net)).toBe('54.881 g − 41.207 g = 13.674 g');
    const both = total([net, gross], 'm')!;
    expect(step(both)).toBe('13.674 g + 54.881 g = 68.555 g');
    const limiting = read('amount', '0.1378', 0.0003, 4, '0.1378 mol');
    const equiv = divide('equivalents', n, limiting, {
      formula: 'n ÷ n(limiting)',
      inputs: inputs({ n, 'n(limiting)': limiting }),
    })!;
    expect(filledIn(equiv)).toBe('137.8 mmol ÷ 0.1378 mol');
    const R = exact('other', '8.314');
    const T = read('temperature', '298.15', 0.3, 3, '25 °C');
    const gas = { ...n, working: { formula: 'n ÷ (R · T)', inputs: inputs({ n, R, T }) } };
    expect(filledIn(gas)).toBe('137.8 mmol ÷ (8.314 × 25 °C)');
  });

  it('leaves words and numbers of a formula as they are', () => {
    expect(filledIn({ ...n, working: { formula: '1 − w', inputs: inputs({ w: M }) } })).toBe('1 − 88.15 g/mol');
  });
});

describe('the steps', () => {
  it('come in the order a reader works them, each once', () => {
    const share = divide('ratio', n, n, { formula: 'n ÷ n', inputs: inputs({ n }) })!;
    expect(steps(share).map((line) => line.split(' = ')[1])).toEqual(['12.15 g', '137.8 mmol', '100.0 %']);
    expect(steps(V)).toEqual([]);
  });

  it('are cut at the front, never at the end', () => {
    let chain: Held = m;
    for (let i = 0; i < 12; i++)
      chain = multiply('mass', chain, exact('number', 1), { formula: 'm · k', inputs: inputs({ m: chain }) });
    expect(steps(chain)).toHaveLength(8);
    expect(steps(chain, 3)).toHaveLength(3);
    expect(steps(chain).at(-1)).toBe(step(chain));
  });
});
