import { Decimal } from '../../quantity/decimal';
import { plain } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'hydrogen-count',
  family: 'evidence',
  severity: 'warning',
  fixable: 'never',
  title: 'The hydrogens of the proton spectrum do not add up to the formula',
  why: `The integrals of a \`1H NMR\` line are added up and compared with the formula. Hydrogens on oxygen, nitrogen and sulfur need
not show, so a line may have fewer by as many as the structure (without one, the formula) can have; it cannot have more than all.
Of a labelled formula only the ordinary hydrogen counts. A line that names a solvent, water, an impurity, a minor isomer or a
signal without an integral proves nothing and is not looked at.`,
  help: 'Look for a signal that was left out, a solvent that was counted, or an integral copied wrongly. List a solvent by its name.',
  examples: [
    {
      name: 'a methyl group is missing',
      wrong: `experiment TB-621: Ethyl acetate
date: 2026-03-11
author: MK
measure ethyl acetate: 1H NMR (400 MHz, CDCl3) δ 4.12 (q, J = 7.1 Hz, 2H), 1.26 (t, J = 7.1 Hz, 3H)
                              ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ hydrogen-count: 5 hydrogens
`,
      right: `experiment TB-621: Ethyl acetate
date: 2026-03-11
author: MK
measure ethyl acetate: 1H NMR (400 MHz, CDCl3) δ 4.12 (q, J = 7.1 Hz, 2H), 2.04 (s, 3H), 1.26 (t, J = 7.1 Hz, 3H)
`,
    },
    {
      name: 'one too many',
      wrong: `experiment TB-622: Ethanol
date: 2026-03-11
author: MK
measure ethanol: 1H NMR (CDCl3) δ 3.7 (q, 2H), 2.6 (br s, 1H), 1.2 (t, 3H), 0.9 (m, 1H)
                        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ hydrogen-count: 7 hydrogens
`,
    },
    {
      name: 'near misses: OH not listed, listed, a range, a solvent named, a labelled formula, no integrals',
      right: `experiment TB-623: Right spectra
date: 2026-03-11
author: MK
substance ethanol-d5: C2HD5O
measure ethanol: 1H NMR (CDCl3) δ 3.7 (q, 2H), 1.2 (t, 3H)
measure ethanol: 1H NMR (CDCl3) δ 3.7 (q, 2 H), 2.6 (br s, 1 H, OH), 1.2 (t, 3 H)
measure benzyl alcohol: 1H NMR (CDCl3) δ 7.4–7.3 (m, 5H), 4.7 (s, 2H), 1.9–1.6 (m, 0–1H)
measure ethyl acetate: 1H NMR (CDCl3) δ 4.12 (q, 2H), 2.04 (s, 3H), 1.56 (s, 1H, water), 1.26 (t, 3H)
measure ethanol-d5: 1H NMR (CDCl3) δ 2.6 (br s, 1H)
measure ethyl acetate: 1H NMR (CDCl3) δ 4.12, 2.04, 1.26
measure resin 7: 1H NMR (CDCl3) δ 7.1 (m, 5H)
`,
    },
  ],
  sources: ['An integral counts hydrogens; those on heteroatoms may exchange or broaden: common practice, no source'],
  *check({ values }) {
    for (const { measured, hydrogens } of values.measured) {
      if (!hydrogens || !measured.text || hydrogens.counted.doubt !== undefined) continue;
      const { counted, least, all } = hydrogens;
      if (counted.most >= least && counted.least <= all) continue;
      const sum = plain(new Decimal(counted.most < least ? counted.most : counted.least));
      const labile = all - least;
      const name = measured.name.text;
      yield {
        span: measured.text.span,
        block: measured.entry.block,
        message: sentences(
          `The line counts ${sum} hydrogens; ${name} has ${all}${labile > 0 ? `, of them ${labile} that may not show` : ''}.`,
          counted.most < least
            ? 'Look for a signal that was left out, or an integral copied wrongly.'
            : 'Look for a solvent or an impurity among the signals, or an integral copied wrongly.',
        ),
        working: [`${counted.parts.join(' + ')} = ${sum}`],
        rests: [measured.text.span],
      };
    }
  },
});
