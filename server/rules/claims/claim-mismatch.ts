import type { Span } from '../../../grammar/tree';
import { coefficient } from '../../compute/reaction';
import { massSlip } from '../../compute/spectra';
import type { ClaimValue, Property, SlipFound, Values } from '../../compute/values';
import { agree } from '../../quantity/agree';
import { Decimal } from '../../quantity/decimal';
import { type Held, isHeld } from '../../quantity/held';
import { steps } from '../../quantity/steps';
import { toBase } from '../../quantity/units';
import { basis, corrected, otherPrefix, relatedTo, restsOf } from '../claimed';
import { type Edit, type Fix, rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'claim-mismatch',
  family: 'claims',
  severity: 'error',
  fixable: 'always',
  title: 'The number in parentheses does not follow from what was measured',
  why: `A number in parentheses was worked out from the measured ones, so it can be worked out again. It agrees within half a
unit of its last digit, whatever the uncertainty of the measurement: a slip does not become right by being small. It may
also rest on the other numbers of its parentheses as they are written, and on molar masses rounded to two decimals. When one
of the usual slips gives the written number (a factor of a thousand, two digits swapped, the density, the purity or the
water of a hydrate forgotten, another reactant taken as limiting …), the message names it.`,
  help: `Compare the working with your own. If the measured numbers are right, let the fix put in the number. If a measured
number, a density or a formula was copied wrongly, correct that; the tool never changes a measured number.`,
  examples: [
    {
      name: 'a factor of a thousand',
      wrong: `experiment TB-301: Ester
date: 2026-03-11
author: MK
substance benzyl alcohol: C7H8O, density 1.044 g/mL
charge benzyl alcohol: 5.00 mL (5.22 mg)
                                ^^^^^^^ claim-mismatch: Written 5.22 mg; 5.00 mL × 1.044 g/mL is 5.22 g. A factor of a thousand: mg for g.
`,
      right: `experiment TB-301: Ester
date: 2026-03-11
author: MK
substance benzyl alcohol: C7H8O, density 1.044 g/mL
charge benzyl alcohol: 5.00 mL (5.22 g)
`,
    },
    {
      name: 'two digits swapped in a yield',
      wrong: `experiment TB-302: Cyclohexene
date: 2026-03-11
author: MK
substance cyclohexanol: C6H12O
substance cyclohexene: C6H10
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g (20.5 mmol), limiting
product cyclohexene: 1.22 g (37 %), distilled
                             ^^^^ claim-mismatch: is 73 %. With two digits swapped, 37 % comes out.
`,
      right: `experiment TB-302: Cyclohexene
date: 2026-03-11
author: MK
substance cyclohexanol: C6H12O
substance cyclohexene: C6H10
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g (20.5 mmol), limiting
product cyclohexene: 1.22 g (73 %), distilled
`,
    },
    {
      name: 'the mass is wrong and the amount was worked out from it: both are put right together',
      wrong: `experiment TB-303: Ester
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, density 1.049 g/mL
charge acetic acid: 20.0 mL (19.1 g, 318 mmol)
                             ^^^^^^ claim-mismatch: is 21.0 g. With a division by the density
`,
      right: `experiment TB-303: Ester
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, density 1.049 g/mL
charge acetic acid: 20.0 mL (21.0 g, 349 mmol)
`,
    },
    {
      name: 'near misses: rounded, worked out from the rounded mass, a tie, a molar mass with two decimals, literature',
      right: `experiment TB-304: Right numbers
date: 2026-03-11
author: MK
substance isopentyl alcohol: C5H12O, density 0.810 g/mL
charge isopentyl alcohol: 15.0 mL (12.1 g, 137 mmol)
charge benzoic acid: 12.212 g (100.00 mmol)
measure benzoic acid: mp 121–123 °C (lit. 122.4 °C)
`,
    },
  ],
  sources: [
    'JCGM 100:2008 (GUM) for what a measured value carries; rounding: NIST SP 811, B.7 (both from memory)',
    'Which slips are tried: common practice, no source',
  ],
  *check({ values, text }) {
    for (const claimed of values.claims) {
      const { claim, value, verdict, owner, slip, property } = claimed;
      if (verdict !== 'no' || !isHeld(value) || ELSEWHERE.has(property)) continue;
      const written = text(claim.span);
      const right = rightOf(claimed, value);
      yield {
        span: claim.span,
        block: owner.block,
        message: sentences(
          `Written ${written}; ${basis(values, claimed)} is ${right}.`,
          slip
            ? `${slipInWords(slip, written, right)}.`
            : (byCoefficients(values, claimed) ?? byMass(values, claimed) ?? fromRounded(values, claimed, text)),
          'Correct the number, or the reading if that was copied wrongly.',
        ),
        ...(slip && { slip: slip.slip }),
        working: [...steps(value), ...(slip?.working ? [slip.working] : [])],
        related: relatedTo(value),
        rests: restsOf(value),
        doubts: [claim.span],
        fixes: [replacement(values, claimed, value, text)],
      };
    }
  },
});

/** A net has a rule of its own; literature and what the tool does not know are nobody's slip. */
const ELSEWHERE: ReadonlySet<Property> = new Set<Property>(['net', 'literature', 'other']);

/** Where only the prefix is wrong, the number stays. */
const rightOf = ({ claim, slip }: ClaimValue, value: Held): string =>
  (slip?.slip === 'factor-1000' ? otherPrefix(claim.quantity, value) : undefined) ?? corrected(claim.quantity, value);

/** `A factor of a thousand: mg for g`; `With two digits swapped, 37 % comes out` */
function slipInWords({ slip, says }: SlipFound, wrong: string, right: string): string {
  if (slip !== 'factor-1000') return `With ${says}, ${wrong} comes out`;
  const [from, to] = [wrong, right].map((text) => /[^\d\s.].*$/.exec(text)?.[0]);
  return from === to ? 'A factor of a thousand' : `A factor of a thousand: ${from} for ${to}`;
}

/** A calculated m/z without the electron, with average masses, or of the molecule. */
function byMass(values: Values, { claim, property, owner }: ClaimValue): string | undefined {
  const measured = values.measurements.find((m) => m.kind === 'HRMS' && m.measurement.entry === owner);
  if (property !== 'm/z' || !measured) return undefined;
  const { number } = claim.quantity;
  const slip = massSlip(measured, number.value, Decimal.pow(10, number.place));
  return slip && `The written number fits if ${slip}.`;
}

/** Some divide equivalents by the coefficients; here and in most preparations they are n over n. */
function byCoefficients(values: Values, { claim, property, owner, value }: ClaimValue): string | undefined {
  const charge = property === 'equiv' ? values.charges.find((c) => c.charge.entry === owner) : undefined;
  const limiting = charge?.reaction?.limiting?.term.term;
  if (!charge?.term || !limiting || !isHeld(value)) return undefined;
  const divided = value.value.times(coefficient(limiting)).div(coefficient(charge.term));
  if (divided.eq(value.value) || agree(claim.quantity, { ...value, value: divided }) === 'no') return undefined;
  return 'Equivalents are n over n of the limiting reactant, not divided by the coefficients.';
}

/** Worked out from the limiting reactant's amount as rounded on its own line: no slip, and yet no right digit. */
function fromRounded(
  values: Values,
  { claim, property, owner, value }: ClaimValue,
  text: (span: Span) => string,
): string | undefined {
  if (!isHeld(value) || (property !== 'yield' && property !== 'equiv')) return undefined;
  const lines =
    property === 'yield'
      ? values.products.map((p) => [p.product.entry, p] as const)
      : values.charges.map((c) => [c.charge.entry, c] as const);
  const limiting = lines.find(([entry]) => entry === owner)?.[1].reaction?.limiting;
  const term = limiting && values.charges.find((c) => c.term === limiting.term.term);
  const rounded = values.claims.find(
    (c) => c.owner === term?.charge.entry && c.property === 'amount' && c.verdict !== 'no',
  );
  if (!limiting || !rounded || rounded.owner === owner) return undefined;
  const { number, unit } = rounded.claim.quantity;
  if (!unit || number.value.isZero()) return undefined;
  const other = value.value.times(limiting.amount.value).div(toBase(number.value, unit));
  const verdict = agree(claim.quantity, { ...value, value: other });
  return verdict === 'no' || verdict === 'nearly'
    ? undefined
    : `It follows from the rounded ${text(rounded.claim.span)} of ${rounded.subject}: round at the end.`;
}

/** Puts in the right number, and with it those of the group that only follow from the wrong one. */
function replacement(values: Values, claimed: ClaimValue, value: Held, text: (span: Span) => string): Fix {
  const changes = [{ claim: claimed.claim, value }, ...followers(values, claimed)].map((c) => ({
    span: c.claim.span,
    old: text(c.claim.span),
    text: c.claim === claimed.claim ? rightOf(claimed, value) : corrected(c.claim.quantity, c.value),
  }));
  const shown = changes.map((change) => `${change.old} with ${change.text}`).join(', ');
  const edits: readonly Edit[] = changes.map(({ span, text: put }) => ({ span, text: put }));
  return { title: `Replace ${shown}`, edits, bulk: true, preferred: true };
}

function* followers(
  values: Values,
  { claim, owner }: ClaimValue,
): Generator<{ claim: ClaimValue['claim']; value: Held }> {
  for (const other of values.claims) {
    if (other.owner !== owner || other.claim === claim || other.claim.group !== claim.group) continue;
    if (!isHeld(other.value) || other.verdict === undefined || other.verdict === 'no') continue;
    if (agree(other.claim.quantity, other.value) === 'no') yield { claim: other.claim, value: other.value };
  }
}
