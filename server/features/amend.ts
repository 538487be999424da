/** A correction to be written below the signature, for the number that somebody points at on a signed page. */
import { offsetAt } from '../../grammar/parse';
import type { Position } from '../../grammar/tree';
import { amended } from '../model/amend';
import { measurements } from '../prove';
import type { Fix } from '../rules/rule';
import { inSnippet, lineEnd, stop } from '../rules/wording';
import type { Snapshot } from '../snapshot';
import { chainOf } from './hover/signing';

/** Undefined on a page that is not signed, below the signature, and where nothing measured stands. */
export function amendment(snapshot: Snapshot, page: number, at: Position): Fix | undefined {
  const { source, page: read } = snapshot.page(page);
  const last = read.signatures.at(-1);
  if (!last) return undefined;
  const offset = offsetAt(snapshot.source, at) - snapshot.source.pages[page]!.at;
  const found = measurements(source).find(({ span }) => span.start <= offset && offset <= span.end);
  if (!found || found.span.end > last.entry.span.start) return undefined;
  const index = source.blocks.findLastIndex((placed) => placed.at <= found.span.start);
  const { statement } = source.blocks[index]!.block;
  if (!statement) return undefined;
  const name = [statement.keyword, statement.subject?.text].filter(Boolean).join(' ');
  const old = source.text.slice(found.span.start, found.span.end).replace(/\s+/g, ' ');
  // What was amended already is amended where it stands now.
  const first = read.amendments.find(({ target }) => target?.old.start === found.span.start);
  const now = (first && chainOf(first, read.amendments).at(-1)?.now?.text) ?? old;
  const word = found.fact === undefined ? '' : `${found.fact} `;
  const text = amended(source).blocks[index]!.block.text.replace(/\s+/g, ' ');
  const shown = text.split(now).length > 2 && text.includes(word + now) ? word + now : now;
  const own = `amend ${inSnippet(name)}: ${inSnippet(shown)} -> ${stop(1, inSnippet(shown))}, ${stop(2, 'reason')}, ${stop(3, inSnippet(read.author?.text ?? 'who'))}, ${stop(4, 'date')}`;
  const end = source.text.trimEnd().length;
  return {
    title: `Amend ${shown} below the signature`,
    edits: [{ span: { start: end, end }, text: `${lineEnd(source)}${own}` }],
    snippet: true,
  };
}
