import { foldName } from '../../../grammar/names';
import type { Page } from '../../model/page';
import { placesOf, unresolvedNames } from '../names';
import { nearest } from '../nearest';
import { type Fix, type RuleContext, rule } from '../rule';
import { inSnippet, lineAbove, lineBelow, sentences } from '../wording';

export default rule({
  code: 'substance-unknown',
  family: 'substance',
  severity: 'information',
  fixable: 'always',
  title: 'Nobody says what this substance is',
  why: `The name is not declared on the page, in the file's head, in a register or in the handbook, so it has no formula, and no
amount can be worked out. Said once for each name, where it is first used; a warning if an equation of the page needs its
amount. Solvents, quench, washes, drying agents and things that are only counted are not asked for, nor are catalysts and
additives without a number in parentheses.`,
  help: 'Declare it with its formula, or correct the name. A mixture is declared with `state mixture` and needs no formula.',
  examples: [
    {
      name: 'a letter too many',
      wrong: `experiment TB-701: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O
reaction R1: alcohol 7 + acetic acid -> C11H14O2 + water
charge alcohol 7: 1.36 g, limiting
charge acetic acidd: 20 mL
       ^^^^^^^^^^^^ substance-unknown: Did you mean acetic acid?
`,
      right: `experiment TB-701: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O
reaction R1: alcohol 7 + acetic acid -> C11H14O2 + water
charge alcohol 7: 1.36 g, limiting
charge acetic acid: 20 mL
`,
    },
    {
      name: 'an equation needs it',
      wrong: `experiment TB-702: Ester
date: 2026-03-11
author: MK
reaction R1: alcohol 7 + acetic acid -> ester 8 + water
             ^^^^^^^^^ substance-unknown: alcohol 7
                                        ^^^^^^^ substance-unknown: ester 8
charge alcohol 7: 1.36 g, limiting
charge acetic acid: 20 mL
`,
      fixed: `experiment TB-702: Ester
date: 2026-03-11
author: MK
substance alcohol 7: formula
reaction R1: alcohol 7 + acetic acid -> ester 8 + water
charge alcohol 7: 1.36 g, limiting
charge acetic acid: 20 mL
`,
      right: `experiment TB-702: Ester
date: 2026-03-11
author: MK
substance alcohol 7: C9H12O
substance ester 8: C11H14O2
reaction R1: alcohol 7 + acetic acid -> ester 8 + water
charge alcohol 7: 1.36 g, limiting
charge acetic acid: 20 mL
`,
    },
    {
      name: 'near misses: solvents and washes, counted things, the handbook, a mixture, names that differ by a number',
      right: `experiment TB-703: Ester
date: 2026-03-11
author: MK
substance resin 4: state mixture
charge resin 4: 2.0 g, additive
charge brine from the tap: 25 mL, wash
charge boiling chips: 3
charge our old naphtha: 50 mL, solvent
charge EtOAc: 20 mL
charge lipase: 50 mg, catalyst
`,
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    const { page } = context;
    for (const { first, uses, needed } of unresolvedNames(page, (ref) => !ref.several)) {
      const { text, span } = first.ref;
      const near = similar(text, page);
      yield {
        span,
        block: first.block,
        ...(needed && { severity: 'warning' as const }),
        message: sentences(
          `Nothing says what ${text} is, so no amount of it can be worked out.`,
          near ? `Did you mean ${near}?` : 'Declare it with its formula.',
        ),
        // What the name may stand for is no longer to be missed elsewhere.
        doubts: [...uses.map((u) => u.ref.span), ...(near ? placesOf(page, near) : [])],
        fixes: [...(near ? [renamed(page, text, near)] : []), declared(context, first.block, text)],
      };
    }
  },
});

const digitsOf = (text: string): string => text.replace(/\D+/g, ' ').trim();

/** A name that is known here and one slip away; `aldol 12` is no slip of `aldol 13`. */
function similar(text: string, page: Page): string | undefined {
  const known = new Map<string, string>();
  for (const { name, key } of [...page.substances, ...page.solutions]) known.set(key, name);
  for (const owner of [...page.charges, ...page.products])
    if (owner.name.target) known.set(foldName(owner.name.text), owner.name.text);
  for (const reaction of page.reactions)
    for (const { name } of [...reaction.left, ...reaction.right])
      if (name.target) known.set(foldName(name.text), name.text);
  const same = [...known.keys()].filter((key) => digitsOf(key) === digitsOf(text));
  return known.get(nearest(foldName(text), same) ?? '');
}

const renamed = (page: Page, text: string, near: string): Fix => ({
  title: `Replace ${text} with ${near}`,
  edits: placesOf(page, text).map((span) => ({ span, text: near })),
});

/** Among the other declarations, else above the first use. */
function declared({ page, source }: RuleContext, block: number, text: string): Fix {
  const line = `substance ${inSnippet(text)}: \${1:formula}`;
  const last = page.substances.findLast((s) => s.where.kind === 'page' && s.entry && s.entry.block < block)?.entry;
  return {
    title: `Declare ${text}`,
    edits: last ? lineBelow(source, last, line) : lineAbove(source, block, line),
    snippet: true,
  };
}
