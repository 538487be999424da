/** A number in a claim: right or wrong, and how it comes about. */
import type { ClaimValue } from '../../compute/values';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import type { Places } from '../../quantity/steps';
import { type Desk, type Found, places, plainText, pointsAt, said, textAt, worked } from './desk';
import { uncertaintyFrom } from './uncertainty';

export function claimHover(desk: Desk): Found | undefined {
  const found = desk.result.values.claims.find(({ claim }) => pointsAt(desk, claim.span));
  return (
    found && {
      span: found.claim.span,
      lines: claimLines(found, places(desk, found.owner.span), textAt(desk, found.claim.span)),
    }
  );
}

function claimLines({ property, value, verdict, slip, amended }: ClaimValue, where: Places, written: string): string[] {
  if (property === 'literature') return [`**${plainText(written)}** · from the literature, not computed`];
  if (!isHeld(value)) return [`**${plainText(written)}** cannot be checked: needs ${plainText(value.what)}.`];
  const computed = `**${show(value)}**`;
  const working = [...worked(value, where), uncertaintyFrom(value)];
  if (amended) return [`${plainText(written)} as it was signed; ${computed} with what was amended.`, ...said(working)];
  switch (verdict) {
    case undefined:
      return [`${computed} computed`, ...said(working)];
    case 'no': {
      const slipLine =
        slip &&
        `Slip that gives ${plainText(written)}: *${slip.says}*${slip.working ? `, ${plainText(slip.working)}` : ''}.`;
      return [
        `**${plainText(written)}** does not match: ${computed}`,
        ...said(working),
        ...(slipLine ? ['', slipLine] : []),
      ];
    }
    case 'nearly':
      return [`${plainText(written)} is one unit of its last digit away from ${computed}.`, ...said(working)];
    case 'over-precise':
      return [
        `${plainText(written)} agrees: ${show(value, { u: true })} computed; it has more digits than are known.`,
        ...said(working),
      ];
    default:
      return [`${plainText(written)} agrees: ${computed} computed.`, ...said(working)];
  }
}
