import type { TakenValue } from '../../compute/values';
import type { Entry } from '../../model/page';
import { isHeld } from '../../quantity/held';
import { addFact } from '../insert';
import { isBeside } from '../names';
import { type Fix, type RuleContext, rule } from '../rule';
import { inSnippet, lineAbove, sentences } from '../wording';

export default rule({
  code: 'density-missing',
  family: 'substance',
  severity: 'information',
  fixable: 'always',
  title: 'An amount needs a density that nobody wrote',
  why: `A volume becomes a mass, and that an amount, only with a density. Said once for each substance, and only where something
depends on it: a reactant, a product, or a number in parentheses. Solvents, quenches and washes are not asked for.`,
  help: 'Write the density of the bottle, with its temperature if it is given. It is a measured number: the tool invents none.',
  examples: [
    {
      name: 'a reactant by volume',
      wrong: `experiment TB-761: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O
reaction R1: alcohol 7 + acetic acid -> C11H14O2 + water
charge alcohol 7: 1.36 mL, limiting
       ^^^^^^^^^ density-missing: alcohol 7
charge acetic acid: 20 mL
`,
      fixed: `experiment TB-761: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O, density  g/mL
reaction R1: alcohol 7 + acetic acid -> C11H14O2 + water
charge alcohol 7: 1.36 mL, limiting
charge acetic acid: 20 mL
`,
      right: `experiment TB-761: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O, density 0.99 g/mL
reaction R1: alcohol 7 + acetic acid -> C11H14O2 + water
charge alcohol 7: 1.36 mL, limiting
charge acetic acid: 20 mL
`,
    },
    {
      name: 'near misses: a solvent, nothing that depends on it, a mass',
      right: `experiment TB-762: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O
charge alcohol 7: 5 mL, solvent
charge alcohol 7: 5 mL, additive
charge alcohol 7: 1.36 g (10.0 mmol), additive
`,
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    const { values, page } = context;
    const said = new Set<string>();
    const charges = values.charges.map((c) => ({
      value: c,
      owner: c.charge,
      needed: c.term !== undefined && !isBeside(c.charge),
    }));
    const products = values.products.map((p) => ({ value: p, owner: p.product, needed: p.reaction !== undefined }));
    const recovered = values.recovered.map((r) => ({ value: r, owner: r.recovered, needed: true }));
    for (const { value, owner, needed } of [...charges, ...products, ...recovered]) {
      if (isHeld(value.amount) || value.amount.missing !== 'density-missing' || said.has(value.amount.what)) continue;
      if (!needed && owner.claims.length === 0) continue;
      said.add(value.amount.what);
      const { entry, name } = owner;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(
          `${name.text} was measured by volume, and nothing gives ${value.amount.what}: no mass, no amount.`,
        ),
        rests: [name.span],
        fixes: [slot(context, page, value, entry, name.text)],
      };
    }
  },
});

/** On the line that declares the substance; one that stands elsewhere is declared here. */
function slot({ source }: RuleContext, page: RuleContext['page'], value: TakenValue, entry: Entry, name: string): Fix {
  const declared = page.substances.find((s) => s === value.material)?.entry;
  const title = `Add the density of ${name}`;
  // biome-ignore lint/suspicious/noTemplateCurlyInString: a snippet stop
  const fact = 'density ${1} g/mL';
  if (declared) return { title, edits: [addFact(source, declared, fact)], snippet: true };
  const formula = value.substance?.substance.formula?.text;
  const line = `substance ${inSnippet(name)}: ${formula ? `${inSnippet(formula)}, ` : ''}${fact}`;
  return { title, edits: lineAbove(source, entry.block, line), snippet: true };
}
