import type { ClaimValue, Values, WeighingValue } from '../../compute/values';
import { type Held, isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { filledIn, shown, steps } from '../../quantity/steps';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'net-mismatch',
  family: 'weighing',
  severity: 'error',
  fixable: 'always',
  title: 'The net mass is not the difference of the readings',
  why: `The net is plain subtraction of two readings as they were written, so there is no tolerance: the uncertainty of the
balance does not make a wrong difference right. A net written with fewer digits agrees if it is the difference, rounded.`,
  help: `Compare the readings with the printout. If they are right, let the fix put in the difference. If a reading was copied
wrongly, correct the reading; the tool never changes one.`,
  examples: [
    {
      name: 'two digits swapped',
      wrong: `experiment TB-061: Ester
date: 2026-03-11
author: MK
vessel F-12: 50 mL, tare 41.207 g
product isopentyl acetate: gross 54.881 g, in F-12 (net 13.764 g)
                                                        ^^^^^^^^ net-mismatch: gross 54.881 g − tare 41.207 g is 13.674 g
`,
      right: `experiment TB-061: Ester
date: 2026-03-11
author: MK
vessel F-12: 50 mL, tare 41.207 g
product isopentyl acetate: gross 54.881 g, in F-12 (net 13.674 g)
`,
    },
    {
      name: 'the gross used as net',
      wrong: `experiment TB-062: Copper sulfate
date: 2026-03-11
author: MK
weigh copper(II) sulfate pentahydrate: tare 53.200 g, gross 58.200 g (net 58.200 g)
                                                                          ^^^^^^^^ net-mismatch: 5.000 g
`,
      right: `experiment TB-062: Copper sulfate
date: 2026-03-11
author: MK
weigh copper(II) sulfate pentahydrate: tare 53.200 g, gross 58.200 g (net 5.000 g)
`,
    },
    {
      name: 'near misses: rounded, in milligrams, by difference with a residue',
      right: `experiment TB-063: Right nets
date: 2026-03-11
author: MK
weigh sodium chloride: tare 12.3456 g, gross 12.5000 g (net 0.154 g)
weigh potassium chloride: tare 12.3456 g, gross 12.5000 g (net 154.4 mg)
weigh potassium bromide: before 2.1375 g, after 0.0125 g, residue 0.0025 g (net 2.1225 g)
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, text }) {
    for (const claimed of values.claims) {
      const { claim, value, verdict, owner, slip } = claimed;
      const unit = claim.quantity.unit;
      if (claimed.property !== 'net' || !isHeld(value) || value.value.isNegative() || !unit?.symbol) continue;
      if (verdict !== 'no' && verdict !== 'nearly') continue;
      const right = show(value, { unit: unit.symbol });
      const written = text(claim.span);
      const weighing = weighingOf(values, claimed);
      yield {
        span: claim.span,
        block: owner.block,
        message: sentences(
          `The net is written ${written}; ${difference(weighing, value)} is ${right}.`,
          slip && `With ${slip.says}, ${written} comes out.`,
          'Correct the net, or the reading if it was copied wrongly.',
        ),
        ...(slip && { slip: slip.slip }),
        working: [...steps(value), ...(slip?.working ? [slip.working] : [])],
        related: [weighing?.gross, weighing?.tare].flatMap((r) =>
          r ? [{ origin: r.reading.datum.origin, message: `${r.reading.what} ${shown(r.held)}` }] : [],
        ),
        doubts: [claim.span],
        fixes: [replaceFix(claim.span, written, right, { preferred: true })],
      };
    }
  },
});

const weighingOf = (values: Values, { value, owner }: ClaimValue): WeighingValue | undefined =>
  values.weighings.find((w) => w.net === value) ?? values.weighings.find((w) => w.entry === owner);

/** `gross 54.881 g − tare 41.207 g` */
function difference(weighing: WeighingValue | undefined, net: Held): string {
  if (weighing?.how === 'difference' && weighing.gross && weighing.tare) {
    return `gross ${shown(weighing.gross.held)} − tare ${shown(weighing.tare.held)}`;
  }
  if (weighing?.how === 'dispensed' && weighing.before && weighing.after) {
    const residue = weighing.residue ? ` − residue ${shown(weighing.residue)}` : '';
    return `before ${shown(weighing.before)} − after ${shown(weighing.after)}${residue}`;
  }
  return filledIn(net) ?? 'the reading';
}
