import { KEYWORDS } from '../../../grammar/vocabulary';
import { rule } from '../rule';
import { shift, statementsOf } from '../walk';
import { sentences } from '../wording';

export default rule({
  code: 'statement-incomplete',
  family: 'reading',
  severity: 'hint',
  fixable: 'sometimes',
  title: 'The statement is not finished',
  why: `A statement has a keyword, a subject, a colon and facts. Without the facts it says nothing that can be computed; an
open bracket hides where the claims end.`,
  help: 'Finish the line when the number is known, or delete it.',
  examples: [
    {
      name: 'nothing after the colon',
      wrong: `experiment TB-301: Half a page
date: 2026-03-11
author: MK
charge acetic acid:
                  ^ statement-incomplete
`,
    },
    {
      name: 'nothing before the colon',
      wrong: `experiment TB-302: Half a page
date: 2026-03-11
author: MK
charge: 20.0 mL
      ^ statement-incomplete: what was charged
`,
    },
    {
      name: 'a bracket that is not closed',
      wrong: `experiment TB-303: Half a page
date: 2026-03-11
author: MK
charge ethanol: 20.0 mL (15.8 g, solvent
                        ^ statement-incomplete
`,
      fixed: `experiment TB-303: Half a page
date: 2026-03-11
author: MK
charge ethanol: 20.0 mL (15.8 g, solvent)
`,
      right: `experiment TB-303: Half a page
date: 2026-03-11
author: MK
charge ethanol: 20.0 mL (15.8 g), solvent
`,
    },
    {
      name: 'near misses: heads left empty, notes without a subject, a vessel that is only named',
      right: `experiment TB-304: Template
date: 2026-03-11
author: MK
aim:
reference:
vessel F-12:
plan: 5 g for the screen
waste: all to the still residue
signed:
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source }) {
    for (const { statement, block, at } of statementsOf(source)) {
      const { keyword, subject, body, colon } = statement;
      const atColon = { start: at + colon, end: at + colon + 1 };
      const facts = body.kind === 'facts' ? body.legs.flatMap((leg) => leg.facts) : [];
      const empty = body.kind === 'text' ? body.text.text === '' : body.legs.length === 0;
      if (empty && NEEDS_FACTS.has(keyword)) {
        yield { span: atColon, block, message: `Nothing follows the colon: ${NEEDS_FACTS.get(keyword)}.` };
      } else if (!subject && !empty && KEYWORDS[keyword].subject === 'required' && keyword !== 'experiment') {
        yield {
          span: atColon,
          block,
          message: sentences(`Nothing stands before the colon: ${SUBJECTS[keyword] ?? 'the subject is missing'}.`),
        };
      }
      for (const group of facts.flatMap((fact) => fact.claims)) {
        if (group.closed) continue;
        const span = shift(group.span, at);
        yield {
          span: { start: span.start, end: span.start + 1 },
          block,
          message: 'This bracket is not closed on its line.',
          fixes: [{ title: 'Close the bracket', edits: [{ span: { start: span.end, end: span.end }, text: ')' }] }],
        };
      }
    }
  },
});

/** Statements that say nothing without facts, and what is missing. The others may stand as a place to fill in. */
const NEEDS_FACTS: ReadonlyMap<string, string> = new Map([
  ['charge', 'how much went in'],
  ['weigh', 'the reading'],
  ['product', 'how much came out'],
  ['recovered', 'how much was got back'],
  ['substance', 'a formula or what else is known of it'],
  ['solution', 'how strong it is'],
  ['balance', 'its readability'],
  ['reaction', 'the equation'],
  ['titrate', 'the runs'],
  ['sample', 'how much was taken'],
  ['accept', 'the reason'],
]);

const SUBJECTS: Readonly<Record<string, string>> = {
  charge: 'what was charged',
  weigh: 'what was weighed',
  recovered: 'what was recovered',
  substance: 'the name of the substance',
  solution: 'the name of the solution',
  vessel: 'the name of the vessel',
  balance: 'the name of the balance',
  accept: 'which rule',
};
