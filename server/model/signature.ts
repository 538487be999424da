/** `signed: MK, 2026-03-04 17:20, digest 3f2a91bc07de55a0` and `witnessed: …`: who closed the page, when, over what. */
import type { PageSource, Span, Statement } from '../../grammar/tree';
import { digestOf } from './digest';
import { type Place, spanAt } from './facts';
import type { Entry, TextFact } from './page';
import { type Moment, momentOf } from './timeline';

export interface Signature {
  readonly entry: Entry;
  readonly kind: 'signed' | 'witnessed';
  readonly by?: TextFact;
  readonly when?: TextFact;
  readonly moment?: Moment;
  /** As written, without its word. */
  readonly digest?: TextFact;
  /** The digest with its word and the comma before it: all of the statement that it does not cover. */
  readonly digestFact?: Span;
}

const DIGEST = /(?:^|,)\s*digest(?:\s+([^\s,]+))?(?=\s*(?:,|$))/;

export function readSignature(statement: Statement, entry: Entry, place: Place): Signature {
  const { start, end } = statement.body.kind === 'text' ? statement.body.text.span : statement.span;
  const text = place.text.slice(start, end);
  const at = (from: number, length: number): Span => spanAt(place, { start: start + from, end: start + from + length });
  const found = DIGEST.exec(text);
  const rest = found ? text.slice(0, found.index) : text;
  const dated = /\d{4}-\d{2}-\d{2}(?:[T\s]\d{1,2}:\d{2}(?::\d{2})?)?/.exec(rest);
  const by = /^[^,]*/.exec(dated ? rest.slice(0, dated.index) : rest)![0].trim();
  const written = found?.[1];
  const moment = dated && momentOf(dated[0]);
  return {
    entry,
    kind: statement.keyword === 'witnessed' ? 'witnessed' : 'signed',
    ...(by && { by: { text: by, span: at(rest.indexOf(by), by.length) } }),
    ...(dated && { when: { text: dated[0], span: at(dated.index, dated[0].length) } }),
    ...(moment && { moment }),
    ...(found && { digestFact: at(found.index, found[0].length) }),
    ...(found &&
      written && { digest: { text: written, span: at(found.index + found[0].lastIndexOf(written), written.length) } }),
  };
}

/** From `experiment` to the end of the signature, without the digest itself. */
export const coveredText = ({ text }: PageSource, { entry, digestFact }: Signature): string =>
  digestFact
    ? text.slice(0, digestFact.start) + text.slice(digestFact.end, entry.span.end)
    : text.slice(0, entry.span.end);

/** The digest that a signature has to have. */
export const digestFor = (source: PageSource, signature: Signature): string => digestOf(coveredText(source, signature));

/** The last `signed` closes the page; what stands above it is not to be touched. */
export const closingOf = (signatures: readonly Signature[]): Signature | undefined =>
  signatures.findLast(({ kind }) => kind === 'signed');

/** A place below all that is signed, or right at the end of a signature that has no digest yet. */
export function isOpen(signatures: readonly Signature[], span: Span): boolean {
  const last = signatures.at(-1);
  return (
    last === undefined || (span.start >= last.entry.span.end && !(last.digest && span.start === last.entry.span.end))
  );
}
