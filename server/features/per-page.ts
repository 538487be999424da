/** What a feature works out of a page is kept for as long as what was found on the page stands. */
import type { Finding } from '../rules/rule';
import type { PageResult, Snapshot } from '../snapshot';

/** `derive` may use nothing but its page. */
export function perPage<T extends object>(derive: (result: PageResult) => T): (snapshot: Snapshot, page: number) => T {
  // The list of findings is the same object exactly while text and all answers from outside are the same.
  const known = new WeakMap<readonly Finding[], T>();
  return (snapshot, page) => {
    const kept = known.get(snapshot.findings(page));
    if (kept) return kept;
    const result = snapshot.page(page);
    const made = derive(result);
    known.set(result.findings, made);
    return made;
  };
}
