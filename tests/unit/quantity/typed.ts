/** Quantities as a page would hold them, and values to compare them with. */
import { parse } from '../../../grammar/parse';
import type { QuantityNode } from '../../../grammar/tree';
import { Decimal } from '../../../server/quantity/decimal';
import { type Held, type Leaf, reading } from '../../../server/quantity/held';
import type { Kind } from '../../../server/quantity/kinds';
import { type Quantity, readQuantity } from '../../../server/quantity/written';

export function nodeOf(text: string): QuantityNode {
  const { body } = parse(`charge x: ${text}`).pages[0]!.page.blocks[0]!.block.statement!;
  const part = body.kind === 'facts' ? body.legs[0]?.facts[0]?.parts[0] : undefined;
  if (part?.kind !== 'quantity') throw new Error(`No quantity: ${text}`);
  return part;
}

/** Throws where the text has no single reading. */
export function typed(text: string): Quantity {
  const quantity = readQuantity(nodeOf(text));
  if (!quantity) throw new Error(`Not read: ${text}`);
  return quantity;
}

export const leaf = (name: string): Leaf => ({ name, origin: { from: 'rule', says: 'a test' } });

/** A reading in base units; each call is a new, independent one. */
export const read = (kind: Kind, value: Decimal.Value, u = 0, figures = 4, written?: string): Held =>
  reading(kind, new Decimal(value), u, figures, leaf(String(value)), written);

/** Half a digit as a rectangular distribution: GUM F.2.2.1. */
export const rectangular = (step: number): number => step / Math.sqrt(12);
