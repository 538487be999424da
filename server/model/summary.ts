/** What other pages may see of a page, from its text alone. */
import { foldName } from '../../grammar/names';
import type { PageSource, Statement } from '../../grammar/tree';
import { amended, placeOf } from './amend';
import type { Definitions } from './definitions';
import { readings } from './definitions';
import { batchOf, entryName, factsOf, factWith, legsOf, type Place, restOf, spanAt, textWith } from './facts';
import type { BatchRef, Substance } from './page';
import type { MadeRecord, Summary, TareRecord, WasteRecord } from './world';

export interface FullSummary extends Summary {
  /** Batches that the page takes from. */
  readonly takes: readonly BatchRef[];
  /** Equal for summaries that say the same, wherever the text stands. */
  readonly fingerprint: string;
}

/** Undefined for a page without an ID: a file's head, a register. */
export function summarise(source: PageSource, uri: string, definitions: Definitions): FullSummary | undefined {
  let id: string | undefined;
  let title = '';
  let date: string | undefined;
  const tares: TareRecord[] = [];
  const products: MadeRecord[] = [];
  const takes: BatchRef[] = [];
  const wastes: WasteRecord[] = [];
  for (const placed of amended(source).blocks) {
    const { statement } = placed.block;
    if (!statement) continue;
    const place: Place = { ...placeOf(placed), at: 0 };
    const body = statement.body.kind === 'text' ? statement.body.text.text : '';
    switch (statement.keyword) {
      case 'experiment':
        id ??= statement.subject?.text;
        title ||= body;
        break;
      case 'date':
        date ??= body || undefined;
        break;
      case 'waste':
        if (statement.subject) wastes.push(...wasteOf(statement, place, definitions));
        break;
      case 'vessel':
      case 'weigh':
      case 'charge':
      case 'recovered':
      case 'product': {
        const facts = factsOf(statement);
        const subject = statement.subject?.text;
        const vessel =
          statement.keyword === 'vessel' || (statement.keyword === 'weigh' && !factWith(facts, 'in'))
            ? subject
            : textWith(facts, 'in', place)?.text;
        if (vessel) tares.push(...taresOf(vessel, readings(facts, place), entryName(statement)));
        if (statement.keyword === 'product')
          products.push(productOf(subject, textWith(facts, 'label', place)?.text, definitions));
        if (statement.keyword === 'charge') {
          for (const leg of legsOf(statement)) {
            const from = factWith(leg.facts, 'from');
            const batch = from && batchOf(restOf(from, place));
            if (batch) takes.push(batch);
          }
        }
        break;
      }
    }
  }
  // A substance of another page is that page's batch, whoever takes of it here.
  for (const { made } of definitions.substances) if (made) takes.push(made);
  if (id === undefined) return undefined;
  const summary = { uri, id, title, ...(date && { date }), tares: lastOfEach(tares), products, wastes, takes };
  const fingerprint = JSON.stringify([
    uri,
    id,
    title,
    date,
    summary.tares.map((t) => [t.key, t.digits, t.unit, t.entry, t.span]),
    products.map((p) => [p.key, p.label, p.substance?.entry?.text]),
    takes.map((t) => [t.id, t.label]),
    wastes.map((w) => [w.key, w.text, w.entry, w.span, w.known.map((k) => k.entry?.text)]),
  ]);
  return { ...summary, fingerprint };
}

/** The text after the colon; which of the page's substances it may name is a matter of letters here, not of meaning. */
function wasteOf(statement: Statement, place: Place, definitions: Definitions): WasteRecord[] {
  const first = factsOf(statement)[0];
  const stream = statement.subject?.text ?? '';
  if (!first || stream === '') return [];
  const span = { start: first.span.start, end: statement.span.end };
  const text = place.text.slice(span.start, span.end);
  const folded = foldName(text);
  const known = definitions.substances.filter(({ key, also }) =>
    [key, ...also.map((other) => foldName(other.text))].some((name) => folded.includes(name)),
  );
  return [{ stream, key: foldName(stream), text, entry: entryName(statement), span: spanAt(place, span), known }];
}

function taresOf(vessel: string, found: ReturnType<typeof readings>, entry: string): TareRecord[] {
  return found.flatMap(({ what, datum, from }) =>
    // A cited tare belongs to the page it is cited from.
    what === 'tare' && !from && datum.quantity.unit?.kind === 'mass'
      ? [
          {
            vessel,
            key: foldName(vessel),
            digits: datum.quantity.number.text,
            unit: datum.quantity.unit.symbol,
            entry,
            span: datum.span,
          },
        ]
      : [],
  );
}

/** Of a vessel weighed more than once the last counts. */
const lastOfEach = (tares: readonly TareRecord[]): TareRecord[] => [
  ...new Map(tares.map((tare) => [tare.key, tare])).values(),
];

function productOf(subject: string | undefined, label: string | undefined, definitions: Definitions): MadeRecord {
  const name = subject ?? '';
  const key = foldName(name);
  const substance: Substance | undefined = definitions.substances.find((s) => s.key === key);
  return { name, key, ...(label && { label }), ...(substance && { substance }) };
}
