/** A density is never corrected for temperature; the working says where it belongs elsewhere. */
import { describe, expect, it } from 'vitest';
import { isHeld } from '../../../server/quantity/held';
import { chargeOf, valuesOf, worth } from './page';

const noteOf = (line: string) => {
  const { mass } = chargeOf(
    valuesOf(`substance ester: C4H8O2, density 0.902 g/mL at 20 °C
solution brine: 10.0 % w/w sodium chloride in water, density 1.071 g/mL at 20 °C
${line}`),
    line.includes('brine') ? 'brine' : 'ester',
  );
  return { mass: worth(mass), notes: isHeld(mass) ? mass.working.inputs.map((input) => input.held.working.note) : [] };
};

describe('a density at another temperature', () => {
  it('is used as it stands, and said', () => {
    const said = 'density at 20 °C, taken at 5 °C: not corrected';
    expect(noteOf('charge ester: 10.0 mL, at 5 °C')).toEqual({ mass: 9.02, notes: [undefined, said] });
    expect(noteOf('charge brine: 10.0 mL, at 5 °C').notes).toContain(said);
  });

  it('is not spoken of at its own temperature, within 2 K, or without one', () => {
    for (const line of ['charge ester: 10.0 mL, at 20 °C', 'charge ester: 10.0 mL, at 22 °C', 'charge ester: 10.0 mL'])
      expect(noteOf(line).notes, line).toEqual([undefined, undefined]);
  });
});
