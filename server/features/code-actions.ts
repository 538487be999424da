/**
 * What the lamp offers: proven fixes, `accept` with a reason, filling in claims, the digest of a signed page. Of what is
 * signed nothing is touched.
 */
import { positionAt } from '../../grammar/parse';
import type { PlacedBlock, Position, Range, Span } from '../../grammar/tree';
import { shortDigest } from '../model/digest';
import { digestFor, isOpen } from '../model/signature';
import { fixAll, prove } from '../prove';
import type { Edit, Finding, Fix } from '../rules/rule';
import type { PageResult, Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { amendment } from './amend';
import { fillings } from './fill';
import { scaledPage } from './scale';

export type ActionKind =
  | 'quickfix'
  | 'refactor.rewrite.tarebook.fillClaims'
  | 'refactor.rewrite.tarebook.addDigest'
  | 'refactor.rewrite.tarebook.amend'
  | 'refactor.rewrite.tarebook.scale'
  | 'source.fixAll.tarebook'
  | 'source.fillClaims.tarebook';

export interface CodeAction {
  readonly title: string;
  readonly kind: ActionKind;
  readonly preferred: boolean;
  /** What it is for. */
  readonly finding?: Finding;
  readonly rule?: string;
  readonly edits: readonly { readonly range: Range; readonly text: string }[];
  /** The texts have stops: `${1}`, `${1:reason}`, `${1|a,b|}`. */
  readonly snippet: boolean;
}

/** A fix that a rule offered and that did not stand its proof: for the log. */
export type Dropped = (rule: string, why: string) => void;

/**
 * Actions for a range of a file. `only`: the kinds asked for, as the protocol has them (`source` asks for all below it);
 * actions on a whole file are worked out only when asked for.
 */
export function codeActions(
  workspace: Workspace,
  uri: string,
  range: Range,
  only?: readonly string[],
  dropped: Dropped = () => {},
): readonly CodeAction[] {
  if (!workspace.files.has(uri)) return [];
  const snapshot = workspace.snapshot(uri);
  const asked = (kind: ActionKind): boolean =>
    only?.some((k) => kind === k || kind.startsWith(`${k}.`)) ?? !kind.startsWith('source');
  const pages = pagesIn(snapshot, range);
  return [
    ...(asked('quickfix') ? pages.flatMap((page) => quickFixes(workspace, snapshot, page, range, dropped)) : []),
    ...(asked('refactor.rewrite.tarebook.fillClaims')
      ? pages.flatMap((page) => fillLines(workspace, snapshot, page, range))
      : []),
    ...(asked('refactor.rewrite.tarebook.addDigest') ? pages.flatMap((page) => addDigest(snapshot, page, range)) : []),
    ...(asked('refactor.rewrite.tarebook.amend')
      ? pages.slice(0, 1).flatMap((page) => amend(snapshot, page, range))
      : []),
    ...(asked('refactor.rewrite.tarebook.scale') ? pages.flatMap((page) => scale(snapshot, page, range)) : []),
    ...(asked('source.fixAll.tarebook')
      ? wholeFile(snapshot, 'Apply all fixes that cannot be disputed', 'source.fixAll.tarebook', fixAll(workspace, uri))
      : []),
    ...(asked('source.fillClaims.tarebook')
      ? wholeFile(
          snapshot,
          'Fill in the claims of every line',
          'source.fillClaims.tarebook',
          snapshot.source.pages.map((_, page) => ({
            page,
            edits: fillings(workspace, uri, page).map(({ edit }) => edit),
          })),
        )
      : []),
  ];
}

function pagesIn({ source }: Snapshot, { start, end }: Range): readonly number[] {
  return source.pages.flatMap(({ line, page }, index) =>
    line <= end.line && start.line < line + page.lines.length ? [index] : [],
  );
}

// ── findings ─────────────────────────────────────────────────────────────────────────────────────────────────────

function quickFixes(
  workspace: Workspace,
  snapshot: Snapshot,
  page: number,
  range: Range,
  dropped: Dropped,
): readonly CodeAction[] {
  const result = snapshot.page(page);
  const findings = result.findings.filter(({ span }) => touches(snapshot.range(page, span), range));
  const fixes = findings.flatMap((finding) =>
    (finding.fixes ?? [])
      .filter((fix) => {
        const proof = prove(workspace, snapshot.uri, page, finding, fix);
        if (!proof.ok) dropped(finding.code, proof.why);
        return proof.ok;
      })
      .map((fix) => action(snapshot, page, finding, fix)),
  );
  const accepted = new Set<string>();
  const accepts = findings.flatMap((finding) => {
    const fix = acceptance(result, finding);
    const id = `${finding.code} ${finding.block}`;
    if (!fix || accepted.has(id)) return [];
    accepted.add(id);
    return [action(snapshot, page, finding, fix)];
  });
  return [...fixes, ...accepts];
}

const action = (snapshot: Snapshot, page: number, finding: Finding, fix: Fix): CodeAction => ({
  title: fix.title,
  kind: 'quickfix',
  preferred: fix.preferred ?? false,
  finding,
  rule: finding.code,
  edits: placed(snapshot, page, fix.edits),
  snippet: fix.snippet ?? false,
});

const placed = (snapshot: Snapshot, page: number, edits: readonly Edit[]): CodeAction['edits'] =>
  edits.map(({ span, text }) => ({ range: snapshot.range(page, span), text }));

/** `accept CODE: …` right below the statement; none where the rule offers its own. */
export function acceptance({ source, page }: PageResult, finding: Finding): Fix | undefined {
  const block = source.blocks[finding.block];
  if (block && !isOpen(page.signatures, endOf(block))) return undefined;
  const line = `accept ${finding.code}:`;
  if (!block?.block.statement || finding.fixes?.some(({ edits }) => edits.some(({ text }) => text.includes(line))))
    return undefined;
  const eol = source.text.includes('\r\n') ? '\r\n' : '\n';
  return {
    title: `Accept ${finding.code} with a reason`,
    edits: [{ span: endOf(block), text: `${eol}${line} \${1:reason}` }],
    snippet: true,
  };
}

const endOf = ({ block, at }: PlacedBlock): Span => {
  const end = at + block.text.trimEnd().length;
  return { start: end, end };
};

const before = (a: Position, b: Position): boolean =>
  a.line < b.line || (a.line === b.line && a.character < b.character);
const touches = (a: Range, b: Range): boolean => !before(a.end, b.start) && !before(b.end, a.start);

// ── claims ───────────────────────────────────────────────────────────────────────────────────────────────────────

function fillLines(workspace: Workspace, snapshot: Snapshot, page: number, range: Range): readonly CodeAction[] {
  return fillings(workspace, snapshot.uri, page, range).map(({ edit, claims }) => ({
    title: `Fill in the claims ${claims}`,
    kind: 'refactor.rewrite.tarebook.fillClaims',
    preferred: false,
    edits: placed(snapshot, page, [edit]),
    snippet: false,
  }));
}

// ── signatures ───────────────────────────────────────────────────────────────────────────────────────────────────

function amend(snapshot: Snapshot, page: number, range: Range): readonly CodeAction[] {
  const fix = amendment(snapshot, page, range.start);
  if (!fix) return [];
  const kind = 'refactor.rewrite.tarebook.amend' as const;
  return [{ title: fix.title, kind, preferred: false, edits: placed(snapshot, page, fix.edits), snippet: true }];
}

/** Behind a signature that has none; not where a digest further down covers that line already. */
function addDigest(snapshot: Snapshot, page: number, range: Range): readonly CodeAction[] {
  const { source, page: read } = snapshot.page(page);
  return read.signatures.flatMap((signature, i) => {
    const { entry, kind, digestFact } = signature;
    const covered = read.signatures.slice(i + 1).some(({ digest }) => digest);
    if (digestFact || covered || !touches(snapshot.range(page, entry.span), range)) return [];
    const end = entry.span.end;
    const join = source.text[end - 1] === ':' ? ' ' : ', ';
    const text = `${join}digest ${shortDigest(digestFor(source, signature))}`;
    return [
      {
        title: `Add the digest of the page as it was ${kind}`,
        kind: 'refactor.rewrite.tarebook.addDigest' as const,
        preferred: false,
        edits: placed(snapshot, page, [{ span: { start: end, end }, text }]),
        snippet: false,
      },
    ];
  });
}

// ── scaling ──────────────────────────────────────────────────────────────────────────────────────────────────────

const SCALED: ReadonlySet<string> = new Set(['experiment', 'reaction', 'plan', 'charge', 'product']);

/** At the lines that say what was made of what: a new page behind the last one. The page itself stays as it is. */
function scale(snapshot: Snapshot, page: number, range: Range): readonly CodeAction[] {
  const result = snapshot.page(page);
  const here = result.source.blocks.some(
    ({ block, at }) =>
      SCALED.has(block.statement?.keyword ?? '') &&
      touches(snapshot.range(page, { start: at, end: at + block.text.trimEnd().length }), range),
  );
  const text = here ? scaledPage(result) : undefined;
  const last = snapshot.source.pages.at(-1);
  // In an open fence it would be prose.
  if (text === undefined || !last || last.page.openFence) return [];
  const end = positionAt(snapshot.source, snapshot.source.length);
  const eol = snapshot.source.eol;
  const gap = /(?:\r\n?|\n)$/.test(last.page.text) ? eol : eol + eol;
  return [
    {
      title: 'Scale this page to a new plan',
      kind: 'refactor.rewrite.tarebook.scale',
      preferred: false,
      edits: [{ range: { start: end, end }, text: gap + text }],
      snippet: true,
    },
  ];
}

function wholeFile(
  snapshot: Snapshot,
  title: string,
  kind: ActionKind,
  changes: readonly { readonly page: number; readonly edits: readonly Edit[] }[],
): readonly CodeAction[] {
  const edits = changes.flatMap(({ page, edits }) => placed(snapshot, page, edits));
  return edits.length > 0 ? [{ title, kind, preferred: false, edits, snippet: false }] : [];
}
