/**
 * Kinds of quantity, each with the base unit in which values of it are held. Temperatures and temperature differences
 * are different kinds; a ratio never says of what, the fact it stands in does.
 */
export const BASE_UNITS = {
  mass: 'g',
  volume: 'mL',
  amount: 'mol',
  concentration: 'mol/L',
  equivalentConcentration: 'mol/L',
  density: 'g/mL',
  molality: 'mol/kg',
  molarMass: 'g/mol',
  ratio: '1',
  massFraction: '1',
  volumeFraction: '1',
  massPerVolume: 'g/mL',
  amountRatio: '1',
  equivalents: '1',
  equivalentAmount: 'mol',
  massRatio: '1',
  temperature: 'K',
  temperatureDifference: 'K',
  pressure: 'kPa',
  time: 's',
  length: 'mm',
  angle: '°',
  energy: 'kJ',
  number: '1',
  other: '',
} as const;

export type Kind = keyof typeof BASE_UNITS;
