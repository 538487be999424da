import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { steps } from '../../quantity/steps';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'neutralisation-short',
  family: 'ledger',
  severity: 'information',
  fixable: 'never',
  title: 'What was added does not neutralise what was there',
  why: 'Acid and base on a page are counted in protons: pKa values say how many a substance gives up to the pH that the line names, carbonates take two and hydrogencarbonates one. What the reaction uses up is taken off. Said only where the line names the substance that was neutralised and how much was added.',
  help: 'Measure the pH. Add more in small portions, with stirring and room above: gas and heat come with it. Or correct the amount on the page.',
  examples: [
    {
      name: 'half of the hydrogencarbonate',
      wrong: `experiment TB-511: Quench
date: 2026-04-07
author: MK

charge conc. sulfuric acid: 5.0 mL
12:00 Poured on ice, gas vented into the hood.
neutralise conc. sulfuric acid: with 7.5 g sodium hydrogencarbonate, to pH 7
                                     ^^^^^ neutralisation-short: 15
`,
      right: `experiment TB-511: Quench
date: 2026-04-07
author: MK

charge conc. sulfuric acid: 5.0 mL
12:00 Poured on ice, gas vented into the hood.
neutralise conc. sulfuric acid: with 15.5 g sodium hydrogencarbonate, to pH 7
`,
    },
    {
      name: 'near miss: phosphoric acid to pH 5 gives one proton, and washes have no amount',
      right: `experiment TB-512: Quench
date: 2026-04-07
author: MK

solution acid bath: 1.00 mol/L phosphoric acid in water
charge acid bath: 100 mL
neutralise acid bath: with 101 mL 1.00 M sodium hydroxide, to pH 5
neutralise washes: with 1.0 g sodium carbonate, to pH 7, gas until the end
`,
    },
  ],
  sources: ['pKa values of the handbook; stoichiometry'],
  *check({ values }) {
    for (const {
      neutralisation: n,
      short,
      there,
      addedProtons,
      reagent,
      needed,
      neededMass,
      neededVolume,
    } of values.neutralisations) {
      if (!short || !n.quantity || !isHeld(there) || !isHeld(addedProtons) || !isHeld(needed)) continue;
      const kind = reagent?.kind === 'acid' ? 'base' : 'acid';
      const needs = isHeld(neededVolume) && n.quantity.quantity.unit?.kind === 'volume' ? neededVolume : neededMass;
      yield {
        span: n.quantity.span,
        block: n.entry.block,
        message: sentences(
          `${show(there)} of ${kind} protons are there, ${show(addedProtons)} taken up: ${show(short)} left.`.replace(
            'base protons',
            'base',
          ),
          `It takes ${show(isHeld(needs) ? needs : needed)} of ${n.with?.text ?? 'it'}.`,
          'Measure the pH; gas and heat come with the rest.',
        ),
        working: [...steps(there), ...steps(addedProtons)],
      };
    }
  },
});
