/** Claims of a page with amendments: those that were right when it was signed are no slips. */
import type { Verdict } from '../quantity/agree';
import type { ClaimValue, Values } from './values';

const disagrees = (verdict: Verdict | undefined): boolean => verdict === 'no' || verdict === 'nearly';

/** `signed`: the same page without its amendments; worked out only where a claim does not agree. */
export function besideSigned(values: Values, signed: () => Values): Values {
  if (!values.claims.some(({ verdict }) => disagrees(verdict))) return values;
  const before = new Map(signed().claims.map((value) => [keyOf(value), value.verdict]));
  const claims = values.claims.map((value): ClaimValue => {
    const was = before.get(keyOf(value));
    if (!disagrees(value.verdict) || was === undefined || disagrees(was)) return value;
    const { verdict: _, slip: __, ...rest } = value;
    return { ...rest, amended: true };
  });
  return { ...values, claims };
}

const keyOf = ({ claim: { span } }: ClaimValue): number => span.start;
