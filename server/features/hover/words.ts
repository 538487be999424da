/** Known words and units. */
import type { Span } from '../../../grammar/tree';
import { FACTS, KEYWORDS, UNITS } from '../../../grammar/vocabulary';
import type { Decimal } from '../../quantity/decimal';
import { BASE_UNITS } from '../../quantity/kinds';
import { digits, plain } from '../../quantity/show';
import { unitOf } from '../../quantity/units';
import { factsIn } from '../../rules/walk';
import { within } from '../place';
import type { Desk, Found } from './desk';

export function vocabularyHover({ place, result }: Desk): Found | undefined {
  const { statement } = place.block;
  if (!statement) return undefined;
  const shift = (span: Span): Span => ({ start: span.start + place.at, end: span.end + place.at });
  if (within(shift(statement.keywordSpan), place.offset))
    return {
      span: shift(statement.keywordSpan),
      lines: [`**${statement.keyword}** · ${KEYWORDS[statement.keyword].help}`],
    };
  for (const { fact, block, at } of factsIn(result.source)) {
    if (block !== place.index) continue;
    const here = (span: Span): Span => ({ start: span.start + at, end: span.end + at });
    for (const part of fact.parts)
      if (part.kind === 'quantity' && part.unit && within(here(part.unit.span), place.offset))
        return { span: here(part.unit.span), lines: unitLines(part.unit.symbol) };
    if (fact.key && fact.keySpan && within(here(fact.keySpan), place.offset))
      return { span: here(fact.keySpan), lines: [`**${fact.key}** · ${FACTS[fact.key].help}`] };
  }
  return undefined;
}

function unitLines(symbol: keyof typeof UNITS): string[] {
  const { kind, factor, offset } = unitOf(symbol);
  const base = BASE_UNITS[kind];
  const known = kind !== 'other' && base !== symbol && !offset;
  const worth = known ? ` · 1 ${symbol} ${equals(factor)}${base === '1' ? '' : ` ${base}`}` : '';
  return [`**${symbol}** · ${UNITS[symbol].name}${worth}`];
}

/** Exact where that can be read. */
const equals = (factor: Decimal): string =>
  factor.decimalPlaces() > 12 ? `≈ ${digits(factor, factor.e - 6)}` : `= ${plain(factor)}`;
