/**
 * What a number is and how it came about. The first line is the answer, then the working with the places of its inputs.
 * At most twelve lines, and never a word on whether something is without danger.
 */
import type { Position, Range } from '../../grammar/tree';
import type { Snapshot } from '../snapshot';
import { chargeHover, planHover, productHover, weighHover } from './hover/amounts';
import { claimHover } from './hover/claims';
import { considerHover } from './hover/consider';
import { type Desk, type Found, markdown } from './hover/desk';
import { evidenceHover } from './hover/evidence';
import { neutraliseHover, wasteHover } from './hover/ledger';
import { declaredHover, reactionHover, vesselOrBalanceHover } from './hover/names';
import { amendmentHover, signatureHover } from './hover/signing';
import { titrationHover } from './hover/titration';
import { vocabularyHover } from './hover/words';
import { placeAt } from './place';

export interface Hover {
  readonly range: Range;
  readonly markdown: string;
}

const MOST_LINES = 12;

/** The first that has something to say: from the number pointed at to the words round it. */
const HOVERS = [
  claimHover,
  vesselOrBalanceHover,
  chargeHover,
  productHover,
  weighHover,
  planHover,
  considerHover,
  titrationHover,
  neutraliseHover,
  wasteHover,
  reactionHover,
  declaredHover,
  evidenceHover,
  signatureHover,
  vocabularyHover,
];

function statementHover(desk: Desk): Found | undefined {
  for (const make of HOVERS) {
    const found = make(desk);
    if (found) return found;
  }
  return undefined;
}

export function hover(snapshot: Snapshot, at: Position): Hover | undefined {
  const place = placeAt(snapshot, at);
  if (!place || place.block.kind === 'prose' || place.block.kind === 'fence') return undefined;
  const desk: Desk = { snapshot, place, result: snapshot.page(place.page) };
  const found = amendmentHover(desk, statementHover) ?? statementHover(desk);
  return (
    found && { range: snapshot.range(place.page, found.span), markdown: markdown(found.lines.slice(0, MOST_LINES)) }
  );
}
