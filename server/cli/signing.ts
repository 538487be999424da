/** Who closed a page and what was corrected below, for `tarebook compute`. */
import { agrees, isDigest } from '../model/digest';
import { digestFor } from '../model/signature';
import type { PageResult } from '../snapshot';

type LineOf = (offset: number) => number;

/** Present where there is one. `intact`: whether the text is the one of the digest, `null` without a digest. */
export function signingJson({ page, source }: PageResult, lineOf: LineOf): object {
  const signatures = page.signatures.map((signature) => {
    const { kind, entry, by, when, digest } = signature;
    const now = digestFor(source, signature);
    return {
      kind,
      line: lineOf(entry.span.start),
      by: by?.text ?? null,
      when: when?.text ?? null,
      digest: digest?.text ?? null,
      intact: digest ? isDigest(digest.text) && agrees(digest.text, now) : null,
    };
  });
  const amendments = page.amendments.map(({ entry, statement, old, now, reason, by, when, target }) => ({
    line: lineOf(entry.span.start),
    statement: statement.text,
    old: old?.text ?? null,
    new: now?.text ?? null,
    reason: reason?.text ?? null,
    by: by?.text ?? null,
    when: when?.text ?? null,
    counts: target !== undefined,
  }));
  return { ...(signatures.length > 0 && { signatures }), ...(amendments.length > 0 && { amendments }) };
}
