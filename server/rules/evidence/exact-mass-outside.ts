import { adductMz, adducts } from '../../chem/adduct';
import { massSlip } from '../../compute/spectra';
import { formulaOf } from '../../compute/substance';
import type { MeasurementValue } from '../../compute/values';
import { Decimal } from '../../quantity/decimal';
import { isHeld } from '../../quantity/held';
import { digits } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'exact-mass-outside',
  family: 'evidence',
  severity: 'warning',
  fixable: 'never',
  title: 'The accurate mass does not fit the formula',
  why: `The mass found lies further from that of the ion than the limit (5 ppm, \`hrmsPpm\` in the settings). Calculated masses
are those of the most abundant isotopes and count the electron. Below m/z 200 the limit stays what it is there in m/z (0.001),
because small ions are not measured better than that. Numbers with fewer than three decimals are no accurate mass
and are not looked at.`,
  help: 'Look at the ion: the message names another usual one that fits. Else the formula or the calibration is wrong.',
  examples: [
    {
      name: 'found mass of the sodium adduct under [M+H]+',
      wrong: `experiment TB-601: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: HRMS [M+H]+ found 173.0575
                                          ^^^^^^^^ exact-mass-outside: It fits [M+Na]+.
`,
      right: `experiment TB-601: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: HRMS [M+Na]+ found 173.0575
`,
    },
    {
      name: 'a molar mass with a proton',
      wrong: `experiment TB-603: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: HRMS [M+H]+ found 151.1845
                                          ^^^^^^^^ exact-mass-outside: It fits if the average mass
`,
      right: `experiment TB-603: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: HRMS [M+H]+ found 151.0754
`,
    },
    {
      name: 'near misses: a few ppm, a nominal mass, an ion that cannot be read',
      right: `experiment TB-602: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: HRMS [M+H]+ found 151.0759
measure ethyl benzoate: HRMS [M+H]+ found 151.1
measure maleic acid: HRMS [M-H]- found 115.0029
measure ethyl benzoate: HRMS [M+whatever]+ found 212.1234
`,
    },
  ],
  sources: [
    'Masses: AME2020 and CODATA 2022; the limit of 5 ppm: usual requirement of journals of organic chemistry (from memory)',
  ],
  *check({ values, settings }) {
    for (const value of values.measurements) {
      const { measurement, calculated, found, adduct } = value;
      const datum = measurement.hrms?.found;
      if (value.kind !== 'HRMS' || !datum || !isHeld(calculated) || datum.quantity.number.place > -3) continue;
      const error = ppm(found.value, calculated.value);
      // Half of the last digit is rounding, not error.
      const rounding = ppm(
        calculated.value.plus(Decimal.pow(10, datum.quantity.number.place).div(2)),
        calculated.value,
      );
      const limit = settings.hrmsPpm * Math.max(1, SMALL_ION / calculated.value.toNumber());
      if (error.abs().minus(rounding).lte(limit)) continue;
      const other = fitting(value, settings.hrmsPpm);
      const slip = other
        ? undefined
        : massSlip(value, found.value, calculated.value.times(settings.hrmsPpm).div(MILLION));
      yield {
        span: datum.span,
        block: measurement.entry.block,
        message: sentences(
          `Found ${datum.quantity.number.text}; ${adduct} of ${measurement.name.text} is ${digits(calculated.value, datum.quantity.number.place)}: ${far(error)}, limit ${digits(new Decimal(limit), 0)} ppm.`,
          other ? `It fits ${other}.` : slip ? `It fits if ${slip}.` : 'Look at the formula and the ion.',
        ),
        rests: [datum.span],
      };
    }
  },
});

/** m/z below which an instrument is not better in ppm: there the limit stays what it is in m/z here. */
const SMALL_ION = 200;

const MILLION = 1_000_000;
const ppm = (found: Decimal, calculated: Decimal): Decimal => found.minus(calculated).div(calculated).times(MILLION);

/** `12.3 ppm off`; what is whole masses off is not counted in ppm. */
const far = (error: Decimal): string =>
  error.abs().gt(1000) ? 'another mass' : `${error.isPositive() ? '+' : '−'}${digits(error.abs(), -1)} ppm`;

/** The usual ion that the found mass would be right for. */
function fitting({ measurement, found, adduct, calculated }: MeasurementValue, limit: number): string | undefined {
  const target = measurement.name.target;
  const formula = target?.kind === 'substance' ? formulaOf(target) : undefined;
  if (!formula) return undefined;
  return adducts().find(({ label, ascii }) => {
    const mz = label === adduct ? undefined : adductMz(formula, ascii)?.mz;
    // An electron more or less is no other ion to a mass that is off.
    return (
      mz && isHeld(calculated) && calculated.value.minus(mz).abs().gt('0.1') && ppm(found.value, mz).abs().lte(limit)
    );
  })?.label;
}
