/**
 * Reactive groups of a substance, and what happens when two groups meet in one container. Rules and pairs stand in
 * `server/data`; they look at one substance and know nothing of strength or of mixtures. They are for cautions that
 * defer to the safety data sheet, the site's rules and a qualified person.
 */
import type { Formula } from '../chem/formula';
import { parseFormula } from '../chem/formula';
import { patternsIn } from '../chem/structure';
import { lazy, readTable } from '../chem/table';
import bookGroupsCsv from '../data/handbook-groups.csv';
import groupsCsv from '../data/reactive-groups.csv';
import pairsCsv from '../data/waste-compatibility.csv';
import { findInHandbook, type HandbookSubstance, handbookNames } from '../model/handbook';
import type { Substance } from '../model/page';

/** All that the rules ask of a substance. */
export interface Identity {
  readonly cas?: string;
  readonly smiles?: string;
  readonly elements: readonly string[];
  readonly hazards: readonly string[];
  readonly liquid: boolean;
}

interface Part {
  readonly kind: 'smarts' | 'smarts+liquid' | 'cas' | 'elements' | 'hcode';
  /** A pattern, or a list. */
  readonly value: string;
  readonly list: ReadonlySet<string>;
}

export interface ReactiveGroup {
  readonly group: string;
  readonly name: string;
  readonly rule: readonly Part[];
  readonly mustMatch: readonly string[];
  readonly mustNotMatch: readonly string[];
}

export interface Pair {
  readonly a: string;
  /** A group, or `material:…`, `condition:…`. */
  readonly b: string;
  readonly consequence: readonly string[];
  readonly severity: 'caution' | 'warning' | 'danger';
  readonly happens: string;
}

export const reactiveGroups = lazy((): readonly ReactiveGroup[] =>
  readTable<'group' | 'name' | 'rule' | 'must_match' | 'must_not_match'>(groupsCsv).map((row) => ({
    group: row.group,
    name: row.name,
    rule: row.rule.split(';;').map(partOf),
    mustMatch: row.must_match.split(';').filter(Boolean),
    mustNotMatch: row.must_not_match.split(';').filter(Boolean),
  })),
);

function partOf(text: string): Part {
  const colon = text.indexOf(':');
  const value = text.slice(colon + 1);
  return { kind: text.slice(0, colon) as Part['kind'], value, list: new Set(value.split(' ')) };
}

/** Every SMARTS pattern of the table. */
export const groupPatterns = (): readonly string[] =>
  reactiveGroups().flatMap(({ rule }) => rule.flatMap(({ kind, value }) => (kind.startsWith('smarts') ? [value] : [])));

const pairs = lazy((): readonly Pair[] =>
  readTable<'group_a' | 'group_b' | 'consequence' | 'severity' | 'what_happens'>(pairsCsv).map((row) => ({
    a: row.group_a,
    b: row.group_b,
    consequence: row.consequence.split(';'),
    severity: row.severity as Pair['severity'],
    happens: row.what_happens,
  })),
);
const pairsOf = lazy((): ReadonlyMap<string, readonly Pair[]> => {
  const found = new Map<string, Pair[]>();
  for (const pair of pairs())
    for (const group of new Set([pair.a, pair.b])) found.set(group, [...(found.get(group) ?? []), pair]);
  return found;
});

export const groupName = (group: string): string => reactiveGroups().find((row) => row.group === group)?.name ?? group;

const SEVERITIES: readonly Pair['severity'][] = ['danger', 'warning', 'caution'];

/** Pairs of which one group is here and the other there, the worst first. */
export function clashes(here: ReadonlySet<string>, there: ReadonlySet<string>): readonly Pair[] {
  const found = new Set<Pair>();
  for (const group of here)
    for (const pair of pairsOf().get(group) ?? [])
      if ((pair.a === group && there.has(pair.b)) || (pair.b === group && there.has(pair.a))) found.add(pair);
  return [...found].sort((x, y) => SEVERITIES.indexOf(x.severity) - SEVERITIES.indexOf(y.severity));
}

/** What a group does to a material or under a condition: `material:glass`. */
export const cautionsOf = (group: string): readonly Pair[] =>
  (pairsOf().get(group) ?? []).filter((pair) => /^(?:material|condition):/.test(pair.b));

/** Groups of the handbook's substances, worked out beforehand: the first patterns of a process cost most of a second. */
const ofBook = lazy(
  (): ReadonlyMap<string, ReadonlySet<string>> =>
    new Map(
      readTable<'name' | 'groups'>(bookGroupsCsv).map(({ name, groups }) => [
        name,
        new Set(groups.split(';').filter(Boolean)),
      ]),
    ),
);

/** That table, for the test that keeps it current. */
export function handbookGroupsTable(): string {
  const rows = handbookNames().flatMap(({ name, kind }) => {
    const found = kind === 'substance' ? findInHandbook(name) : undefined;
    if (found?.kind !== 'one' || found.entry.kind !== 'substance') return [];
    const cell = /[",]/.test(name) ? `"${name.replaceAll('"', '""')}"` : name;
    return [`${cell},${[...match(identityOf(found.entry))].join(';')}`];
  });
  return `name,groups\n${rows.join('\n')}\n`;
}

const known = new WeakMap<object, ReadonlySet<string>>();

/** Groups of a substance of a page or of the handbook; worked out once. */
export function groupsOf(substance: Substance | HandbookSubstance): ReadonlySet<string> {
  if (isBook(substance)) return ofBook().get(substance.name) ?? match(identityOf(substance));
  // A page's structure is one object however often the page is read or the substance completed.
  const key = substance.smiles ?? substance;
  let groups = known.get(key);
  if (!groups) {
    const book = bookOf(substance);
    groups = book ? groupsOf(book) : match(identityOf(substance));
    known.set(key, groups);
  }
  return groups;
}

const isBook = (substance: Substance | HandbookSubstance): substance is HandbookSubstance => !('where' in substance);

/** The handbook's entry where the page adds nothing to it. */
function bookOf(substance: Substance): HandbookSubstance | undefined {
  if (substance.smiles) return undefined;
  const found = findInHandbook(substance.name);
  if (found?.kind !== 'one' || found.entry.kind !== 'substance') return undefined;
  const { entry } = found;
  const own = substance.formula?.formula;
  const book = entry.formula ? parseFormula(entry.formula) : undefined;
  return own && !(book?.ok && elementsOf(own).join() === elementsOf(book.formula).join()) ? undefined : entry;
}

/** The structure, of the page or of the handbook. */
export const smilesOf = (substance: Substance | HandbookSubstance): string | undefined =>
  isBook(substance) ? substance.smiles : (substance.smiles?.text ?? bookOf(substance)?.smiles);

const elementsOf = (formula: Formula): readonly string[] =>
  [...formula.counts.keys()].map((key) => key.replace(/^\d+/, '')).sort();

export function identityOf(substance: Substance | HandbookSubstance): Identity {
  if (isBook(substance)) {
    const formula = substance.formula ? parseFormula(substance.formula) : undefined;
    return {
      ...(substance.cas && { cas: substance.cas }),
      ...(substance.smiles && { smiles: substance.smiles }),
      elements: formula?.ok ? elementsOf(formula.formula) : [],
      hazards: substance.hazards,
      liquid: substance.state === 'liquid',
    };
  }
  const formula = substance.formula?.formula ?? substance.repeatUnit?.formula;
  return {
    ...(substance.cas && { cas: substance.cas.text }),
    ...(substance.smiles && { smiles: substance.smiles.text }),
    elements: formula ? elementsOf(formula) : [],
    hazards: substance.hazards,
    liquid: substance.state === 'liquid',
  };
}

function match(identity: Identity): ReadonlySet<string> {
  const ask = identity.smiles === undefined ? undefined : patternsIn(identity.smiles);
  const fits = ({ kind, value, list }: Part): boolean => {
    switch (kind) {
      case 'smarts':
        return ask?.(value) === true;
      case 'smarts+liquid':
        return identity.liquid && ask?.(value) === true;
      case 'cas':
        return identity.cas !== undefined && list.has(identity.cas);
      case 'elements':
        return identity.elements.some((element) => list.has(element));
      case 'hcode':
        return identity.hazards.some((code) => list.has(code));
    }
  };
  return new Set(reactiveGroups().flatMap(({ group, rule }) => (rule.some(fits) ? [group] : [])));
}
