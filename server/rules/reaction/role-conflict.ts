import { carriedKey } from '../../compute/reaction';
import type { ChargeValue } from '../../compute/values';
import { isHeld } from '../../quantity/held';
import { BESIDE } from '../names';
import { type Found, rule } from '../rule';
import { brief, sentences } from '../wording';

export default rule({
  code: 'role-conflict',
  family: 'reaction',
  severity: 'warning',
  fixable: 'never',
  title: 'Two roles cannot both be right',
  why: `A reaction has one limiting reactant; two different ones that are marked contradict each other. What is limiting is used
up, so it is no catalyst and no solvent. And a reactant of the equation that is only charged as catalyst or ligand is left
out of the stoichiometry.`,
  help: 'Take one of the roles away. A reactant that is also the solvent keeps both: `solvent` is right for it.',
  examples: [
    {
      name: 'two limiting reactants',
      wrong: `experiment TB-451: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 0.92 g, limiting
                        ^^^^^^^^ role-conflict: benzoic acid
`,
      right: `experiment TB-451: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 0.92 g
`,
    },
    {
      name: 'limiting and catalyst at once, a reactant that is only a catalyst',
      wrong: `experiment TB-452: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, catalyst, limiting
                                       ^^^^^^^^ role-conflict: catalyst
charge ethanol: 20 mL, catalyst
                       ^^^^^^^^ role-conflict: equation
`,
      right: `experiment TB-452: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 20 mL
`,
    },
    {
      name: 'near misses: two lines of the limiting reactant, a reactant that is the solvent, a second portion as base',
      right: `experiment TB-453: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 1.22 g, limiting
charge benzoic acid: 1.22 g, limiting
charge ethanol: 20 mL, solvent
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values }) {
    const limiting = new Map<unknown, ChargeValue>();
    for (const value of values.charges) {
      const { roles, entry, name } = value.charge;
      const role = roles.find((r) => r.role === 'limiting');
      if (!role) continue;
      const aside = roles.find((r) => r.role === 'catalyst' || r.role === 'ligand' || BESIDE.has(r.role));
      if (aside) {
        yield found(
          role.span,
          entry.block,
          `${brief(name.text)} is marked limiting and ${aside.role}; only one can be right.`,
        );
        continue;
      }
      if (!value.term || !value.reaction) continue;
      const other = limiting.get(value.reaction.reaction);
      if (!other) limiting.set(value.reaction.reaction, value);
      else if (carriedKey(other) !== carriedKey(value)) {
        const message = `${brief(name.text)} is marked limiting, and so is ${brief(other.charge.name.text)}; ${value.reaction.reaction.id} has one limiting reactant.`;
        yield found(role.span, entry.block, message);
      }
    }
    for (const value of values.charges) {
      const { roles, entry, name } = value.charge;
      const role = roles.find((r) => r.role === 'catalyst' || r.role === 'ligand');
      const used = value.reaction?.left.find((t) => t.term === value.term);
      if (!role || !used || roles.some((r) => r.role === 'limiting')) continue;
      if (isHeld(used.charged) || used.unlimited || used.charged.missing !== 'not-charged') continue;
      yield found(
        role.span,
        entry.block,
        `${brief(name.text)} is a reactant of the equation but is charged as ${role.role} only: it is left out of the amounts.`,
      );
    }
  },
});

const found = (span: Found['span'], block: number, message: string): Found => ({
  span,
  block,
  message: sentences(message, 'Take the wrong role away.'),
  rests: [span],
});
