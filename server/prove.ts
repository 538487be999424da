/**
 * Proves a fix by reading the changed page again. What is not proven is not offered: a fix must take its finding away
 * and bring no other error or warning, it must leave every recorded measurement as it stands, turn no prose into facts
 * and no facts into prose, and whatever number it writes must agree with what the page computes.
 *
 * That it does nothing more when applied twice follows: its finding is gone. Costs one page.
 */
import { edit, positionAt } from '../grammar/parse';
import type { Fact, PageSource, QuantityNode, SourceFile, Span } from '../grammar/tree';
import type { Keyword } from '../grammar/vocabulary';
import type { ClaimValue } from './compute/values';
import { isOpen } from './model/signature';
import { isHeld, type Result } from './quantity/held';
import type { Edit, Finding, Fix } from './rules/rule';
import type { PageResult } from './snapshot';
import type { Workspace } from './workspace';

export type Proof = { readonly ok: true } | { readonly ok: false; readonly why: string };

const PROVEN: Proof = { ok: true };
const refuse = (why: string): Proof => ({ ok: false, why });

/** Without a finding the edits are a rewriting that has to keep all of the rest. */
export function prove(workspace: Workspace, uri: string, page: number, finding: Finding | undefined, fix: Fix): Proof {
  const source = workspace.files.get(uri);
  const before = source && workspace.snapshot(uri).page(page);
  if (!source || !before) return refuse('there is no such page');
  if (fix.edits.some(({ span }) => !isOpen(before.page.signatures, span))) return refuse('the page is signed');
  const edits = inOrder(fix.edits.map(({ span, text }) => ({ span, text: fix.snippet ? withoutStops(text) : text })));
  if (edits.some((e, i) => e.span.start < (edits[i - 1]?.span.end ?? 0))) return refuse('its edits overlap');
  if (applyEdits(before.source.text, edits) === before.source.text) return refuse('it changes nothing');
  const changed = editedFile(source, page, edits);
  if (changed.pages.length !== source.pages.length) return refuse('it changes the number of pages');
  const after = workspace
    .with(new Map([[uri, changed]]))
    .snapshot(uri)
    .page(page);
  return firstRefusal([
    () => findingsProof(before, after, finding, fix),
    () => (fix.reclassifies ? sameDigits(before.source.text, after.source.text) : measurementsProof(before, after)),
    () => (fix.reclassifies ? PROVEN : proseProof(before.source, after.source, edits)),
    () => claimsProof(before, after, edits),
  ]);
}

function firstRefusal(proofs: readonly (() => Proof)[]): Proof {
  for (const proof of proofs) {
    const found = proof();
    if (!found.ok) return found;
  }
  return PROVEN;
}

// ── edits ────────────────────────────────────────────────────────────────────────────────────────────────────────

const inOrder = (edits: readonly Edit[]): readonly Edit[] =>
  [...edits].sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);

/** Edits that do not overlap, as offsets into `text`. */
export function applyEdits(text: string, edits: readonly Edit[]): string {
  let out = '';
  let from = 0;
  for (const { span, text: written } of inOrder(edits)) {
    out += text.slice(from, span.start) + written;
    from = span.end;
  }
  return out + text.slice(from);
}

/** The file after edits of one page. */
export function editedFile(source: SourceFile, page: number, edits: readonly Edit[]): SourceFile {
  const at = source.pages[page]?.at ?? 0;
  return inOrder(edits).reduceRight((file, { span, text }) => {
    const range = { start: positionAt(file, at + span.start), end: positionAt(file, at + span.end) };
    return edit(file, range, text);
  }, source);
}

/** A text as it stands before anybody fills its stops: placeholders and first choices as plain text, empty slots. */
export const withoutStops = (text: string): string =>
  text.replace(STOP, (_, escaped, word, choice) => escaped ?? plain(word ?? choice ?? ''));

/** An escaped character, `${1:word}`, `${1|choice,…|}`, `${1}` or `$1`. */
const STOP = /\\([$}\\])|\$\{\d+(?::((?:[^}\\]|\\.)*)|\|((?:[^,|\\]|\\.)*)(?:[^|\\]|\\.)*\|)?\}|\$\d+/g;
const plain = (text: string): string => text.replace(/\\(.)/g, '$1');

/** Where the text that an edit wrote stands afterwards. */
function writtenSpans(edits: readonly Edit[]): readonly Span[] {
  let shift = 0;
  return edits.map(({ span, text }) => {
    const start = span.start + shift;
    shift += text.length - (span.end - span.start);
    return { start, end: start + text.length };
  });
}

const overlap = (a: Span, b: Span): boolean => a.start < b.end && b.start < a.end;

// ── 1: the finding is gone, no other has come ────────────────────────────────────────────────────────────────────

function findingsProof(before: PageResult, after: PageResult, finding: Finding | undefined, fix: Fix): Proof {
  if (finding && !fix.snippet) {
    const same = ({ findings }: PageResult): number =>
      findings.filter(({ code, message }) => code === finding.code && message === finding.message).length;
    if (same(after) >= same(before)) return refuse('its finding stays');
  }
  const had = counted(before.findings.filter(isLoud));
  const brought = after.findings.filter((found) => isLoud(found) && !comesToLight(found, before, after, fix));
  for (const [code, count] of counted(brought)) if (count > (had.get(code) ?? 0)) return refuse(`it brings ${code}`);
  return PROVEN;
}

/**
 * A fix does not bring what it only brings to light: that a claim is wrong which nobody could check before, that a mass
 * is impossible which nobody could work out before, or what is missing in a line that was prose.
 */
function comesToLight({ span, block }: Finding, before: PageResult, after: PageResult, fix: Fix): boolean {
  const placed = after.source.blocks[block];
  const from = placed?.at ?? 0;
  const edited = fix.edits.some((e) => from <= e.span.start && e.span.start < from + (placed?.block.text.length ?? 0));
  if (fix.reclassifies) return edited;
  if (edited && massOf(before, block) && !isHeld(massOf(before, block))) return true;
  const claim = after.values.claims.find((c) => c.claim.span.start === span.start && c.claim.span.end === span.end);
  return claim !== undefined && !before.values.claims.some((c) => c.verdict !== undefined && said(c) === said(claim));
}

/** Of what the statement at a block takes or gives. */
function massOf({ values }: PageResult, block: number): Result | undefined {
  const product = values.products.find((v) => v.product.entry.block === block);
  const charge = values.charges.find((v) => v.charge.entry.block === block);
  const recovered = values.recovered.find((v) => v.recovered.entry.block === block);
  return (product ?? charge ?? recovered)?.mass;
}

const isLoud = ({ severity }: Finding): boolean => severity === 'error' || severity === 'warning';

function counted(findings: readonly Finding[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { code } of findings) counts.set(code, (counts.get(code) ?? 0) + 1);
  return counts;
}

// ── 2: the recorded measurements are the same ────────────────────────────────────────────────────────────────────

/** A quantity that somebody wrote outside of a claim. */
export interface Measurement {
  readonly keyword: Keyword;
  readonly fact: string | undefined;
  readonly span: Span;
  readonly node: QuantityNode;
  /** The word after a number without a unit that is known: a unit that nobody could read. */
  readonly word?: string;
}

/** All recorded measurements of a page in their order. */
export function measurements(page: PageSource): readonly Measurement[] {
  const found: Measurement[] = [];
  for (const { block, at } of page.blocks) {
    const statement = block.statement;
    if (statement?.body.kind !== 'facts') continue;
    for (const leg of statement.body.legs)
      for (const fact of leg.facts) found.push(...quantitiesOf(fact, statement.keyword, at));
  }
  return found;
}

function quantitiesOf(fact: Fact, keyword: Keyword, at: number): readonly Measurement[] {
  return fact.parts.flatMap((part, i) => {
    if (part.kind !== 'quantity') return [];
    // The 4 of `in beaker 4` is part of a name.
    if (!part.unit && fact.parts[i - 1]?.kind === 'word') return [];
    const next = fact.parts[i + 1];
    const span = { start: at + part.span.start, end: at + part.span.end };
    const word = !part.unit && next?.kind === 'word' ? next.text : undefined;
    return [{ keyword, fact: fact.key, span, node: part, ...(word !== undefined && { word }) }];
  });
}

function measurementsProof(before: PageResult, after: PageResult): Proof {
  const had = measurements(before.source);
  let next = 0;
  for (const found of measurements(after.source)) {
    const expected = had[next];
    if (expected && sameMeasurement(expected, found)) next++;
    else if (!mayBeAdded(found, after)) return refuse('it changes a measurement');
  }
  return next === had.length ? PROVEN : refuse('it takes a measurement away');
}

/** Values as a line each, for comparing two readings of a page. */
export const written = ({ node }: Measurement): string => {
  const [low, high] = [node.number, node.to].map((n) => n && plainDigits(n.digits ?? n.text));
  // A range is the same range from either end.
  const range = high === undefined || node.course ? [low, high] : [low, high].sort();
  const parts = [
    node.count && plainDigits(node.count.digits ?? node.count.text),
    ...range,
    node.plusMinus && plainDigits(node.plusMinus.digits ?? node.plusMinus.text),
  ];
  return [
    ...parts.map((part) => part ?? ''),
    node.course ? 'to' : '',
    node.number.concise ?? '',
    node.unit?.symbol ?? '',
  ].join('|');
};

const plainDigits = (digits: string): string =>
  digits.replace(/^([-+−]?)0*(?=\d)/, '$1').replace(/^([-+−]?)(?=\.)/, '$10');

function sameMeasurement(a: Measurement, b: Measurement): boolean {
  if (written(a) === written(b)) return true;
  // A number in a form without a single reading keeps its digits; where the point goes is what the fix says.
  const numbers = (m: Measurement) =>
    [m.node.count, m.node.number, m.node.plusMinus, m.node.to].filter((n) => n !== undefined);
  const unread = numbers(a).some(({ defect }) => defect !== undefined);
  const digits = (m: Measurement) =>
    numbers(m)
      .map(({ text }) => text.replace(/\D/g, '').replace(/^0+/, ''))
      .join('|');
  const sameNumbers = unread
    ? digits(a) === digits(b)
    : written({ ...a, node: bare(a.node) }) === written({ ...b, node: bare(b.node) });
  // So does a number whose unit nobody could read.
  return (
    sameNumbers && (a.node.unit?.symbol === b.node.unit?.symbol || (a.node.unit === undefined && a.word !== undefined))
  );
}

function bare({ unit: _, ...node }: QuantityNode): QuantityNode {
  return node;
}

/** Data of a substance from a table, or a tare cited from the page where it was read: neither is a reading of this page. */
function mayBeAdded(found: Measurement, { page, world }: PageResult): boolean {
  if (found.keyword === 'substance' || found.keyword === 'solution') return true;
  if (found.fact !== 'tare') return false;
  const weighings = [...page.charges, ...page.products, ...page.recovered, ...page.weighs].flatMap(
    ({ amount }) => amount.weighing.readings,
  );
  const reading = [...weighings, ...page.vessels.flatMap(({ tares }) => tares)].find(
    ({ datum }) => datum.span.start === found.span.start,
  );
  const cited = reading?.from && world.page(reading.from.id).flatMap(({ tares }) => tares);
  return (
    cited?.some(({ digits, unit }) => digits === found.node.number.text && unit === found.node.unit?.symbol) ?? false
  );
}

/** Where a line changes from prose to facts or back, at least every digit stays where it is. */
function sameDigits(before: string, after: string): Proof {
  const digits = (text: string) => text.match(/\d+/g)?.join(' ') ?? '';
  return digits(before) === digits(after) ? PROVEN : refuse('it changes a number');
}

// ── 3: prose stays prose ─────────────────────────────────────────────────────────────────────────────────────────

function proseProof(before: PageSource, after: PageSource, edits: readonly Edit[]): Proof {
  if (prose(before) !== prose(after)) return refuse('it changes what is prose');
  const removed = before.blocks.filter(
    ({ block, at }) =>
      block.statement && edits.some(({ span }) => span.start <= at && at + block.text.trimEnd().length <= span.end),
  ).length;
  return statements(after) >= statements(before) - removed ? PROVEN : refuse('it takes a statement away');
}

const prose = ({ blocks }: PageSource): string =>
  blocks
    .filter(({ block }) => !block.statement && block.kind !== 'blank')
    .map(({ block }) => `${block.kind} ${block.text.trim()}`)
    .join('\n');

const statements = ({ blocks }: PageSource): number => blocks.filter(({ block }) => block.statement).length;

// ── 4: a number that was written agrees ──────────────────────────────────────────────────────────────────────────

function claimsProof(before: PageResult, after: PageResult, edits: readonly Edit[]): Proof {
  const spans = writtenSpans(edits);
  for (const [i, span] of spans.entries()) {
    const replaced = before.values.claims.filter(({ claim }) => overlap(claim.span, edits[i]!.span)).map(said);
    for (const value of after.values.claims.filter(({ claim }) => overlap(claim.span, span))) {
      if (replaced.includes(said(value)) || value.property === 'literature') continue;
      const { verdict } = value;
      if (verdict === undefined || verdict === 'no' || verdict === 'nearly')
        return refuse('it writes a number that does not agree');
    }
  }
  return PROVEN;
}

/** A claim as it reads, whatever the spelling of its unit. */
const said = ({ claim: { quantity } }: ClaimValue): string => `${quantity.number.value} ${quantity.unit?.symbol ?? ''}`;

// ── fix-all ──────────────────────────────────────────────────────────────────────────────────────────────────────

export interface Fixed {
  readonly page: number;
  /** From the start of the page as it was. */
  readonly edits: readonly Edit[];
}

/** More rounds than any notebook needs; fixes that chase each other end here. */
const ROUNDS = 10;

/** Every proven fix whose result cannot be disputed, applied until nothing is left. */
export function fixAll(workspace: Workspace, uri: string): readonly Fixed[] {
  const source = workspace.files.get(uri);
  return (source?.pages ?? []).flatMap((_, page) => {
    const edits = fixPage(workspace, uri, page);
    return edits.length > 0 ? [{ page, edits }] : [];
  });
}

function fixPage(workspace: Workspace, uri: string, page: number): readonly Edit[] {
  const original = workspace.files.get(uri)!.pages[page]!.page.text;
  let current = workspace;
  let first: readonly Edit[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const edits = bulkEdits(current, uri, page);
    if (edits.length === 0)
      return round <= 1 ? first : [difference(original, current.files.get(uri)!.pages[page]!.page.text)];
    if (round === 0) first = edits;
    current = current.with(new Map([[uri, editedFile(current.files.get(uri)!, page, edits)]]));
  }
  return [];
}

/** Proven one by one and together; where they are not together, the first alone. */
function bulkEdits(workspace: Workspace, uri: string, page: number): readonly Edit[] {
  const { findings } = workspace.snapshot(uri).page(page);
  const taken: Fix[] = [];
  for (const finding of findings) {
    const fix = finding.fixes?.find(({ bulk, snippet }) => bulk && !snippet);
    if (
      !fix ||
      fix.edits.some(({ span }) => taken.some(({ edits }) => edits.some((other) => touches(span, other.span))))
    )
      continue;
    if (prove(workspace, uri, page, finding, fix).ok) taken.push(fix);
  }
  const edits = inOrder(taken.flatMap((fix) => fix.edits));
  const together: Fix = { title: '', edits, reclassifies: taken.some((fix) => fix.reclassifies) };
  return taken.length < 2 || prove(workspace, uri, page, undefined, together).ok ? edits : taken[0]!.edits;
}

const touches = (a: Span, b: Span): boolean => a.start <= b.end && b.start <= a.end;

/** One edit that turns a text into another, as short as it can be. */
function difference(before: string, after: string): Edit {
  let start = 0;
  while (start < before.length && before[start] === after[start]) start++;
  let tail = 0;
  while (tail < Math.min(before.length, after.length) - start && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  return { span: { start, end: before.length - tail }, text: after.slice(start, after.length - tail) };
}
