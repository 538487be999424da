/** Runs the rules over a page: settings, one finding for one cause, `accept`. */
import type { Span } from '../../grammar/tree';
import type { Accept } from '../model/page';
import type { Settings } from '../settings';
import type { Finding, Rule, RuleContext, Severity } from './rule';

export interface Judged {
  readonly findings: readonly Finding[];
  readonly accepted: readonly { readonly finding: Finding; readonly reason: string }[];
}

/** A rule that throws is silent for the user; the test suite makes it loud. */
export type OnFailure = (code: string, error: unknown) => void;

export function judge(
  rules: readonly Rule[],
  context: Omit<RuleContext, 'found'>,
  settings: Settings,
  onFailure: OnFailure,
): Judged {
  const found: Finding[] = [];
  const doubted: Span[] = [];
  // What an amendment has replaced is kept, and no longer judged.
  const replaced = context.page.amendments.flatMap(({ target }) => target?.old ?? []);
  for (const rule of rules) {
    const severity = settings.severity[rule.code] ?? rule.severity;
    if (severity === 'off') continue;
    try {
      // Collected first, so that a rule which throws half-way leaves nothing behind.
      const own: Finding[] = [];
      for (const f of rule.check({ ...context, found })) {
        if (f.rests?.some((span) => doubted.some((d) => touches(d, span)))) continue;
        if (replaced.some((old) => old.start <= f.span.start && f.span.end <= old.end)) continue;
        own.push({ ...f, code: rule.code, severity: severityOf(rule.code, f.severity, severity, settings) });
      }
      found.push(...own);
      for (const finding of own) doubted.push(...(finding.doubts ?? []));
    } catch (error) {
      onFailure(rule.code, error);
    }
  }
  found.sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);
  return setAside(found, context);
}

/** A severity that somebody set stands above what the rule thinks of the single case. */
const severityOf = (code: string, own: Severity | undefined, severity: Severity, settings: Settings): Severity =>
  settings.severity[code] === undefined ? (own ?? severity) : severity;

const touches = (a: Span, b: Span): boolean => a.start < b.end && b.start < a.end;

function setAside(found: readonly Finding[], context: Omit<RuleContext, 'found'>): Judged {
  const { accepts } = context.page;
  if (accepts.length === 0) return { findings: found, accepted: [] };
  const findings: Finding[] = [];
  const accepted: { finding: Finding; reason: string }[] = [];
  for (const finding of found) {
    const accept = accepts.find((a) => a.reason && covers(a, finding, context));
    if (accept) accepted.push({ finding, reason: accept.reason!.text });
    else findings.push(finding);
  }
  return { findings, accepted };
}

/** An `accept` belongs to the statement above it, other accepts passed over. */
export function covers(
  accept: Accept,
  finding: Pick<Finding, 'code' | 'block'>,
  context: Pick<RuleContext, 'source'>,
): boolean {
  if (accept.rule.text !== finding.code) return false;
  if (accept.wholePage) return true;
  const { blocks } = context.source;
  for (let i = accept.entry.block - 1; i >= 0; i--) {
    const statement = blocks[i]?.block.statement;
    if (statement && statement.keyword !== 'accept') return i === finding.block;
  }
  return false;
}
