import { casCheck } from '../../chem/cas';
import { findInHandbook } from '../../model/handbook';
import { isWritten } from '../declared';
import { edits } from '../nearest';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'cas-check-digit',
  family: 'substance',
  severity: 'error',
  fixable: 'sometimes',
  title: 'The CAS number has a wrong check digit',
  why: `The last digit of a CAS Registry Number is a checksum of the others. If it does not fit, a digit was typed wrongly, and
the number may be that of another substance or of none.`,
  help: 'Compare with the label. Where the handbook knows the substance, the fix takes its number; else the check digit that fits.',
  examples: [
    {
      name: 'the check digit',
      wrong: `experiment TB-751: Ester
date: 2026-03-11
author: MK
substance salt 4: NaCl, CAS 7647-14-4
                            ^^^^^^^^^ cas-check-digit: 7647-14-5
`,
      right: `experiment TB-751: Ester
date: 2026-03-11
author: MK
substance salt 4: NaCl, CAS 7647-14-5
`,
    },
    {
      name: 'two digits swapped, known from the handbook',
      wrong: `experiment TB-752: Ester
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, CAS 64-91-7
                                   ^^^^^^^ cas-check-digit: 64-19-7
`,
      right: `experiment TB-752: Ester
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, CAS 64-19-7
`,
    },
    {
      name: 'near miss: another hyphen',
      right: `experiment TB-753: Ester
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, CAS 64‑19‑7
`,
    },
  ],
  sources: ['CAS, Check Digit Verification of CAS Registry Numbers (from memory)'],
  *check({ page }) {
    for (const { entry, cas, name } of page.substances) {
      if (!entry || !cas || !isWritten(cas)) continue;
      const verdict = casCheck(cas.text);
      if (verdict === 'ok') continue;
      const known = inHandbook(name, cas.text);
      const meant = known ?? (verdict === 'malformed' ? undefined : verdict.expected);
      yield {
        span: cas.span,
        block: entry.block,
        message:
          verdict === 'malformed'
            ? sentences(
                `${cas.text} is not a CAS number: it has two to seven, two and one digit, as in 64-19-7.`,
                known && `${name} is ${known}.`,
              )
            : sentences(
                `The check digit of ${cas.text} does not fit${known ? '' : `; with the other digits it would be ${verdict.expected}`}.`,
                known && `${name} is ${known}.`,
                'Compare with the label.',
              ),
        fixes: meant ? [replaceFix(cas.span, cas.text, meant)] : [],
      };
    }
  },
});

/** The number of the substance, if what was typed is close to it. */
function inHandbook(name: string, typed: string): string | undefined {
  const found = findInHandbook(name);
  const cas = found?.kind === 'one' && found.entry.kind === 'substance' ? found.entry.cas : undefined;
  return cas && edits(typed, cas) <= 2 ? cas : undefined;
}
