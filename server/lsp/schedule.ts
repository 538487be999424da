/**
 * When a page is judged and what of it is shown. There is no pause before judging: an edit costs one page, and the rest
 * is put together from what is known. Only a long piece of work (a large file just opened, a register changed) is cut
 * into slices, so that a request never waits for all of it.
 */
import type { Diagnostic } from 'vscode-languageserver/node';
import type { PageSource } from '../../grammar/tree';
import type { Family, Finding } from '../rules/rule';
import type { Snapshot } from '../snapshot';
import {
  anchorsOf,
  type DiagnosticContext,
  diagnostic,
  SEVERITIES,
  shifted,
  withElsewhere,
  withoutRelated,
} from './convert';
import type { Document, Edited } from './documents';

/** Longest stretch without looking at what else has come, ms. */
const SLICE = 20;
/** Findings shown of one file; an editor with thousands in its list helps nobody. */
export const MOST_FINDINGS = 200;
/** How long a statement is left in peace after a keystroke, ms. */
export const GRACE = 1500;

/** Of a statement in the making these say only that it is not finished. */
const NOT_WHILE_TYPING: ReadonlySet<Family> = new Set<Family>(['reading', 'units']);

/** Runs a piece of work; undefined when `stop` said so between two slices. */
export async function inSlices<T>(work: Generator<void, T>, stop: () => boolean): Promise<T | undefined> {
  let until = performance.now() + SLICE;
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
    if (performance.now() < until) continue;
    await new Promise((resolve) => setTimeout(resolve));
    if (stop()) return undefined;
    until = performance.now() + SLICE;
  }
}

/**
 * Findings of every page, in page order. The page being written comes first: what was computed for it stays known. A
 * page that had to be read anew is a step, and `afresh` may use what is known of it right then.
 */
export function* judge(
  snapshot: Snapshot,
  view: DiagnosticView,
  first = 0,
  afresh: (page: number) => void = () => {},
): Generator<void, readonly (readonly Finding[])[]> {
  const pages: (readonly Finding[])[] = [];
  if (first < snapshot.pageCount) snapshot.findings(first);
  for (let i = 0; i < snapshot.pageCount; i++) {
    const findings = snapshot.findings(i);
    pages.push(findings);
    if (view.knows(findings)) continue;
    view.read(snapshot, i, findings);
    afresh(i);
    yield;
  }
  return pages;
}

interface Found {
  readonly finding: Finding;
  /** Lines counted from the start of the page. */
  readonly diagnostic: Diagnostic;
  /** As it was last sent, and what that rests on. */
  sent?: { readonly line: number; readonly anchors: readonly unknown[]; readonly diagnostic: Diagnostic };
}

interface PageView {
  readonly page: PageSource;
  /** By severity, 1 (error) to 4 (hint). */
  readonly bySeverity: readonly (readonly Found[])[];
  readonly count: number;
}

export interface View {
  readonly diagnostics: readonly Diagnostic[];
  /** Some findings of the statement being written are held back. */
  readonly heldBack: boolean;
}

/** The findings of one document as its client sees them; remembers what it made of each page. */
export class DiagnosticView {
  readonly #made = new WeakMap<readonly Finding[], PageView>();

  constructor(
    private readonly context: DiagnosticContext,
    private readonly familyOf: (code: string) => Family | undefined,
  ) {}

  knows(findings: readonly Finding[]): boolean {
    return this.#made.has(findings);
  }

  read(snapshot: Snapshot, page: number, findings: readonly Finding[]): void {
    this.#pageView(snapshot.source.pages[page]!.page, findings);
  }

  /** `grace`: what is being written may be left in peace. */
  compose(
    snapshot: Snapshot,
    findings: readonly (readonly Finding[])[],
    { edited, typing }: Pick<Document, 'edited' | 'typing'>,
    grace: boolean,
  ): View {
    const { pages } = snapshot.source;
    const held = grace && typing && edited ? this.#quiet(findings[edited.page] ?? [], edited) : undefined;
    const views = findings.map((found, i) =>
      held && i === edited?.page ? this.#view(pages[i]!.page, held) : this.#pageView(pages[i]!.page, found),
    );
    const { most, hidden } = allowance(views, edited?.page);
    const diagnostics: Diagnostic[] = [];
    views.forEach(({ count, bySeverity }, i) => {
      if (count === 0) return;
      const { line } = pages[i]!;
      bySeverity.forEach((list, severity) => {
        const shown = most ? most[i]![severity]! : list.length;
        // Nobody follows the inputs of findings by the hundred.
        const related = most === undefined || i === edited?.page;
        for (let k = 0; k < shown; k++) diagnostics.push(this.#sent(list[k]!, line, related));
      });
    });
    if (hidden > 0) diagnostics.push(notShown(hidden));
    return { diagnostics, heldBack: held !== undefined };
  }

  #sent(found: Found, line: number, related: boolean): Diagnostic {
    const anchors = related ? anchorsOf(found.finding, this.context) : NO_INPUTS;
    const { sent } = found;
    if (sent && sent.line === line && sameItems(sent.anchors, anchors)) return sent.diagnostic;
    const here = shifted(found.diagnostic, line);
    const diagnostic = related ? withElsewhere(here, found.finding, this.context) : withoutRelated(here);
    found.sent = { line, anchors, diagnostic };
    return diagnostic;
  }

  /** What is left when the statement being written is let be; undefined when that is all. */
  #quiet(findings: readonly Finding[], { block }: Edited): readonly Finding[] | undefined {
    const held = (finding: Finding): boolean => {
      const family = this.familyOf(finding.code);
      return finding.block === block && family !== undefined && NOT_WHILE_TYPING.has(family);
    };
    return findings.some(held) ? findings.filter((finding) => !held(finding)) : undefined;
  }

  #pageView(page: PageSource, findings: readonly Finding[]): PageView {
    const known = this.#made.get(findings);
    if (known && (known.page === page || findings.length === 0)) return known;
    const made = this.#view(page, findings);
    this.#made.set(findings, made);
    return made;
  }

  #view(page: PageSource, findings: readonly Finding[]): PageView {
    const bySeverity: Found[][] = [[], [], [], []];
    for (const finding of findings)
      bySeverity[SEVERITIES[finding.severity] - 1]!.push({
        finding,
        diagnostic: diagnostic(finding, page, this.context),
      });
    return { page, bySeverity, count: findings.length };
  }
}

/** Stands for the anchors of a diagnostic that was sent without its inputs. */
const NO_INPUTS: readonly unknown[] = [{}];

const sameItems = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((item, i) => item === b[i]);

/**
 * How many of each page and severity are shown when there are too many: the worst first, and of equals those of the
 * page last written on, so that a new error is always seen; then the newest, since a notebook grows at its end.
 */
function allowance(
  views: readonly PageView[],
  edited: number | undefined,
): { readonly most?: readonly (readonly number[])[]; readonly hidden: number } {
  let total = 0;
  for (const view of views) total += view.count;
  if (total <= MOST_FINDINGS) return { hidden: 0 };
  const order = [...(edited === undefined ? [] : [edited]), ...[...views.keys()].reverse()];
  const most = views.map(() => [0, 0, 0, 0]);
  let left = MOST_FINDINGS;
  for (let severity = 0; severity < 4 && left > 0; severity++) {
    for (const i of order) {
      const share = most[i]!;
      const take = Math.min(left, views[i]!.bySeverity[severity]!.length - share[severity]!);
      share[severity]! += take;
      left -= take;
      if (left === 0) break;
    }
  }
  return { most, hidden: total - MOST_FINDINGS };
}

const notShown = (count: number): Diagnostic => ({
  range: { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } },
  severity: SEVERITIES.information,
  source: 'tarebook',
  message: `${count} more ${count === 1 ? 'finding is' : 'findings are'} not shown here; “tarebook check” lists them all.`,
});
