import { type Amendment, amended } from '../../model/amend';
import { nearest } from '../nearest';
import { type Fix, type RuleContext, rule } from '../rule';
import { replaceFix, sentences, stop } from '../wording';

export default rule({
  code: 'amendment-unresolved',
  family: 'page',
  severity: 'error',
  fixable: 'sometimes',
  title: 'An amendment that amends nothing',
  why: `\`amend STATEMENT: OLD -> NEW, reason, WHO, WHEN\` puts NEW in the place of OLD wherever the page is computed. It has to
say which statement, by its keyword and name, and what in it: OLD as it stands there, once. An amendment that finds no such
place changes nothing, although it reads as if it did. Amendments are carried out in the order of the text, so a second one
amends what the first one left.`,
  help: `Copy OLD from the statement, with its unit, and as much round it as makes it stand there once. A log entry is named by
its time (\`amend 09:55: …\`). A NEW with commas of its own stands in double quotes.`,
  examples: [
    {
      name: 'a slip in the name, a number that is not there',
      wrong: `experiment TB-261: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
signed: MK, 2026-03-11 17:20
amend product benzioc acid: 43.423 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
      ^^^^^^^^^^^^^^^^^^^^ amendment-unresolved: product benzoic acid
amend product benzoic acid: 43.42 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
                            ^^^^^^^ amendment-unresolved: 43.42 g
`,
      fixed: `experiment TB-261: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
signed: MK, 2026-03-11 17:20
amend product benzoic acid: 43.423 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
amend product benzoic acid: 43.42 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
`,
      right: `experiment TB-261: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
signed: MK, 2026-03-11 17:20
amend product benzoic acid: 43.423 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
`,
    },
    {
      name: 'twice in the statement',
      wrong: `experiment TB-262: Mixing
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
charge sodium chloride: 2.000 g
signed: MK, 2026-03-11 17:20
amend charge sodium chloride: 2.000 g -> 2.001 g, misread the display, MK, 2026-03-12 09:10
                              ^^^^^^^ amendment-unresolved: 2 times
`,
    },
    {
      name: 'no arrow yet',
      wrong: `experiment TB-263: Mixing
date: 2026-03-11
author: MK
weigh sodium chloride: net 2.000 g
signed: MK, 2026-03-11 17:20
amend weigh sodium chloride: 2.010 g
      ^^^^^^^^^^^^^^^^^^^^^ amendment-unresolved: OLD -> NEW
`,
      fixed: `experiment TB-263: Mixing
date: 2026-03-11
author: MK
weigh sodium chloride: net 2.000 g
signed: MK, 2026-03-11 17:20
amend weigh sodium chloride: 2.010 g -> new, reason, who, date
`,
    },
    {
      name: 'near misses: an amended amendment, an equation with its own arrow, a log entry, part of a longer number',
      right: `experiment TB-264: Esters
date: 2026-03-11
author: MK
substance cinnamic acid: C9H8O2
substance methanol: CH4O
substance methyl cinnamate: C10H10O2
reaction R1: cinnamic acid + methanol -> methyl cinnamate
charge cinnamic acid: 7.41 g, limiting
charge methanol: 17.41 g, excess
09:40 Reflux started.
signed: MK, 2026-03-11 17:20
amend reaction R1: cinnamic acid + methanol -> methyl cinnamate -> cinnamic acid + methanol -> methyl cinnamate + water, water forgotten, MK, 2026-03-12 09:00
amend charge cinnamic acid: 7.41 g -> 7.14 g, digits swapped, MK, 2026-03-12 09:10
amend charge cinnamic acid: 7.14 g -> 7.140 g, printout found, MK, 2026-03-12 09:20
amend charge methanol: 17.41 g -> 17.45 g, misread the display, MK, 2026-03-12 09:30
amend 09:40: Reflux -> Gentle reflux, too strong a word, MK, 2026-03-12 09:40
`,
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    for (const amendment of context.page.amendments) {
      const { problem, entry, statement, old } = amendment;
      if (!problem) continue;
      const name = statement.text;
      const lost = old?.text ?? '';
      switch (problem.kind) {
        case 'no-arrow':
          yield {
            span: entry.mark,
            block: entry.block,
            message: `The amendment of ${name} has no OLD -> NEW: write what stands there, an arrow and what it should have been.`,
            fixes: [arrow(context, amendment)],
          };
          break;
        case 'no-statement': {
          const meant = nearest(name, problem.known);
          yield {
            span: entry.mark,
            block: entry.block,
            message: sentences(
              `No statement of this page is called ${name}.`,
              meant ? `Did you mean ${meant}?` : 'Name it by its keyword and subject: charge acetic acid.',
            ),
            fixes: meant ? [replaceFix(entry.mark, name, meant)] : [],
          };
          break;
        }
        case 'not-found': {
          const meant = lost && nearestIn(lost, context, name);
          yield {
            span: old!.span,
            block: entry.block,
            message: sentences(
              `${lost} does not stand in ${name}${amendedBefore(context, amendment) ? ' any more' : ''}.`,
              meant ? `Did you mean ${meant}?` : 'Copy it from the statement as it is written there.',
            ),
            fixes: meant ? [replaceFix(old!.span, lost, meant)] : [],
          };
          break;
        }
        case 'several':
          yield {
            span: old!.span,
            block: entry.block,
            message: `${lost} stands ${problem.count} times in ${name}. Write more of what stands round it, so that one place is meant.`,
          };
          break;
        case 'unreadable':
          yield {
            span: amendment.now?.span ?? entry.mark,
            block: entry.block,
            message: `With ${amendment.now?.text ?? 'the new text'} in its place, ${name} would be no such statement any more.`,
          };
      }
    }
  },
});

const arrow = ({ text }: RuleContext, { entry }: Amendment): Fix => {
  const { end } = entry.span;
  const old = text(entry.span).endsWith(':') ? ` ${stop(5, 'old')}` : '';
  return {
    title: 'Add what is missing: the arrow, NEW, reason, name and date',
    edits: [
      {
        span: { start: end, end },
        text: `${old} -> ${stop(1, 'new')}, ${stop(2, 'reason')}, ${stop(3, 'who')}, ${stop(4, 'date')}`,
      },
    ],
    snippet: true,
  };
};

const amendedBefore = ({ page }: RuleContext, amendment: Amendment): boolean =>
  page.amendments.some(
    (other) =>
      other.target && other.entry.block < amendment.entry.block && other.statement.text === amendment.statement.text,
  );

/** A quantity of the statement, as it stands now, that is one slip away. */
function nearestIn(old: string, { source }: RuleContext, name: string): string | undefined {
  const { blocks } = amended(source);
  const words = name.split(/\s+/);
  const texts = blocks
    .filter(
      ({ block: { statement } }) =>
        statement?.keyword === words[0] && statement?.subject?.text === words.slice(1).join(' '),
    )
    .flatMap(({ block }) => [...block.text.matchAll(/\d[\d.]*(?:\s?[^\s\d,;()]+)?/g)].map(([text]) => text.trim()));
  return nearest(
    old,
    texts.filter((text) => texts.indexOf(text) === texts.lastIndexOf(text)),
  );
}
