/** A titration: its runs, their mean, how far they scatter and in which ratio it was worked. */
import type { TitrationRunValue, TitrationValue } from '../../compute/values';
import { divide, isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { footnotes } from '../working';
import { after, type Desk, type Found, head, heldOf, line, places, plainText, pointsAt, said, worked } from './desk';
import { uncertaintyFrom } from './uncertainty';

export function titrationHover(desk: Desk): Found | undefined {
  const value = desk.result.values.titrations.find(({ titration }) => pointsAt(desk, titration.entry.span));
  if (!value) return undefined;
  const { entry } = value.titration;
  if (pointsAt(desk, head(entry))) return { span: entry.mark, lines: titrationLines(desk, value) };
  const run = value.runs.findIndex(({ run: { span } }) => pointsAt(desk, span));
  return run < 0
    ? { span: entry.mark, lines: titrationLines(desk, value) }
    : { span: value.runs[run]!.run.span, lines: runLines(desk, value, run) };
}

const MOST_RUNS = 5;

function titrationLines(desk: Desk, value: TitrationValue): string[] {
  const { titration, mean, deviation, runs, ratio, suspect } = value;
  const how = titration.way === 'against' ? 'against' : 'with';
  const title = `**${plainText(titration.name.text)}** · titrated ${how} ${plainText(titration.other.text)}`;
  if (!isHeld(mean)) return [title, `not computable: needs ${plainText(mean.what)}`];
  const relative = deviation && divide('ratio', deviation, mean, { inputs: [] });
  const several = runs.length > 1;
  return [
    `${title} · **${show(mean, { u: true })}**`,
    ...runs.slice(0, MOST_RUNS).map((run, i) => runLine(run, i, several)),
    ...said([
      runs.length > MOST_RUNS && `and ${runs.length - MOST_RUNS} more`,
      several && deviation && `mean of ${runs.length}, s ${show(deviation)}${relative ? ` (${show(relative)})` : ''}`,
    ]),
    ...after(
      ratio.reaction && `${ratio.text} by ${ratio.reaction.id}, line ${line(desk, ratio.reaction.entry.mark)}`,
      suspect && `run ${suspect.run + 1} stands apart (Dixon's Q) and counts all the same`,
      uncertaintyFrom(mean),
      ...footnotes([mean]),
    ),
  ];
}

function runLine({ portion, titre, value }: TitrationRunValue, i: number, several: boolean): string {
  const taken = heldOf(portion, titre).map((held) => show(held));
  const name = several ? `run ${i + 1}: ` : '';
  return `${name}${taken.join(', ')} → ${isHeld(value) ? show(value) : `not computable: needs ${plainText(value.what)}`}`;
}

function runLines(desk: Desk, { titration, runs }: TitrationValue, i: number): string[] {
  const { value } = runs[i]!;
  const where = places(desk, titration.entry.span);
  const title = `**${plainText(titration.name.text)}** · ${runs.length > 1 ? `run ${i + 1} of ${runs.length}` : 'titrated'}`;
  if (!isHeld(value)) return [title, `not computable: needs ${plainText(value.what)}`];
  return [
    `${title} · **${show(value, { u: true })}**`,
    ...worked(value, where),
    ...after(uncertaintyFrom(value), ...footnotes([value])),
  ];
}
