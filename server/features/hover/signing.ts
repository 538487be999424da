/** Corrections below the signature, shown where the old number stands and where the new one does; and the digest. */
import type { Span } from '../../../grammar/tree';
import type { Amendment } from '../../model/amend';
import { agrees, isDigest, shortDigest } from '../../model/digest';
import { digestFor } from '../../model/signature';
import { type Desk, type Found, line, plainText, pointsAt } from './desk';

/** `statement`: what the hovers say of a statement at a place. */
export function amendmentHover(desk: Desk, statement: (at: Desk) => Found | undefined): Found | undefined {
  const { amendments } = desk.result.page;
  const here = amendments.find(
    ({ target, now }) => (target && pointsAt(desk, target.old)) || (target && now && pointsAt(desk, now.span)),
  );
  if (!here?.target || !here.now) return undefined;
  const span = pointsAt(desk, here.target.old) ? here.target.old : here.now.span;
  const placed = desk.result.source.blocks[here.target.block]!;
  const at = placed.at + (placed.block.statement?.keywordSpan.start ?? 0);
  const place = { ...desk.place, index: here.target.block, block: placed.block, at: placed.at, offset: at };
  const now = placed.block.statement && statement({ ...desk, place });
  return { span, lines: [...chainOf(here, amendments).map((a) => amendmentLine(desk, a)), '', ...(now?.lines ?? [])] };
}

/** The amendments of one place in their order: each replaces what the one before it wrote. */
export function chainOf(amendment: Amendment, all: readonly Amendment[]): readonly Amendment[] {
  const within = (inner: Span | undefined, outer: Span | undefined): boolean =>
    inner !== undefined && outer !== undefined && outer.start <= inner.start && inner.end <= outer.end;
  const before = all.findLast((a) => a !== amendment && within(amendment.target?.old, a.now?.span));
  if (before) return chainOf(before, all);
  const chain = [amendment];
  for (;;) {
    const next = all.find((a) => !chain.includes(a) && within(a.target?.old, chain.at(-1)?.now?.span));
    if (!next) return chain;
    chain.push(next);
  }
}

function amendmentLine(desk: Desk, { old, now, reason, by, when, entry }: Amendment): string {
  const who = [by?.text, when?.text].filter(Boolean).join(', ');
  const why = [reason?.text, who].filter(Boolean).join(' · ');
  return `~~${plainText(old?.text ?? '')}~~ **${plainText(now?.text ?? '')}** · ${plainText(why || 'no reason given')} (line ${line(desk, entry.span)})`;
}

/** A signature: whether the page is still what was signed. */
export function signatureHover(desk: Desk): Found | undefined {
  const signature = desk.result.page.signatures.find(({ entry }) => pointsAt(desk, entry.span));
  if (!signature) return undefined;
  const { entry, kind, by, when, digest } = signature;
  const now = digestFor(desk.result.source, signature);
  const who = [by?.text, when?.text].filter(Boolean).map((text) => plainText(String(text)));
  const state = !digest
    ? `No digest: a later change would not show. The digest now would be ${shortDigest(now)}.`
    : isDigest(digest.text) && agrees(digest.text, now)
      ? `The text from \`experiment\` to here agrees with the digest (SHA-256 ${shortDigest(now)}…).`
      : `The text is not the one that was ${kind}: its digest is ${shortDigest(now)}… now.`;
  return { span: entry.span, lines: [`**${kind}**${who.length > 0 ? ` · ${who.join(', ')}` : ''}`, state] };
}
