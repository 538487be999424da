import { type GasValue, gasFromCharges } from '../../compute/neutralise';
import { show } from '../../quantity/show';
import { steps } from '../../quantity/steps';
import { type RuleContext, rule } from '../rule';
import { WHO_DECIDES } from '../streams';
import { either, sentences } from '../wording';

/** mL: from here on a closed vessel is a matter of bursting. */
const LOUD = 1000;
/** mL: less fills no funnel. */
const LEAST = 50;
const LEAST_TOXIC = 1;

export default rule({
  code: 'gas-evolution',
  family: 'ledger',
  severity: 'information',
  fixable: 'never',
  title: 'Gas comes off, and the page does not say where to',
  why: 'Carbonates and hydrogencarbonates meet acid, hydrides and metals meet water, alcohol or acid, azides, cyanides, sulfides, sulfites and nitrites meet acid. The amount follows from what was charged and is not used up by the equation, or from what a `neutralise` line needs; litres are those of an ideal gas at 20 °C and 101.325 kPa. A page that speaks of gas, venting, a bubbler or the hood knows of it and gets no finding.',
  help: 'Open vessel or vent, room above the liquid, small portions, hood; toxic gases into a scrubber as the site prescribes. Then write on the page how it was done.',
  examples: [
    {
      name: 'hydrogencarbonate on an acid',
      wrong: `experiment TB-514: Quench
date: 2026-04-08
author: MK

charge conc. sulfuric acid: 5.0 mL
neutralise conc. sulfuric acid: with sodium hydrogencarbonate, to pH 7
           ^^^^^^^^^^^^^^^^^^^ gas-evolution: 4.3
`,
      right: `experiment TB-514: Quench
date: 2026-04-08
author: MK

charge conc. sulfuric acid: 5.0 mL
14:00 Solid in portions, wide beaker, carbon dioxide vented into the hood.
neutralise conc. sulfuric acid: with sodium hydrogencarbonate, to pH 7
`,
    },
    {
      name: 'spare borohydride meets the quench',
      wrong: `experiment TB-515: Reduction
date: 2026-04-08
author: MK

reaction R1: 4 acetophenone + NaBH4 + 4 H2O -> 4 1-phenylethanol + NaB(OH)4
charge acetophenone: 1.20 g, limiting
charge NaBH4: 0.38 g
charge water: 20 mL, quench
       ^^^^^ gas-evolution: hydrogen
`,
    },
    {
      name: 'near miss: a carbonate without an acid, an acid that the reaction uses up, a drying agent',
      right: `experiment TB-516: Alkylation
date: 2026-04-08
author: MK

reaction R1: phenol + methyl iodide -> anisole + hydrogen iodide
charge phenol: 0.94 g, limiting
charge methyl iodide: 1.70 g
charge potassium carbonate: 2.80 g, base
charge acetone: 20 mL, solvent
charge magnesium: 0.1 g
charge sodium carbonate: 1 g, drying agent
`,
    },
  ],
  sources: ['ideal gas law, R of CODATA 2022', 'equations of general inorganic chemistry'],
  *check(context) {
    const { values } = context;
    const neutralised = values.neutralisations.flatMap(({ gas, neutralisation, certain }) =>
      gas ? [{ gas, span: neutralisation.what.span, certain }] : [],
    );
    const charged = gasFromCharges(values.charges)
      .filter(({ gas }) => !neutralised.some((n) => n.gas.gas === gas))
      .map((gas) => {
        const last = values.charges.find(({ charge }) => charge.entry.block === gas.block);
        return { gas, span: last?.charge.name.span ?? gas.source.span, certain: true };
      });
    const all = [...neutralised, ...charged].filter(({ gas }) => worthSaying(gas));
    if (all.length === 0 || speaksOfGas(context)) return;
    for (const { gas, span, certain } of all) {
      const litres = show(gas.volume, { unit: 'L' });
      yield {
        span,
        block: gas.block,
        severity: gas.volume.value.gte(LOUD) ? 'warning' : 'information',
        message: sentences(
          `${certain ? 'About' : 'Up to'} ${litres} of ${gas.gas}${gas.toxic ? ' (toxic)' : ''} at 20 °C from ${gas.source.text} and ${either([...new Set(gas.by.map(({ text }) => text))])}.`,
          'Vent it, small portions, and say on the page where it goes.',
          WHO_DECIDES,
        ),
        working: steps(gas.volume),
      };
    }
  },
});

const worthSaying = ({ volume, toxic }: GasValue): boolean => volume.value.gte(toxic ? LEAST_TOXIC : LEAST);

const SPEAKS =
  /\b(?:vent(?:ed|ing|s)?|hood|fume ?cupboard|bubbl\w*|gas(?:es)?|off-?gas|hydrogen|carbon dioxide|CO2|CO₂|effervesc\w*|fizz\w*|foam\w*|froth\w*|scrubb\w*|outlet|open (?:flask|vessel|beaker)|balloon|evolution)\b/i;

/** Prose, the log, notes, and remarks on the line where they meet. */
function speaksOfGas({ source }: RuleContext): boolean {
  return source.blocks.some(({ block }) => {
    const { statement } = block;
    if (statement && !SPOKEN.has(statement.keyword)) return false;
    const text = statement?.body.kind === 'facts' ? block.text.slice(statement.colon) : block.text;
    return SPEAKS.test(text);
  });
}

const SPOKEN: ReadonlySet<string> = new Set(['note', 'aim', 'neutralise']);
