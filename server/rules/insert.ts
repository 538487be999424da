/** Edits that add something to a page. */
import type { PageSource } from '../../grammar/tree';
import type { Entry } from '../model/page';
import type { Edit } from './rule';

/** Another fact at the end of a statement. */
export function addFact(source: PageSource, entry: Entry, fact: string): Edit {
  const { end } = entry.span;
  const last = source.text[end - 1];
  const join = last === ':' || last === ',' ? ' ' : ', ';
  return { span: { start: end, end }, text: `${join}${fact}` };
}
