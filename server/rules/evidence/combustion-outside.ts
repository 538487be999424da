import { waterThatFits } from '../../compute/spectra';
import { formulaOf } from '../../compute/substance';
import type { MeasurementValue } from '../../compute/values';
import { Decimal } from '../../quantity/decimal';
import { type Held, isHeld } from '../../quantity/held';
import { digits } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

/** Percentage points. */
const LIMIT = '0.4';

export default rule({
  code: 'combustion-outside',
  family: 'evidence',
  severity: 'warning',
  fixable: 'never',
  title: 'The combustion analysis does not fit the formula',
  why: `Carbon, hydrogen and nitrogen of a pure substance are expected within 0.4 percentage points of what the formula says.
Said once for a measurement, at the element that is furthest off.`,
  help: `Look at the formula, and for solvent or water in the sample: a formula with the solvent (\`C9H10O2·0.5H2O\`) can be
declared as what was analysed.`,
  examples: [
    {
      name: 'carbon too low',
      wrong: `experiment TB-611: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: combustion C 70.94, H 6.71
                                     ^^^^^ combustion-outside: 71.98
`,
      right: `experiment TB-611: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: combustion C 71.94, H 6.71
`,
    },
    {
      name: 'half a water',
      wrong: `experiment TB-613: Alkaloid
date: 2026-03-11
author: MK
substance caffeine: C8H10N4O2
measure caffeine: combustion C 47.29, H 5.46, N 27.58
                               ^^^^^ combustion-outside: With 0.5 H2O the line would fit.
`,
    },
    {
      name: 'near misses: exactly at the limit, an unknown formula',
      right: `experiment TB-612: Ester
date: 2026-03-11
author: MK
measure ethyl benzoate: combustion C 71.58, H 7.11
measure resin 7: combustion C 50.1, H 5.2
`,
    },
  ],
  sources: ['The limit of 0.4 percentage points: usual requirement of chemical journals (from memory)'],
  *check({ values }) {
    const seen = new Set<MeasurementValue['measurement']>();
    for (const { measurement, kind } of values.measurements) {
      if (kind !== 'combustion' || seen.has(measurement)) continue;
      seen.add(measurement);
      const own = values.measurements.filter((m) => m.measurement === measurement && m.kind === 'combustion');
      const outside = own
        .flatMap((m, i) => deviation(m, i) ?? [])
        .filter(({ by, rounding }) => by.abs().minus(rounding).gt(LIMIT))
        .sort((a, b) => b.by.abs().cmp(a.by.abs()));
      const [worst, ...rest] = outside;
      if (!worst) continue;
      const also = rest.map(({ what }) => what).join(', ');
      yield {
        span: worst.span,
        block: measurement.entry.block,
        message: sentences(
          `${worst.what} found ${worst.written} %, calculated ${digits(worst.calculated, -2)} %: outside the usual ${LIMIT} % limit.`,
          waterIn(own),
          also && `So ${rest.length === 1 ? 'is' : 'are'} ${also}.`,
          'Look at the formula, and for solvent or water in the sample.',
        ),
        rests: [worst.span],
      };
    }
  },
});

/** Said only where carbon was found, and all of the line then fits. */
function waterIn(own: readonly MeasurementValue[]): string | undefined {
  const target = own[0]?.measurement.name.target;
  const formula = target?.kind === 'substance' ? formulaOf(target) : undefined;
  const found = new Map(own.flatMap((m) => (m.what ? [[m.what, percent(m.found)] as const] : [])));
  const water = formula && found.has('C') && found.size > 1 && waterThatFits(formula, found, LIMIT);
  return water ? `With ${water} the line would fit.` : undefined;
}

/** By how many percentage points an element is off; half of its last digit is rounding. */
function deviation({ measurement, what, calculated, found }: MeasurementValue, i: number) {
  const datum = measurement.combustion?.[i]?.percent;
  if (!datum || !what || !isHeld(calculated)) return undefined;
  const { number } = datum.quantity;
  return {
    what,
    written: number.text,
    span: datum.span,
    calculated: percent(calculated),
    by: percent(found).minus(percent(calculated)),
    rounding: Decimal.pow(10, number.place).div(2),
  };
}

const percent = ({ value }: Held): Decimal => value.times(100);
