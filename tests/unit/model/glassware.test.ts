/** Limits of error: `server/data/tolerances.csv` (ISO 1042, 648, 385, 4788; ASTM E288, E969, E287; most from memory). */
import { describe, expect, it } from 'vitest';
import { glasswareOf } from '../../../server/model/glassware';

const of = (text: string) => {
  const glass = glasswareOf(text, 'x');
  return glass && [glass.kind, glass.name, `±${glass.tolerance}`, glass.fromMemory];
};

describe('glassware by its class', () => {
  it('finds size, kind, class and standard in any order', () => {
    expect(of('100 mL volumetric flask class A')).toEqual([
      'flask',
      '100 mL volumetric flask, ISO 1042 class A',
      '±0.1',
      true,
    ]);
    expect(of('class B volumetric flask, 1 L')).toEqual([
      'flask',
      '1000 mL volumetric flask, ISO 1042 class B',
      '±0.8',
      true,
    ]);
    expect(of('25 mL pipet class AS')).toEqual(['pipette', '25 mL pipette, ISO 648 class A', '±0.03', true]);
    expect(of('100 mL ASTM volumetric flask class A')).toEqual([
      'flask',
      '100 mL volumetric flask, ASTM E288 class A',
      '±0.08',
      false,
    ]);
    expect(of('100 mL measuring cylinder class B')).toEqual([
      'cylinder',
      '100 mL graduated cylinder, ISO 4788 class B',
      '±1',
      true,
    ]);
  });

  it('takes the coarsest graduation of a burette', () => {
    expect(of('25 mL burette class A')?.[2]).toBe('±0.05');
    expect(of('50 mL burette class A')?.slice(2)).toEqual(['±0.05', false]);
  });

  it('is nothing without a class, a size or a kind, or in a size that the standard does not have', () => {
    for (const text of [
      '25 mL pipette',
      'pipette class A',
      '25 mL flask class A',
      '30 mL volumetric flask class A',
      'VF-2',
    ])
      expect(of(text), text).toBeUndefined();
  });
});
