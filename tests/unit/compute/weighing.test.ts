/** Net masses are plain subtraction; the numbers are invented. */
import { describe, expect, it } from 'vitest';
import { isHeld, subtract } from '../../../server/quantity/held';
import { chargeOf, digitsOf, uOf, valuesOf, worth } from './page';

const netOf = (facts: string, before = '') => {
  const { weighings, products } = valuesOf(`${before}\nproduct salt: ${facts}`);
  const own = weighings.find((w) => w.subject === 'salt');
  return { net: digitsOf(own?.net), how: own?.how, mass: digitsOf(products[0]!.mass) };
};

describe('one weighing', () => {
  it.each([
    ['gross 54.881 g, tare 41.207 g', 'difference', '13.674'],
    ['tare 41.207 g, gross 54.881 g', 'difference', '13.674'],
    ['gross 54.881 g, tare 41207 mg', 'difference', '13.674'],
    ['gross 0.3 g, tare 0.1 g', 'difference', '0.2'],
    ['tare 54.881 g, gross 41.207 g', 'difference', '-13.674'],
    ['net 13.674 g', 'net', '13.674'],
    ['net 13.674 g, residue 0.012 g', 'net', '13.662'],
    ['gross 54.881 g, tare 41.207 g, residue 0.012 g', 'difference', '13.662'],
    ['before 12.3456 g, after 11.1111 g', 'dispensed', '1.2345'],
    ['before 12.3456 g, after 11.1111 g, residue 0.0012 g', 'dispensed', '1.2333'],
    ['before 1.2345 g, residue 0.0012 g', 'dispensed', '1.2333'],
    ['gross 54.881 g', 'incomplete', 'tare-missing'],
    ['tare 41.207 g', 'none', 'gross-missing'],
    ['before 12.3456 g', 'incomplete', 'gross-missing'],
    ['after 11.1111 g', 'incomplete', 'gross-missing'],
    // no masses
    ['gross 54.881 mL, tare 41.207 g', 'none', 'gross-missing'],
  ])('%s: %s %s', (facts, how, net) => expect(netOf(facts)).toEqual({ how, net, mass: net }));

  it('of a series the last counts', () => {
    expect(netOf('tare 41.207 g, gross 54.991 g at 10:00, gross 54.881 g at 11:00').net).toBe('13.674');
    expect(netOf('tare 41.300 g at 09:00, tare 41.207 g at 09:10, gross 54.881 g').net).toBe('13.674');
  });
});

describe('the tare of a vessel', () => {
  const VESSEL = 'vessel F-12: flask, tare 41.207 g';
  it.each([
    ['on its own line', VESSEL, 'gross 54.881 g, in F-12'],
    ['behind the reading', VESSEL, 'gross 54.881 g in F-12'],
    ['weighed empty', 'weigh F-12: tare 41.207 g', 'gross 54.881 g, in F-12'],
    ['of two, the last before', `${VESSEL}\nweigh F-12: tare 41.300 g`, 'gross 54.974 g, in F-12'],
  ])('%s', (_, before, facts) => expect(netOf(facts, before).net).toBe('13.674'));

  it('written below counts where none stands above', () => {
    const { weighings } = valuesOf('product salt: gross 54.881 g, in F-12\nweigh F-12: tare 41.207 g');
    expect(digitsOf(weighings.find((w) => w.subject === 'salt')!.net)).toBe('13.674');
  });

  it('with the content wins over the vessel, of another vessel never counts', () => {
    expect(netOf('gross 54.881 g, tare 41.000 g, in F-12', VESSEL).net).toBe('13.881');
    expect(netOf('gross 54.881 g, in F-13', VESSEL).net).toBe('tare-missing');
  });

  it('from the head of the file and from a register', () => {
    const register = { 'glass.tare': `${VESSEL}\n` };
    const { weighings } = valuesOf('product salt: gross 54.881 g, in F-12', register);
    expect(digitsOf(weighings.find((w) => w.subject === 'salt')!.net)).toBe('13.674');
  });

  it('used twice is one reading: nets of one vessel correlate', () => {
    const { weighings } = valuesOf(
      'balance B-2: readability 0.001 g, repeatability 0.001 g\nvessel F-12: flask, tare 41.207 g\n' +
        'weigh a: gross 51.207 g, in F-12\nweigh b: gross 61.207 g, in F-12',
    );
    const [a, b] = ['a', 'b'].map((name) => weighings.find((w) => w.subject === name)!.net);
    expect([worth(a), worth(b)]).toEqual([10, 20]);
    expect(isHeld(a) && isHeld(b) && uOf(subtract(b, a, { inputs: [] }))).toBeCloseTo(uOf(a), 12);
  });
});

describe('the word `weighed`', () => {
  it('adds up the weighings of that name, whatever name is used for it', () => {
    const values = valuesOf(
      'substance sodium chloride: NaCl, also salt\nweigh sodium chloride: net 1.25 g\nweigh salt: net 0.75 g\n' +
        'weigh sugar: net 9.99 g\ncharge NaCl: weighed',
    );
    expect(digitsOf(chargeOf(values, 'NaCl').mass)).toBe('2');
    expect(values.charges[0]!.unlimited).toBe(false);
  });

  it('of nothing weighed is nothing', () =>
    expect(worth(chargeOf(valuesOf('charge NaCl: weighed'), 'NaCl').mass)).toBe('amount-missing'));

  it('a weighing that cannot be read makes the sum unknown, it does not count as zero', () => {
    const values = valuesOf('weigh NaCl: net 1.25 g\nweigh NaCl: gross 5.00 g\ncharge NaCl: weighed');
    expect(worth(chargeOf(values, 'NaCl').mass)).toBe('tare-missing');
  });
});
