import { agrees, isDigest, shortDigest } from '../../model/digest';
import { digestFor } from '../../model/signature';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'changed-after-signing',
  family: 'page',
  severity: 'error',
  fixable: 'never',
  title: 'The page was changed after it was signed',
  why: `The digest on a \`signed\` or \`witnessed\` line is a SHA-256 over the text of the page from \`experiment\` to that line, the
digest itself left out. If it does not fit, somebody changed the text after the signature. Line ends, blanks at the end of a
line and empty lines at the end of the file do not count. The digest shows that a text was changed; who did it, it does not
show: anybody can work out another one. What is written below the signature, amendments first of all, is outside of it.`,
  help: `Take the change back, with undo or from the last copy or version of the file. If the change is right, take it back
all the same and write it below the signature: \`amend charge acetic acid: 20.0 mL -> 21.0 mL, misread the scale, MK,
2026-03-05 09:10\`. A page that was still being written when it was signed is signed again, with a new digest.`,
  examples: [
    {
      name: 'a reading changed above the signature',
      wrong: `experiment TB-251: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.425 g
signed: MK, 2026-03-11 17:20, digest 0000000000000000
                                     ^^^^^^^^^^^^^^^^ changed-after-signing: restore the last version
`,
    },
    {
      name: 'a digest that is none',
      wrong: `experiment TB-252: Drying
date: 2026-03-11
author: MK
signed: MK, 2026-03-11 17:20, digest soon
                                     ^^^^ changed-after-signing: hexadecimal
`,
    },
    {
      name: 'near misses: an amendment below the signature, a witness with a digest, a signature without one',
      right: `experiment TB-253: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
signed: MK, 2026-03-11 17:20, digest c9fd731bf2414796
witnessed: JL, 2026-03-11 17:40, digest adf8ca6f62fb1259
amend product benzoic acid: 43.423 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
experiment TB-254: Drying
date: 2026-03-11
author: MK
signed: MK, 2026-03-11 17:20
`,
    },
  ],
  sources: ['FIPS 180-4, Secure Hash Standard (SHA-256)'],
  *check({ page, source }) {
    for (const signature of page.signatures) {
      const { entry, digest, digestFact, by, when, kind } = signature;
      if (!digestFact) continue;
      if (!digest || !isDigest(digest.text)) {
        yield {
          span: digest?.span ?? entry.mark,
          block: entry.block,
          message: sentences(
            `${digest ? `${digest.text} is no digest` : 'The digest is missing'}: 8 to 64 hexadecimal digits are.`,
            'Restore the line, or sign the page again.',
          ),
        };
        continue;
      }
      const now = digestFor(source, signature);
      if (agrees(digest.text, now)) continue;
      const who = [by?.text, when?.text].filter(Boolean).join(', ');
      yield {
        span: digest.span,
        block: entry.block,
        message: sentences(
          `The page was changed after it was ${kind}${who ? ` by ${who}` : ''}: its digest is ${shortDigest(now)} now.`,
          'Take the change back (undo, or restore the last version) and write it below as an amend line.',
        ),
      };
    }
  },
});
