import { describe, expect, it } from 'vitest';
import { constant } from '../../../server/chem/constants';

// The SI Brochure, 9th edition, fixes k, N_A, e, h; the others follow from them.
describe('constants', () => {
  it.each([
    ['R', constant('k').times(constant('N_A')), 1e-14],
    ['F', constant('e').times(constant('N_A')), 1e-14],
    ['V_m_100kPa', constant('R').times('273.15').div(100_000), 1e-13],
    ['V_m_atm', constant('R').times('273.15').div(101_325), 1e-13],
    ['V_m_20C_atm', constant('R').times('293.15').div(101_325), 1e-12],
    ['V_m_25C_100kPa', constant('R').times('298.15').div(100_000), 1e-12],
    ['R_L_atm', constant('R').div('101.325'), 1e-12],
    ['R_L_bar', constant('R').div(100), 1e-12],
    ['R_L_torr', constant('R').times(760).div('101.325'), 1e-12],
    ['M_u', constant('m_u').times(constant('N_A')), 1e-10],
    ['M_12C', constant('M_u').times(12), 1e-11],
  ])('%s follows from the defining ones', (symbol, expected, tolerance) =>
    expect(constant(symbol).div(expected).minus(1).abs().toNumber()).toBeLessThan(tolerance),
  );

  it('has the values that define the SI', () => {
    expect(constant('k').toNumber()).toBe(1.380649e-23);
    expect(constant('N_A').toNumber()).toBe(6.02214076e23);
    expect(constant('T_0').toNumber()).toBe(273.15);
    expect(constant('atm').toNumber()).toBe(101_325);
  });

  it('does not know others', () => expect(() => constant('nope')).toThrow(/nope/));
});
