import { equivalentsPerMole } from '../../chem/normality';
import { formulaOf } from '../../compute/substance';
import type { NameRef, Substance } from '../../model/page';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'titration-ratio',
  family: 'evidence',
  severity: 'information',
  fixable: 'never',
  title: 'No equation says in which ratio the two react',
  why: `The ratio of a titration is that of the page's \`reaction\` that names both; without one it is taken as one to one. An
acid with two protons and a base with one react one to two, and the result is then wrong by a factor of two. Nothing is said
where both count the same, where one of them is no plain acid or base, or where a number in parentheses agrees with one to one:
then the writer means it so, as for carbonate titrated to hydrogencarbonate.`,
  help: 'Write the equation, for example `reaction T: Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2`.',
  examples: [
    {
      name: 'carbonate counts twice',
      wrong: `experiment TB-823: Strength of an acid
date: 2026-03-11
author: MK
solution dilute acid: 0.1 M HCl in water
titrate dilute acid: against sodium carbonate
        ^^^^^^^^^^^ titration-ratio: sodium carbonate counts 2
  run 0.1060 g, titre 20.02 mL
`,
    },
    {
      name: 'near misses: the equation stands, both count once, an oxidant',
      right: `experiment TB-824: Strengths
date: 2026-03-11
author: MK
solution dilute acid: 0.1 M HCl in water
reaction T: Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2
titrate dilute acid: against sodium carbonate
  run 0.1060 g, titre 20.02 mL
solution caustic: 0.1 M NaOH in water
titrate caustic: against potassium hydrogen phthalate; run 0.4067 g, titre 20.00 mL
titrate oxalic acid: 20.00 mL with 0.0200 M potassium permanganate, titre 18.20 mL
`,
    },
    {
      name: 'near miss: one to one is meant',
      right: `experiment TB-829: Soda to hydrogencarbonate
date: 2026-03-11
author: MK
titrate soda: 20.00 mL with 0.1000 M HCl, of sodium carbonate, titre 10.10 mL (0.0505 mol/L), to pH 8.3
`,
    },
  ],
  sources: ['Which acids and bases count how often: common practice of volumetric analysis, no single source'],
  *check({ values }) {
    for (const { titration, ratio, analyte, titrant } of values.titrations) {
      if (ratio.reaction || titration.runs.length === 0) continue;
      const known = titrant ?? titration.other.target;
      const other = known?.kind === 'solution' ? values.solutions.find((s) => s.solution === known)?.solute : known;
      const counts = [countOf(analyte?.substance), countOf(other?.kind === 'substance' ? other : undefined)];
      const [own, theirs] = counts;
      if (own === undefined || theirs === undefined || own === theirs) continue;
      const claims = values.claims.filter((c) => c.owner === titration.entry && c.verdict !== undefined);
      if (claims.some((c) => c.property === 'concentration' && c.verdict !== 'no')) continue;
      yield {
        span: titration.name.span,
        block: titration.entry.block,
        message: sentences(
          `One to one is assumed, but ${nameOf(other, titration.other)} counts ${theirs} and ${nameOf(analyte?.substance, titration.name)} ${own}.`,
          'Write the reaction, so that the ratio is known.',
        ),
      };
    }
  },
});

const countOf = (substance: Substance | undefined): number | undefined => {
  const formula = substance && formulaOf(substance);
  return formula && equivalentsPerMole(formula);
};

const nameOf = (substance: Substance | undefined, name: NameRef): string => substance?.name ?? name.text;
