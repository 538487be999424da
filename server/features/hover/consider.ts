/** Is a purification worth it: what would be left, with the working and what was decided. */
import { says } from '../../compute/considered';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { footnotes } from '../working';
import { after, type Desk, type Found, head, heldOf, places, plainText, pointsAt, worked } from './desk';
import { uncertaintyFrom } from './uncertainty';

export function considerHover(desk: Desk): Found | undefined {
  const value = desk.result.values.considerations.find(({ consideration }) => pointsAt(desk, consideration.entry.span));
  if (!value) return undefined;
  const { consideration, left, recovery } = value;
  const { entry, step, name, decided } = consideration;
  const where = places(desk, entry.span);
  const share = isHeld(recovery) ? ` · **${show({ ...recovery, figures: 3 }, { as: 'claim' })}** back` : '';
  return {
    span: pointsAt(desk, head(entry)) ? entry.mark : entry.span,
    lines: [
      `**${plainText(name.text)}** · ${plainText(step.text)}${share}`,
      plainText(says(value)),
      ...after(decided && `Decided: ${decided.text.text}`),
      ...(isHeld(left) ? ['', ...worked(left, where, 4)] : []),
      ...after(uncertaintyFrom(heldOf(left)[0]), ...footnotes(heldOf(left))),
    ],
  };
}
