/**
 * What a name stands for: on the page, then in the file, then in the registers, then in the handbook. A page's own
 * word always wins; the handbook only fills in what nobody wrote.
 */
import { foldFormula, foldName } from '../../grammar/names';
import { parse } from '../../grammar/parse';
import type { Span } from '../../grammar/tree';
import { hill, looksLikeFormula, parseFormula, sameComposition } from '../chem/formula';
import { Decimal } from '../quantity/decimal';
import type { Origin } from '../quantity/held';
import { unitOf } from '../quantity/units';
import type { Definitions, SolutionDraft } from './definitions';
import { datumOf, factsOf, isQuantity, isWord, textOf } from './facts';
import { deliveredBy, type Glassware, measuredWith, resolveGlassware } from './glassware';
import type { HandbookSolution, HandbookSubstance, HandbookValue } from './handbook';
import { findFormulaInHandbook, findInHandbook } from './handbook';
import type { Balance, Datum, Material, NameRef, Solution, Strength, Substance, TextFact, Vessel } from './page';
import type { World } from './world';

export interface Scope {
  name(text: string, span: Span): NameRef;
  /** The same behind a strength: `0.1 mol/L hydrochloric acid` leaves only the strength of the bottle open. */
  solute(text: string, span: Span): NameRef;
  vessel(text: string): Vessel | undefined;
  balance(text: string): Balance | undefined;
  /** The balance of every reading of the page, when only one is known. */
  readonly onlyBalance?: Balance;
  /** Those of the page, else those that hold everywhere. */
  readonly balances: readonly Balance[];
  readonly substances: readonly Substance[];
  readonly solutions: readonly Solution[];
}

const NOWHERE: Span = { start: 0, end: 0 };

export function createScope(definitions: Definitions, world: World): Scope {
  const substances = definitions.substances.map(complete);
  const byKey = new Map<string, Material[]>();
  const enter = (key: string, material: Material): void => {
    const list = byKey.get(key);
    if (!list) byKey.set(key, [material]);
    else if (!list.includes(material)) list.push(material);
  };
  for (const substance of substances) {
    enter(substance.key, substance);
    for (const also of substance.also) enter(foldName(also.text), substance);
  }
  const known = new Map<string, Omit<NameRef, 'text' | 'span'>>();
  const solutions: Solution[] = [];

  const name = (text: string, span: Span): NameRef => {
    let found = known.get(text);
    if (!found) {
      // Entered before it is looked up, so that a solution of itself ends.
      known.set(text, {});
      found = resolve(text);
      known.set(text, found);
    }
    return { text, span, ...found };
  };

  const resolve = (text: string): Omit<NameRef, 'text' | 'span'> => {
    const key = foldName(text);
    const here = byKey.get(key);
    if (here?.length === 1) return { target: here[0]! };
    if (here) return { several: here.map((m) => m.name) };
    const outside = world.material(key)[0];
    if (outside) return { target: adopt(outside) };
    const formula = looksLikeFormula(text) ? parseFormula(text) : undefined;
    if (formula?.ok) {
      const same = substances.filter((s) => s.formula?.formula && sameComposition(s.formula.formula, formula.formula));
      if (same.length === 1) return { target: same[0]! };
      if (same.length > 1) return { several: same.map((s) => s.name) };
      const elsewhere = world.byFormula(hill(formula.formula));
      if (elsewhere.length === 1) return { target: adopt(elsewhere[0]!) };
    }
    const strong = withStrength(text, name);
    const carried = strong?.solute?.target;
    if (carried?.kind === 'substance' && isDeclared(carried)) return { target: densityFromHandbook(strong!) };
    const book = findInHandbook(text);
    if (book?.kind === 'one') {
      const own = declaredAs([book.entry.name, ...book.entry.synonyms]);
      if (own) return { target: own };
      if (!formula?.ok || book.entry.kind === 'substance') return { target: fromHandbook(book.entry, name) };
    }
    if (formula?.ok) {
      const byFormula = findFormulaInHandbook(hill(formula.formula));
      if (byFormula?.kind === 'one' && byFormula.entry.kind === 'substance') {
        const own = declaredAs([byFormula.entry.name, ...byFormula.entry.synonyms]);
        const entry = fromHandbook(byFormula.entry, name);
        if (!own && entry.kind === 'substance') return { target: entry };
      }
      return { target: bareFormula(text) };
    }
    if (book?.kind === 'several') return { several: book.names };
    return strong ? { target: strong } : {};
  };

  /** A page may call a substance by another of its usual names than the one it declared. */
  const declaredAs = (names: readonly string[]): Material | undefined => {
    const found = new Set(names.flatMap((n) => byKey.get(foldName(n)) ?? []));
    return found.size === 1 ? [...found][0] : undefined;
  };

  const adopted = new Map<Material, Material>();
  const adopt = (material: Material): Material => {
    let own = adopted.get(material);
    if (!own) {
      own = material.kind === 'substance' ? complete(material) : resolveNames(material, name);
      adopted.set(material, own);
    }
    return own;
  };

  const vessels = index(definitions.vessels);
  const vessel = (text: string): Vessel | undefined => vessels.get(foldName(text)) ?? world.vessel(foldName(text))[0];

  for (const draft of definitions.solutions) {
    const solution = resolveDraft(draft, name, resolveGlassware(draft.glass ?? [], vessel));
    solutions.push(solution);
    enter(solution.key, solution);
    for (const also of solution.also) enter(foldName(also.text), solution);
    known.clear();
  }
  // Solutions made from later ones: resolved again now that all names are known.
  solutions.forEach((solution, i) => {
    const draft = definitions.solutions[i]!;
    if (!solution.solute?.target && draft.solute) {
      const solute = asSolute(name(draft.solute.text, draft.solute.span), name);
      if (solution.strength || solute.target) Object.assign(solution, { solute });
    }
    if (solution.parts?.some((part) => !part.name.target))
      Object.assign(solution, { parts: partsOf(draft, name, solution.parts) });
  });

  const balances = index(definitions.balances);
  const everywhere = definitions.balances.length > 0 ? definitions.balances : world.balances();
  return {
    name,
    solute: (text, span) => asSolute(name(text, span), name),
    vessel,
    balance: (text) => balances.get(foldName(text)) ?? world.balance(foldName(text))[0],
    ...(everywhere.length === 1 && { onlyBalance: everywhere[0]! }),
    balances: everywhere,
    substances,
    solutions,
  };
}

function index<T extends { readonly key: string }>(items: readonly T[]): ReadonlyMap<string, T> {
  const map = new Map<string, T>();
  for (const item of items) if (!map.has(item.key)) map.set(item.key, item);
  return map;
}

type Resolver = (text: string, span: Span) => NameRef;

/** A name that several solutions of one substance share is that substance, where a strength stands before it. */
function asSolute(ref: NameRef, name: Resolver): NameRef {
  if (!ref.several) return ref;
  const solutes = new Set(
    ref.several.map((text) => {
      const { target } = name(text, NOWHERE);
      return target?.kind === 'solution' ? target.solute?.target : undefined;
    }),
  );
  const [only] = solutes;
  return solutes.size === 1 && only ? { text: ref.text, span: ref.span, target: only } : ref;
}

function resolveDraft(draft: SolutionDraft, name: Resolver, glass: readonly Glassware[]): Solution {
  const { solute, solvent, parts, strength, glass: _, ...rest } = draft;
  const named = solute && asSolute(name(solute.text, solute.span), name);
  const solution: Solution = {
    kind: 'solution',
    ...rest,
    ...(strength && { strength: withGlassware(strength, glass) }),
    // Without a strength it names a solute only if that is known: `stored in the cold room` does not.
    ...(named && (strength || named.target) && { solute: named }),
    ...(solvent && { solvent: name(solvent.text, solvent.span) }),
    ...(parts && { parts: partsOf(draft, name, undefined, glass) }),
  };
  return densityFromHandbook(solution);
}

function partsOf(
  draft: SolutionDraft,
  name: Resolver,
  known: Solution['parts'],
  glass: readonly Glassware[] = [],
): NonNullable<Solution['parts']> {
  return (draft.parts ?? []).map((part, i) => ({
    datum: known?.[i]?.datum ?? measuredWith(part.datum, deliveredBy(glass)),
    name: part.of ? asSolute(name(part.name.text, part.name.span), name) : name(part.name.text, part.name.span),
    ...(part.of && { of: part.of }),
  }));
}

/** A pipette measured what was taken, a flask what it was made up to. */
function withGlassware(strength: Strength, glass: readonly Glassware[]): Strength {
  if (strength.kind !== 'made-up' || glass.length === 0) return strength;
  const flask = glass.find((g) => g.kind === 'flask') ?? glass.find((g) => g.kind === 'cylinder');
  return {
    ...strength,
    solute: measuredWith(strength.solute, deliveredBy(glass.filter((g) => g !== flask))),
    ...(strength.to && { to: measuredWith(strength.to, flask) }),
  };
}

function resolveNames(solution: Solution, name: Resolver): Solution {
  const { solute, solvent, parts } = solution;
  return densityFromHandbook({
    ...solution,
    ...(parts && { parts: parts.map((p) => ({ ...p, name: name(p.name.text, p.name.span) })) }),
    ...(solute && { solute: asSolute(name(solute.text, solute.span), name) }),
    ...(solvent && { solvent: name(solvent.text, solvent.span) }),
  });
}

/** Fills in what the page left open, where the handbook means the same substance. */
function complete(substance: Substance): Substance {
  const found = findInHandbook(substance.name);
  if (found?.kind !== 'one' || found.entry.kind !== 'substance') return substance;
  const entry = found.entry;
  if (substance.formula && entry.formula) {
    const book = parseFormula(entry.formula);
    if (!substance.formula.formula || !book.ok || !sameComposition(substance.formula.formula, book.formula))
      return substance;
  }
  const book = substanceFromHandbook(entry);
  const own = Object.fromEntries(Object.entries(substance).filter(([, value]) => value !== undefined));
  return {
    ...book,
    // A structure is not taken over: the page did not say which isomer.
    ...(substance.formula || substance.repeatUnit || substance.state === 'mixture'
      ? {}
      : book.formula && { formula: book.formula }),
    ...(own as unknown as Substance),
    ...(substance.density && !substance.densityAt ? { densityAt: undefined } : {}),
    hazards: substance.hazards.length > 0 ? substance.hazards : book.hazards,
  } as Substance;
}

function fromHandbook(entry: HandbookSubstance | HandbookSolution, name: Resolver): Material {
  return entry.kind === 'substance' ? substanceFromHandbook(entry) : solutionFromHandbook(entry, name);
}

const substances = new WeakMap<HandbookSubstance, Substance>();

function substanceFromHandbook(entry: HandbookSubstance): Substance {
  let made = substances.get(entry);
  if (!made) {
    const formula = entry.written ?? entry.formula;
    const parsed = formula === undefined ? undefined : parseFormula(formula);
    made = {
      kind: 'substance',
      name: entry.name,
      key: foldName(entry.name),
      also: entry.synonyms.map((text) => ({ text, span: NOWHERE })),
      where: { kind: 'handbook', source: entry.source },
      span: NOWHERE,
      hazards: entry.hazards,
      ...(formula !== undefined &&
        parsed?.ok && { formula: { text: formula, span: NOWHERE, formula: parsed.formula } }),
      ...(entry.cas && { cas: { text: entry.cas, span: NOWHERE } }),
      ...(entry.state && { state: entry.state }),
      ...(entry.density && { density: bookDatum(entry.name, entry.density) }),
      ...(entry.density?.at && {
        densityAt: bookDatum(entry.name, { ...entry.density, digits: entry.density.at, unit: '°C' }),
      }),
      ...(entry.mp && { mp: bookDatum(entry.name, entry.mp) }),
      ...(entry.bp && { bp: bookDatum(entry.name, entry.bp) }),
      ...(entry.wasteClass && { wasteClass: entry.wasteClass }),
      ...(entry.note && { note: entry.note }),
    };
    substances.set(entry, made);
  }
  return made;
}

function solutionFromHandbook(entry: HandbookSolution, name: Resolver): Solution {
  const strength = {
    digits: entry.strength.digits,
    unit: entry.strength.unit,
    source: entry.source,
    doubtful: entry.doubtful,
  };
  const solute = name(entry.solute, NOWHERE);
  return {
    kind: 'solution',
    name: entry.name,
    key: foldName(entry.name),
    also: entry.synonyms.map((text) => ({ text, span: NOWHERE })),
    where: { kind: 'handbook', source: entry.source },
    span: NOWHERE,
    strength: { kind: 'written', datum: bookDatum(entry.name, strength) },
    solute: solute.target || !entry.soluteFormula ? solute : name(entry.soluteFormula, NOWHERE),
    solvent: name(entry.solvent, NOWHERE),
    ...(entry.density && { density: bookDatum(entry.name, entry.density) }),
    claims: [],
  };
}

/** A solution of the page that is sold under its name takes its density from the handbook if the strength agrees. */
function densityFromHandbook(solution: Solution): Solution {
  if (solution.density || solution.strength?.kind !== 'written') return solution;
  const found = findInHandbook(solution.name);
  if (found?.kind !== 'one' || found.entry.kind !== 'solution' || !found.entry.density) return solution;
  const { number, unit } = solution.strength.datum.quantity;
  if (unit?.symbol !== found.entry.strength.unit || !number.value.eq(found.entry.strength.digits)) return solution;
  return { ...solution, density: bookDatum(found.entry.name, found.entry.density) };
}

function bookDatum(entry: string, value: Omit<HandbookValue, 'unit'> & { readonly unit: string }): Datum {
  const origin: Origin = { from: 'handbook', entry, source: value.source, ...(value.doubtful && { doubtful: true }) };
  const number = new Decimal(value.digits);
  const unit = unitOf(value.unit as Parameters<typeof unitOf>[0]);
  return {
    quantity: {
      number: {
        text: value.digits,
        value: number,
        place: -number.decimalPlaces(),
        figures: number.precision(true),
        start: 0,
        end: 0,
      },
      course: false,
      about: false,
      unit,
      start: 0,
      end: 0,
    },
    origin,
    span: NOWHERE,
  };
}

/** A formula that stands for itself: its molar mass is known and nothing else. */
function bareFormula(text: string): Substance {
  const parsed = parseFormula(text);
  return {
    kind: 'substance',
    name: text,
    key: `formula ${parsed.ok ? hill(parsed.formula) : foldFormula(text)}`,
    also: [],
    where: { kind: 'formula' },
    span: NOWHERE,
    hazards: [],
    ...(parsed.ok && { formula: { text, span: NOWHERE, formula: parsed.formula } }),
  };
}

/** Somebody of this notebook wrote it down. */
const isDeclared = ({ where }: Material): boolean => where.kind !== 'handbook' && where.kind !== 'formula';

/** `n-BuLi (2.5 M in hexanes)`: a bracket that ends a name and holds a strength. */
function withStrength(text: string, name: Resolver): Solution | undefined {
  const match = /^(.+?)\s+\(([^()]+)\)$/.exec(text);
  if (!match?.[1] || !match[2] || !/\d/.test(match[2])) return undefined;
  const solute = name(match[1], NOWHERE);
  const strength = solute.target ? readStrength(match[2]) : undefined;
  if (!strength) return undefined;
  return {
    kind: 'solution',
    name: text,
    key: foldName(text),
    also: [],
    where: { kind: 'formula' },
    span: NOWHERE,
    strength: { kind: 'written', datum: strength.datum },
    solute,
    ...(strength.solvent && { solvent: name(strength.solvent.text, NOWHERE) }),
    claims: [],
  };
}

function readStrength(text: string): { datum: Datum; solvent?: TextFact } | undefined {
  const line = `solution a: ${text}`;
  const block = parse(line).pages[0]?.page.blocks[0];
  const fact = block?.block.statement && factsOf(block.block.statement)[0];
  const node = fact?.parts[0];
  if (!fact || !isQuantity(node)) return undefined;
  const place = { at: 0, text: line };
  const datum = datumOf(node, place);
  const kind = datum?.quantity.unit?.kind;
  if (!datum || !(kind && STRENGTHS.has(kind))) return undefined;
  const solvent = isWord(fact.parts[1], 'in') ? textOf(fact.parts, 2, fact.parts.length, place) : undefined;
  return { datum, ...(solvent && { solvent }) };
}

const STRENGTHS = new Set<string>([
  'concentration',
  'equivalentConcentration',
  'molality',
  'massFraction',
  'massPerVolume',
  'volumeFraction',
  'density',
  'ratio',
]);

/** What tells materials apart. */
export const materialKey = (material: Material): string => `${material.kind} ${material.key}`;
