/**
 * What may come next, from the text before the cursor: half a line is no statement yet, so the tree alone does not know.
 * Nothing in prose, and never a number outside a claim group.
 */
import { foldName } from '../../grammar/names';
import type { Position, Range } from '../../grammar/tree';
import { FACTS, type FactKey, KEYWORDS, type Keyword, UNITS, type UnitSymbol } from '../../grammar/vocabulary';
import { prettyFormula } from '../chem/formula';
import type { ChargeValue, TakenValue, Values } from '../compute/values';
import { findInHandbook, handbookNames } from '../model/handbook';
import type { Material, NameRef, Page } from '../model/page';
import { type Held, isHeld, type Result } from '../quantity/held';
import { show } from '../quantity/show';
import { RULES } from '../rules';
import type { PageResult, Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { type Cursor, cursorAt } from './cursor';
import { shareOf } from './share';

export interface Completion {
  readonly label: string;
  /** Name of an LSP kind: decides the icon. */
  readonly kind:
    | 'Keyword'
    | 'Class'
    | 'Struct'
    | 'Variable'
    | 'Module'
    | 'Property'
    | 'EnumMember'
    | 'Unit'
    | 'Value'
    | 'Event';
  /** Right behind the label: a formula. */
  readonly detail?: string;
  /** At the right edge: where it comes from. */
  readonly description?: string;
  /** Markdown */
  readonly documentation?: string;
  readonly range: Range;
  readonly text: string;
  readonly snippet: boolean;
  readonly filterText?: string;
  readonly sortText?: string;
  readonly additional?: readonly { readonly range: Range; readonly text: string }[];
}

/** A completion before it knows what it replaces. */
type Item = Omit<Completion, 'range' | 'snippet'> & { readonly snippet?: boolean };

interface Context {
  readonly cursor: Cursor;
  readonly result: PageResult;
  readonly snapshot: Snapshot;
  readonly workspace: Workspace;
  readonly snippets: boolean;
}

/** `incomplete`: with more letters there is more to offer. */
export interface CompletionList {
  readonly items: readonly Completion[];
  readonly incomplete: boolean;
}

/** From this many letters on the handbook is offered too: all of it at once is no help. */
const HANDBOOK_FROM = 2;

export function completion(
  snapshot: Snapshot,
  workspace: Workspace,
  at: Position,
  { snippets }: { readonly snippets: boolean },
): CompletionList {
  const cursor = cursorAt(snapshot, at);
  if (!cursor) return { items: [], incomplete: false };
  const context: Context = { cursor, result: snapshot.page(cursor.page), snapshot, workspace, snippets };
  const { typed, gap } = cursor;
  const range = { start: { line: at.line, character: Math.max(0, at.character - typed.length) }, end: at };
  const items = itemsAt(context)
    .filter(({ label, filterText }) => matches(filterText ?? label, typed))
    .map((item) => ({
      ...item,
      text: gap + item.text,
      snippet: item.snippet ?? false,
      filterText: item.filterText ?? item.label,
      range,
    }));
  return { items, incomplete: NAMED.has(cursor.kind) && typed.length < HANDBOOK_FROM };
}

const NAMED: ReadonlySet<Cursor['kind']> = new Set(['subject', 'term', 'reference']);

/** The typed letters in this order, as editors match: what cannot be meant need not be sent. */
function matches(label: string, typed: string): boolean {
  let from = 0;
  const folded = label.toLowerCase();
  for (const letter of typed.toLowerCase()) {
    from = folded.indexOf(letter, from) + 1;
    if (from === 0) return false;
  }
  return true;
}

function itemsAt(context: Context): Item[] {
  const { cursor } = context;
  switch (cursor.kind) {
    case 'keyword':
      return keywordItems(context);
    case 'subject':
      return subjectItems(context, cursor.keyword);
    case 'term':
      return materials(context, []);
    case 'claim':
      return claimItems(context);
    case 'unit':
      return unitItems(cursor.keyword, cursor.key);
    case 'reference':
      return referenceItems(context, cursor.key);
    case 'fact':
      return factItems(context, cursor.keyword, cursor.used);
  }
}

// ── statements and facts ─────────────────────────────────────────────────────────────────────────────────────────

/** Statements that are always written the same way; the others are their keyword, a name and a colon. */
const OUTLINES: { readonly [K in Keyword]?: string } = {
  vessel: 'vessel $1: $2, tare $3 g',
  balance: 'balance $1: readability $2 g',
  reaction: 'reaction $1: $2 -> $3',
  product: 'product $1: gross $2 g, in $3',
  weigh: 'weigh $1: gross $2 g, in $3',
  titrate: 'titrate $1: against $2',
  accept: 'accept $1: $2',
};

function keywordItems({ snippets, cursor }: Context): Item[] {
  const clock = cursor.kind === 'keyword' && cursor.clock;
  // A page is opened by a line of its own.
  const keywords = (Object.keys(KEYWORDS) as Keyword[]).filter((keyword) => !clock || keyword !== 'experiment');
  return keywords.map((keyword) => {
    const { subject, help } = KEYWORDS[keyword];
    const outline = OUTLINES[keyword] ?? (subject === 'none' ? `${keyword}: ` : `${keyword} $1: $2`);
    const fits = snippets && !cursor.textBehind;
    return {
      label: keyword,
      kind: 'Keyword' as const,
      documentation: help,
      text: fits ? outline : subject === 'none' ? `${keyword}: ` : keyword,
      snippet: fits,
    };
  });
}

/** May stand more than once on a line. */
const REPEATABLE: ReadonlySet<FactKey> = new Set<FactKey>([
  'also',
  'hazard',
  'contains',
  'at',
  'gross',
  'tare',
  'solubility',
]);
const VALUELESS: ReadonlySet<string> = new Set(['role', 'stage', 'amount']);

function factItems({ snippets }: Context, keyword: Keyword, used: ReadonlySet<FactKey>): Item[] {
  return KEYWORDS[keyword].facts
    .filter((key) => !used.has(key) || REPEATABLE.has(key))
    .map((key, i) => {
      const { kind, help } = FACTS[key];
      const unit = unitsOf(keyword, key)?.[0];
      const bare = VALUELESS.has(kind) && key !== 'label' && key !== 'fractions';
      const withStop = snippets && !bare && unit !== undefined;
      return {
        label: key,
        kind: bare ? ('EnumMember' as const) : ('Property' as const),
        documentation: help,
        text: withStop ? `${key} $1 ${unit}` : bare ? key : `${key} `,
        snippet: withStop,
        sortText: order(i),
      };
    });
}

const order = (i: number): string => String(i).padStart(3, '0');

// ── units ────────────────────────────────────────────────────────────────────────────────────────────────────────

const MASS: readonly UnitSymbol[] = ['g', 'mg', 'kg', 'µg'];
const VOLUME: readonly UnitSymbol[] = ['mL', 'L', 'µL', 'drops'];
const AMOUNT: readonly UnitSymbol[] = ['mmol', 'mol', 'µmol'];
const STRENGTH: readonly UnitSymbol[] = ['M', 'mol/L', 'mmol/L', 'N', 'mol/kg', '% w/w', '% w/v', '% v/v', 'g/L'];
const TEMPERATURE: readonly UnitSymbol[] = ['°C', 'K'];
const PRESSURE: readonly UnitSymbol[] = ['mmHg', 'Torr', 'mbar', 'kPa', 'bar', 'atm'];

const BY_FACT: { readonly [K in FactKey]?: readonly UnitSymbol[] } = {
  tare: MASS,
  gross: MASS,
  net: MASS,
  before: MASS,
  after: MASS,
  residue: MASS,
  readability: MASS,
  repeatability: MASS,
  capacity: MASS,
  minimum: MASS,
  density: ['g/mL', 'g/cm³', 'kg/L', 'kg/m³'],
  purity: ['%', '% w/w', 'mol%'],
  wet: ['%'],
  ee: ['%'],
  'water content': ['%', 'ppm'],
  contains: ['% w/w', '%', 'mol%'],
  loading: ['mmol/g', '% w/w'],
  'molar mass': ['g/mol'],
  mp: TEMPERATURE,
  bp: TEMPERATURE,
  at: [...TEMPERATURE, ...PRESSURE],
  'made up to': VOLUME,
  of: STRENGTH,
  burette: VOLUME,
  titre: VOLUME,
  blank: VOLUME,
  'hold-up': VOLUME,
  run: [...MASS, ...VOLUME],
  solubility: ['g/100 mL', 'g/L', 'mg/mL'],
  loss: ['%'],
  spot: ['mm', 'cm'],
  front: ['mm', 'cm'],
  for: ['min', 'h', 's', 'd'],
};

const BY_STATEMENT: { readonly [K in Keyword]?: readonly UnitSymbol[] } = {
  charge: [...VOLUME, ...MASS, ...AMOUNT],
  product: [...MASS, ...VOLUME],
  recovered: [...MASS, ...VOLUME],
  sample: [...MASS, ...VOLUME],
  waste: [...VOLUME, ...MASS],
  weigh: MASS,
  solution: [...STRENGTH, ...MASS, ...VOLUME],
  plan: [...MASS, 'equiv', 'mol%', ...VOLUME, ...AMOUNT],
  titrate: [...VOLUME, ...MASS],
  neutralise: [...VOLUME, ...MASS],
};

const unitsOf = (keyword: Keyword, key: FactKey | undefined): readonly UnitSymbol[] | undefined =>
  key ? BY_FACT[key] : BY_STATEMENT[keyword];

function unitItems(keyword: Keyword, key: FactKey | undefined): Item[] {
  return (unitsOf(keyword, key) ?? []).map((symbol, i) => ({
    label: symbol,
    kind: 'Unit',
    detail: UNITS[symbol].name,
    // Typed with the letters of the keyboard: `ul` finds `µL`.
    filterText: [symbol, ...spellings(symbol)].join(' '),
    text: symbol,
    sortText: order(i),
  }));
}

function spellings(symbol: UnitSymbol): readonly string[] {
  const unit = UNITS[symbol];
  return [...('also' in unit ? unit.also : []), ...('wrong' in unit ? unit.wrong : [])];
}

// ── names ────────────────────────────────────────────────────────────────────────────────────────────────────────

function subjectItems(context: Context, keyword: Keyword): Item[] {
  const { page } = context.result;
  const colon = context.cursor.textBehind ? '' : ': ';
  const named = (items: Item[]): Item[] => items.map((item) => ({ ...item, text: item.text + colon }));
  const left = page.reactions.flatMap((r) => r.left.filter((t) => !t.rest).map((t) => t.name));
  const right = page.reactions.flatMap((r) => r.right.filter((t) => !t.rest).map((t) => t.name));
  switch (keyword) {
    case 'charge':
      return named(materials(context, uncharged(page, left)));
    case 'product':
    case 'measure':
      return named(materials(context, right));
    case 'recovered':
      return named(materials(context, left));
    case 'plan':
      return named(materials(context, [...right, ...left]));
    case 'weigh':
      return named([...vesselItems(context), ...materials(context, [])]);
    case 'titrate':
      return named(
        materials(
          context,
          page.solutions.map(({ name, span }) => ({ text: name, span })),
        ),
      );
    case 'substance':
      return named(undeclared(page));
    case 'accept':
      return named(ruleItems(context));
    default:
      return [];
  }
}

/** Reactants of which nothing has been charged yet. */
function uncharged(page: Page, left: readonly NameRef[]): NameRef[] {
  const charged = new Set(page.charges.map(({ name }) => keyOf(name)));
  return left.filter((name) => !charged.has(keyOf(name)));
}

const keyOf = (name: NameRef): string => name.target?.key ?? foldName(name.text);

/** Names that are used on the page and stand in no `substance` line of it. */
function undeclared(page: Page): Item[] {
  const names = [
    ...page.reactions.flatMap((r) => [...r.left, ...r.right].filter((t) => !t.rest).map((t) => t.name)),
    ...page.charges.map((c) => c.name),
  ];
  const missing = names.filter(({ target }) => !target || target.where.kind === 'handbook');
  return [...new Set(missing.map(({ text }) => text))].map((text) => ({
    label: text,
    kind: 'Class',
    text,
    description: 'used on this page',
  }));
}

/** Names in the order in which they are likely: `first`, the page, the file and its registers, the handbook. */
function materials(context: Context, first: readonly NameRef[]): Item[] {
  const { result, workspace, snapshot } = context;
  const seen = new Set<string>();
  const items: Item[] = [];
  const add = (
    name: string,
    rank: number,
    description: string,
    material?: Material,
    more: Partial<Item> = {},
  ): void => {
    const key = foldName(name);
    if (seen.has(key)) return;
    seen.add(key);
    const formula = material?.kind === 'substance' ? material.formula?.text : undefined;
    items.push({
      label: name,
      kind: material?.kind === 'solution' ? 'Struct' : 'Class',
      ...(formula && { detail: prettyFormula(formula) }),
      description,
      text: name,
      sortText: `${rank}${order(items.length)}`,
      ...more,
    });
  };
  for (const { text, target } of first) add(text, 0, 'in the equation', target);
  const { page } = result;
  for (const material of [...page.substances, ...page.solutions]) add(material.name, 1, 'this page', material);
  for (const { name } of [...page.reactions.flatMap((r) => [...r.left, ...r.right]), ...page.charges])
    if (name.text !== '...') add(name.text, 1, 'this page', name.target);
  const head = snapshot.page(0).page;
  for (const material of [...head.substances, ...head.solutions]) add(material.name, 2, 'this file', material);
  for (const { page: register } of registers(workspace, snapshot.uri))
    for (const material of [...register.substances, ...register.solutions]) add(material.name, 3, 'register', material);
  const typed = context.cursor.typed.toLowerCase();
  for (const entry of typed.length < HANDBOOK_FROM ? [] : handbookNames()) {
    if (!entry.name.toLowerCase().includes(typed)) continue;
    add(entry.name, 4, 'handbook', undefined, {
      kind: entry.kind === 'solution' ? 'Struct' : 'Class',
      ...(entry.formula && { detail: prettyFormula(entry.formula) }),
      ...(entry.kind === 'substance' && { additional: declaration(context, entry.name) }),
    });
  }
  return items;
}

/** Files without a page are registers: what they declare holds everywhere. */
function* registers(workspace: Workspace, own: string): Generator<PageResult> {
  for (const [uri, source] of workspace.files)
    if (uri !== own && source.pages.length === 1) yield workspace.snapshot(uri).page(0);
}

/** The `substance` line of a handbook entry, below the last declaration of the page. */
function declaration({ result, snapshot, cursor }: Context, name: string): { range: Range; text: string }[] {
  const found = findInHandbook(name);
  if (found?.kind !== 'one' || found.entry.kind !== 'substance') return [];
  const { formula, written, density, cas, state } = found.entry;
  const facts = [
    written ?? formula ?? (state === undefined ? 'state mixture' : undefined),
    density &&
      !density.doubtful &&
      `density ${density.digits} ${density.unit}${density.at ? ` at ${density.at} °C` : ''}`,
    cas && `CAS ${cas}`,
  ].filter(Boolean);
  const { eol } = snapshot.source;
  const { page, source } = result;
  const last = [...page.substances, ...page.solutions]
    .map(({ entry }) => entry?.block ?? -1)
    .reduce((a, b) => Math.max(a, b), -1);
  const firstUse = [...page.reactions, ...page.charges]
    .map(({ entry }) => entry.block)
    .reduce((a, b) => Math.min(a, b), cursor.block);
  const block = last >= 0 && last < cursor.block ? last + 1 : firstUse;
  const at = source.blocks[block]?.at ?? 0;
  return [
    {
      range: snapshot.range(cursor.page, { start: at, end: at }),
      text: `substance ${name}: ${facts.join(', ')}${eol}`,
    },
  ];
}

function vesselItems({ result, snapshot, workspace }: Context): Item[] {
  const found = [result.page, snapshot.page(0).page, ...[...registers(workspace, snapshot.uri)].map((r) => r.page)];
  const names = new Map(found.flatMap((page) => page.vessels.map((v) => [v.key, v] as const)).reverse());
  return [...names.values()].map(({ name, description, tares }) => {
    const tare = tares.at(-1)?.datum.quantity;
    return {
      label: name,
      kind: 'Variable' as const,
      ...(tare && { detail: `tare ${tare.number.text} ${tare.unit?.symbol ?? ''}`.trim() }),
      ...(description && { description }),
      text: name,
    };
  });
}

function balanceItems({ result, snapshot, workspace }: Context): Item[] {
  const found = [result.page, snapshot.page(0).page, ...[...registers(workspace, snapshot.uri)].map((r) => r.page)];
  return [...new Set(found.flatMap((page) => page.balances.map(({ name }) => name)))].map((name) => ({
    label: name,
    kind: 'Variable',
    text: name,
  }));
}

function referenceItems(context: Context, key: FactKey): Item[] {
  switch (key) {
    case 'in':
      return [...vesselItems(context), ...solvents(context)];
    case 'on':
      return balanceItems(context);
    case 'from':
      return pageItems(context);
    default:
      return materials(context, []);
  }
}

/** What was charged as a solvent, for `of 2.5 M in …` and `Rf 0.4 in …`. */
const solvents = ({ result }: Context): Item[] =>
  [
    ...new Set(
      result.page.charges
        .filter(({ roles }) => roles.some(({ role }) => role === 'solvent'))
        .map(({ name }) => name.text),
    ),
  ].map((text) => ({ label: text, kind: 'Class', text, description: 'solvent' }));

/** Other pages and the batches they made. */
function pageItems({ result }: Context): Item[] {
  return result.world.pageIds().flatMap((id) => {
    if (id === result.page.id?.text) return [];
    const [summary] = result.world.page(id);
    const batches = (summary?.products ?? []).filter(({ label }) => label);
    const about = summary && { description: summary.title };
    return [
      { label: id, kind: 'Module' as const, text: id, ...about },
      ...batches.map(({ label, name }) => ({
        label: `${id}/${label}`,
        kind: 'Module' as const,
        text: `${id}/${label}`,
        description: name,
      })),
    ];
  });
}

/** Rules that have found something on the page first, those of the statement above before all. */
function ruleItems({ result, cursor }: Context): Item[] {
  const above = new Set(
    result.findings
      .filter(({ block }) => block < cursor.block)
      .toReversed()
      .map(({ code }) => code),
  );
  const found = new Set([...above, ...result.findings.map(({ code }) => code)]);
  const ranks = [...found, ...RULES.map(({ code }) => code).filter((code) => !found.has(code))];
  return ranks.map((code, i) => ({
    label: code,
    kind: 'Event',
    ...(found.has(code) && { description: 'found on this page' }),
    documentation: RULES.find((rule) => rule.code === code)?.title ?? '',
    text: code,
    sortText: order(i),
  }));
}

// ── claims ───────────────────────────────────────────────────────────────────────────────────────────────────────

function claimItems({ result: { values }, cursor }: Context): Item[] {
  const claimed = new Set(
    values.claims.filter(({ owner }) => owner.block === cursor.block).map(({ property }) => property),
  );
  const open = claimsOf(values, cursor.block).filter(([property]) => !claimed.has(property as never));
  const items = open.map(
    ([property, text], i): Item => ({
      label: text,
      kind: 'Value',
      description: property,
      text,
      sortText: order(i + 1),
    }),
  );
  if (open.length < 2) return items;
  const all = open.map(([, text]) => text).join(', ');
  return [{ label: all, kind: 'Value', description: 'all of them', text: all, sortText: order(0) }, ...items];
}

type ClaimText = readonly [property: string, text: string];

/** What can be claimed on a statement, written with the digits of its measurement. */
function claimsOf(values: Values, block: number): ClaimText[] {
  const here = ({ entry }: { readonly entry: { readonly block: number } }) => entry.block === block;
  const charge = values.charges.find((v) => here(v.charge));
  if (charge) return [...takenClaims(charge), ...shareClaim(charge)];
  const product = values.products.find((v) => here(v.product));
  if (product) return [...takenClaims(product), ...claim('yield', product.yield)];
  const recovered = values.recovered.find((v) => here(v.recovered));
  if (recovered) return [...takenClaims(recovered), ...claim('recovery', recovered.recovery)];
  const weigh = values.weighs.find((v) => here(v.weigh));
  if (weigh) return takenClaims(weigh);
  const solution = values.solutions.find(({ solution }) => solution.entry?.block === block);
  if (solution)
    return [...claim('concentration', solution.concentration), ...claim('mass fraction', solution.massFraction)];
  const measured = values.measurements.filter((v) => here(v.measurement) && isHeld(v.calculated));
  if (measured.length === 0) return [];
  const parts = measured.map(({ what, calculated }) =>
    [what, show(calculated as Held, { as: 'claim' })].filter(Boolean).join(' '),
  );
  return [[measured[0]!.kind === 'HRMS' ? 'm/z' : 'element', `calcd ${parts.join(', ')}`]];
}

function takenClaims({ mass, volume, amount, weighing }: TakenValue): ClaimText[] {
  const net = weighing && isHeld(weighing.net) && weighing.net.working.formula !== undefined;
  return [
    ...(net ? claim('net', weighing.net, 'net ') : claim('mass', mass)),
    ...(isHeld(mass) && mass.working.formula === undefined ? [] : claim('volume', volume)),
    ...claim('amount', amount),
  ];
}

function shareClaim(value: ChargeValue): ClaimText[] {
  const share = shareOf(value);
  return share ? [[share.unit.unit ?? 'equiv', show(share.held, { ...share.unit, as: 'claim' })]] : [];
}

/** A measured number is no claim. */
const claim = (property: string, value: Result, label = ''): ClaimText[] =>
  isHeld(value) && value.working.formula !== undefined ? [[property, label + show(value, { as: 'claim' })]] : [];
