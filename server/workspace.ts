/**
 * All files of a notebook as one immutable value. A page is judged again exactly when its text changed or an answer it
 * got from outside did: {@link World} is its only window, and every question is kept with a fingerprint of the answer.
 */
import { foldName } from '../grammar/names';
import type { PageSource, Range, SourceFile, Span } from '../grammar/tree';
import { hill } from './chem/formula';
import { besideSigned } from './compute/amended';
import { compute, type OverallYield } from './compute/compute';
import { contentsOfRecord } from './compute/contents';
import { outcomeOf } from './compute/outcome';
import type { Values } from './compute/values';
import type { ReadBlock } from './model/amend';
import { type Definitions, readDefinitions } from './model/definitions';
import { entryName } from './model/facts';
import type { Balance, Material, NameRef, Solution, Substance, Vessel } from './model/page';
import { readPage } from './model/read';
import { createScope } from './model/scope';
import type { Stream } from './model/streams';
import { type FullSummary, summarise } from './model/summary';
import type { Batch, Brought, Outcome, Summary, TareElsewhere, World } from './model/world';
import { Decimal } from './quantity/decimal';
import type { Origin } from './quantity/held';
import { routeTo } from './routes';
import { RULES } from './rules';
import { judge, type OnFailure } from './rules/run';
import { DEFAULTS, type Settings } from './settings';
import type { PageResult, Snapshot } from './snapshot';

export interface Workspace {
  readonly files: ReadonlyMap<string, SourceFile>;
  readonly settings: Settings;
  /** The same workspace with files replaced, added or (undefined) taken away. */
  with(changes: ReadonlyMap<string, SourceFile | undefined>, settings?: Settings): Workspace;
  snapshot(uri: string): Snapshot;
  /** Where an origin on another page stands now. */
  locate(origin: Extract<Origin, { from: 'there' }>): { readonly uri: string; readonly range: Range } | undefined;
  /** What pages with this ID made; several when the ID stands on several pages. */
  outcomes(id: string): readonly Outcome[];
  /** Pages as other pages see them, in the order of their files. */
  readonly summaries: readonly Summary[];
}

export function createWorkspace(settings: Settings = DEFAULTS, onFailure: OnFailure = () => {}): Workspace {
  return build(new Map(), settings, onFailure, undefined);
}

// ── what depends on a page's text alone ──────────────────────────────────────────────────────────────────────────

interface TextFacts {
  readonly definitions: Definitions;
  readonly summary: FullSummary | undefined;
}

const textFacts = new WeakMap<PageSource, { readonly uri: string; readonly facts: TextFacts }>();

function factsOf(source: PageSource, uri: string): TextFacts {
  const known = textFacts.get(source);
  if (known?.uri === uri) return known.facts;
  const definitions = readDefinitions(source, { where: { kind: 'page' } });
  const facts = { definitions, summary: summarise(source, uri, definitions) };
  textFacts.set(source, { uri, facts });
  return facts;
}

/** A file without any page: what it declares holds for the whole workspace. */
const isRegister = (file: SourceFile): boolean => file.pages.length === 1;
const headOf = (file: SourceFile): PageSource => file.pages[0]!.page;
const nameOfFile = (uri: string): string => decodeSafely(uri.slice(uri.lastIndexOf('/') + 1));

function decodeSafely(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

// ── indexes ──────────────────────────────────────────────────────────────────────────────────────────────────────

interface Declared {
  readonly materials: ReadonlyMap<string, readonly Material[]>;
  readonly formulas: ReadonlyMap<string, readonly Substance[]>;
  readonly vessels: ReadonlyMap<string, readonly Vessel[]>;
  readonly balances: ReadonlyMap<string, readonly Balance[]>;
  readonly allBalances: readonly Balance[];
  readonly streams: ReadonlyMap<string, readonly Stream[]>;
}

function declaredIn(definitions: readonly Definitions[]): Declared {
  const substances = definitions.flatMap((d) => d.substances);
  const solutions = definitions.flatMap((d) =>
    d.solutions.map((draft): Solution => {
      // Names inside are resolved by the page that asks.
      const { solute, solvent, ...rest } = draft;
      return { kind: 'solution', ...rest, ...(solute && { solute }), ...(solvent && { solvent }) };
    }),
  );
  const balances = definitions.flatMap((d) => d.balances);
  const names = (m: Material): string[] => [m.key, ...m.also.map((also) => foldName(also.text))];
  return {
    materials: group([...substances, ...solutions], names),
    formulas: group(substances, (s) => (s.formula?.formula ? [hill(s.formula.formula)] : [])),
    vessels: group(
      definitions.flatMap((d) => d.vessels),
      (v) => [v.key],
    ),
    balances: group(balances, (b) => [b.key]),
    allBalances: balances,
    streams: group(
      definitions.flatMap((d) => d.streams),
      (s) => [s.key, ...s.also.map((also) => foldName(also.text))],
    ),
  };
}

function group<T>(items: readonly T[], keys: (item: T) => readonly string[]): ReadonlyMap<string, readonly T[]> {
  const map = new Map<string, T[]>();
  for (const item of items) {
    for (const key of new Set(keys(item))) {
      const list = map.get(key);
      if (list) list.push(item);
      else map.set(key, [item]);
    }
  }
  return map;
}

const headDeclared = new WeakMap<PageSource, { readonly uri: string; readonly declared: Declared }>();

/** What a file's head declares, as its pages see it. */
function declaredByHead(head: PageSource, uri: string): Declared {
  const known = headDeclared.get(head);
  if (known?.uri === uri) return known.declared;
  const declared = declaredIn([
    readDefinitions(head, { where: { kind: 'file' }, elsewhere: { where: `head of ${nameOfFile(uri)}`, uri } }),
  ]);
  headDeclared.set(head, { uri, declared });
  return declared;
}

interface Registers {
  readonly heads: readonly { readonly uri: string; readonly head: PageSource }[];
  readonly declared: Declared;
}

/** Registers in the order of their addresses; kept as they are while none of them changed. */
function registersOf(files: ReadonlyMap<string, SourceFile>, before: Registers | undefined): Registers {
  const heads = [...files].filter(([, file]) => isRegister(file)).map(([uri, file]) => ({ uri, head: headOf(file) }));
  heads.sort((a, b) => (a.uri < b.uri ? -1 : 1));
  if (
    before &&
    before.heads.length === heads.length &&
    heads.every((h, i) => h.head === before.heads[i]!.head && h.uri === before.heads[i]!.uri)
  ) {
    return before;
  }
  return { heads, declared: declaredIn(heads.map(definitionsOfRegister)) };
}

const definitionsOfRegister = ({ uri, head }: Registers['heads'][number]): Definitions =>
  readDefinitions(head, { where: { kind: 'register', uri }, elsewhere: { where: nameOfFile(uri), uri } });

interface Pages {
  readonly list: readonly FullSummary[];
  readonly byId: ReadonlyMap<string, readonly FullSummary[]>;
  readonly tares: ReadonlyMap<
    string,
    readonly { readonly summary: FullSummary; readonly tare: FullSummary['tares'][number] }[]
  >;
  readonly takers: ReadonlyMap<string, readonly FullSummary[]>;
  readonly wastes: ReadonlyMap<string, readonly FullSummary[]>;
}

/** Summaries of all pages; the same object while they say the same. */
function pagesOf(files: ReadonlyMap<string, SourceFile>, before: Pages | undefined): Pages {
  const list: FullSummary[] = [];
  for (const [uri, file] of files) {
    for (const { page } of file.pages) {
      const { summary } = factsOf(page, uri);
      if (summary) list.push(summary);
    }
  }
  if (before && before.list.length === list.length) {
    if (list.every((s, i) => s === before.list[i] || s.fingerprint === before.list[i]!.fingerprint)) return before;
  }
  return {
    list,
    byId: group(list, (s) => [s.id]),
    tares: group(
      list.flatMap((summary) => summary.tares.map((tare) => ({ summary, tare }))),
      ({ tare }) => [tare.key],
    ),
    takers: group(list, (s) => s.takes.map((t) => t.id)),
    wastes: group(list, (s) => s.wastes.map((w) => w.key)),
  };
}

// ── results that are kept ────────────────────────────────────────────────────────────────────────────────────────

interface Outside {
  readonly head: Declared | undefined;
  readonly registers: Registers;
  readonly pages: Pages;
  readonly settings: Settings;
}

interface Kept {
  readonly uri: string;
  readonly outside: Outside;
  readonly asked: ReadonlyMap<string, number>;
  readonly findings: PageResult['findings'];
  readonly accepted: PageResult['accepted'];
}

/** Everything about this many pages is kept; of the others only what was found. */
const FULL_RESULTS = 24;

const sameOutside = (a: Outside, b: Outside): boolean =>
  a.head === b.head && a.registers === b.registers && a.pages === b.pages && a.settings === b.settings;

interface Memory {
  /** Verdicts by page; checked against the outside before they are used. */
  readonly kept: WeakMap<PageSource, Kept>;
  readonly outcomes: WeakMap<PageSource, { readonly outside: Outside; readonly outcome: Outcome | undefined }>;
}

function build(
  files: ReadonlyMap<string, SourceFile>,
  settings: Settings,
  onFailure: OnFailure,
  before: { readonly registers: Registers; readonly pages: Pages; readonly memory: Memory } | undefined,
): Workspace {
  const registers = registersOf(files, before?.registers);
  const pages = pagesOf(files, before?.pages);
  const memory: Memory = before?.memory ?? { kept: new WeakMap(), outcomes: new WeakMap() };
  const snapshots = new Map<string, Snapshot>();
  const full = new Map<PageSource, PageResult>();

  const outsideOf = (file: SourceFile, uri: string, index: number): Outside => ({
    head: index === 0 ? undefined : declaredByHead(headOf(file), uri),
    registers,
    pages,
    settings,
  });

  const worldOf = (uri: string, source: PageSource, outside: Outside): Window => {
    const layers = [
      outside.head,
      isOwnRegister(registers, source) ? withoutSelf(registers, source) : registers.declared,
    ].filter((l) => l !== undefined);
    const own = factsOf(source, uri).summary;
    const from = <T>(pick: (d: Declared) => ReadonlyMap<string, readonly T[]>, key: string): readonly T[] => {
      for (const layer of layers) {
        const found = pick(layer).get(key);
        if (found) return layer === layers[0] && layers[1] ? [...found, ...(pick(layers[1]).get(key) ?? [])] : found;
      }
      return [];
    };
    const world: World = {
      material: (key) => from((d) => d.materials, key),
      byFormula: (formula) => from((d) => d.formulas, formula),
      vessel: (key) => from((d) => d.vessels, key),
      balance: (key) => from((d) => d.balances, key),
      balances: () => layers.find((d) => d.allBalances.length > 0)?.allBalances ?? [],
      page: (id) => pages.byId.get(id) ?? [],
      tares: (key) => taresElsewhere(key, own, pages, layers),
      pageIds: () => [...pages.byId.keys()],
      batch: (id, label) => batchOf(id, label),
      overall: (id, label) => overallOf(id, label),
      stream: (key) => from((d) => d.streams, key),
      wastes: (key) => broughtTo(pages, key),
    };
    return { world, answer: (question) => answerTo(question, layers, pages, world) };
  };

  const overallOf = (id: string, label: string | undefined): number | undefined => {
    const makers = outcomes(id);
    // Two pages with one ID: nobody knows which batch was meant.
    const made =
      makers.length === 1 ? makers[0]!.made.find((m) => label === undefined || m.label === label) : undefined;
    return made && routeTo(outcomes, makers[0]!, made)?.yield;
  };

  const batchOf = (id: string, label: string | undefined): Batch | undefined => {
    const makers = outcomes(id);
    if (makers.length === 0) return undefined;
    const same = (l: string | undefined): boolean => label === undefined || l === label;
    const made = makers.flatMap((o) => o.made.filter((m) => same(m.label)));
    const known = made.length > 0 && made.every((m) => m.mass !== undefined);
    // Samples are taken on the page that made it.
    const takers = new Set([...makers, ...(pages.takers.get(id) ?? []).flatMap(outcomesOfPage)]);
    const taken = [...takers].flatMap((o) =>
      o.taken
        .filter((t) => t.id === id && same(t.label))
        .map((t) => ({
          page: o.id,
          uri: o.uri,
          ...(t.mass !== undefined && { mass: t.mass }),
        })),
    );
    const sum = made.reduce((sum, m) => sum.plus(m.mass ?? 0), new Decimal(0));
    return { ...(known && { made: sum.toNumber() }), taken };
  };

  const sourcesOf = (summary: FullSummary): { file: SourceFile; index: number }[] => {
    const file = files.get(summary.uri);
    return (file?.pages ?? []).flatMap(({ page }, index) =>
      factsOf(page, summary.uri).summary?.id === summary.id ? [{ file: file!, index }] : [],
    );
  };
  const outcomesOfPage = (summary: FullSummary): Outcome[] =>
    sourcesOf(summary).flatMap(({ file, index }) => outcomeAt(summary.uri, file, index) ?? []);
  const outcomes = (id: string): readonly Outcome[] => {
    const list = pages.byId.get(id) ?? [];
    return [...new Set(list.map((s) => s.uri))].flatMap((uri) => outcomesOfPage(list.find((s) => s.uri === uri)!));
  };

  const outcomeAt = (uri: string, file: SourceFile, index: number): Outcome | undefined => {
    const source = file.pages[index]!.page;
    const outside = outsideOf(file, uri, index);
    const known = memory.outcomes.get(source);
    if (known && sameOutside(known.outside, outside)) return known.outcome;
    // What a page made does not depend on what others yielded: asked without that, a circle of pages comes to an end.
    const outcome = full.get(source)?.outcome ?? readAndCompute(uri, source, outside, () => undefined).outcome;
    memory.outcomes.set(source, { outside, outcome });
    return outcome;
  };

  const readAndCompute = (uri: string, source: PageSource, outside: Outside, overall?: OverallYield) => {
    const window = recording(worldOf(uri, source, outside));
    const { definitions, summary } = factsOf(source, uri);
    const computed = (defined: Definitions, blocks?: readonly ReadBlock[]): Values => {
      const page = readPage(source, defined, window.world, blocks);
      let scope: ReturnType<typeof createScope> | undefined;
      const lookUp = (text: string): NameRef => {
        scope ??= createScope(defined, window.world);
        return scope.name(text, { start: 0, end: 0 });
      };
      return compute(page, lookUp, overall ?? (({ id, label }) => window.world.overall(id, label)));
    };
    const current = computed(definitions);
    const { page } = current;
    // What was claimed rightly when the page was signed is no slip because a reading was amended.
    const values = page.amendments.some(({ target }) => target)
      ? besideSigned(current, () =>
          computed(readDefinitions(source, { where: { kind: 'page' } }, source.blocks), source.blocks),
        )
      : current;
    const outcome = summary && outcomeOf(values, uri, summary.id);
    return { ...window, page, values, ...(summary && { summary }), ...(outcome && { outcome }) };
  };

  const analyse = (uri: string, source: PageSource, outside: Outside): PageResult => {
    const { world, asked, page, values, summary, outcome } = readAndCompute(uri, source, outside);
    const text = (span: Span): string => source.text.slice(span.start, span.end);
    // A page that was put away and not judged otherwise since keeps its findings, and whoever knows it by them finds it.
    const stood = standing(uri, source, outside);
    const { findings, accepted } =
      stood ?? judge(RULES, { page, values, source, world, settings, text }, settings, onFailure);
    if (!stood) memory.kept.set(source, { uri, outside, asked, findings, accepted });
    return {
      source,
      page,
      values,
      world,
      findings,
      accepted,
      ...(summary && { summary }),
      ...(outcome && { outcome }),
    };
  };

  /** What was found stands while the page gets the same answers. */
  const standing = (uri: string, source: PageSource, outside: Outside): Kept | undefined => {
    const kept = memory.kept.get(source);
    if (!kept || kept.uri !== uri || kept.outside.settings !== outside.settings) return undefined;
    if (sameOutside(kept.outside, outside)) return kept;
    const { answer } = worldOf(uri, source, outside);
    for (const [question, before] of kept.asked) if (answer(question) !== before) return undefined;
    const renewed = { ...kept, outside };
    memory.kept.set(source, renewed);
    return renewed;
  };

  const snapshotOf = (uri: string): Snapshot => {
    const source = files.get(uri);
    if (!source) throw new RangeError(`no such file in the workspace: ${uri}`);
    const resultAt = (index: number): PageResult => {
      const page = source.pages[index]!.page;
      const known = full.get(page);
      if (known) return known;
      const result = analyse(uri, page, outsideOf(source, uri, index));
      full.set(page, result);
      if (full.size > FULL_RESULTS) full.delete(full.keys().next().value!);
      return result;
    };
    return {
      uri,
      source,
      pageCount: source.pages.length,
      page: resultAt,
      findings(index) {
        const page = source.pages[index]!.page;
        return standing(uri, page, outsideOf(source, uri, index))?.findings ?? resultAt(index).findings;
      },
      range: (index, span) => rangeIn(source, index, span),
    };
  };

  return {
    files,
    settings,
    summaries: pages.list,
    with(changes, newSettings = settings) {
      const next = new Map(files);
      for (const [uri, file] of changes) {
        if (file) next.set(uri, file);
        else next.delete(uri);
      }
      return build(next, newSettings, onFailure, { registers, pages, memory });
    },
    snapshot(uri) {
      let snapshot = snapshots.get(uri);
      if (!snapshot) {
        snapshot = snapshotOf(uri);
        snapshots.set(uri, snapshot);
      }
      return snapshot;
    },
    locate: (origin) => locate(files, origin),
    outcomes,
  };
}

const isOwnRegister = (registers: Registers, source: PageSource): boolean =>
  registers.heads.some((h) => h.head === source);

/** A register does not see its own lines as somebody else's. */
const withoutSelf = (registers: Registers, source: PageSource): Declared =>
  declaredIn(registers.heads.filter((h) => h.head !== source).map(definitionsOfRegister));

/** Tares of a vessel on all pages, newest first; sorted once while the pages say the same. */
const sortedTares = new WeakMap<Pages, Map<string, readonly TareElsewhere[]>>();

function taresOnPages(pages: Pages, key: string): readonly TareElsewhere[] {
  let known = sortedTares.get(pages);
  if (!known) {
    known = new Map();
    sortedTares.set(pages, known);
  }
  let list = known.get(key);
  if (!list) {
    list = (pages.tares.get(key) ?? [])
      .map(({ summary: { uri, id, date }, tare }): TareElsewhere => ({ ...tare, uri, id, ...(date && { date }) }))
      .sort((a, b) => compare(b.date ?? '', a.date ?? ''));
    known.set(key, list);
  }
  return list;
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function taresElsewhere(
  key: string,
  own: FullSummary | undefined,
  pages: Pages,
  layers: readonly Declared[],
): readonly TareElsewhere[] {
  const others = taresOnPages(pages, key).filter(
    (tare) => own === undefined || tare.id !== own.id || tare.uri !== own.uri,
  );
  const registered = layers
    .flatMap((layer) => layer.vessels.get(key) ?? [])
    .flatMap((vessel): TareElsewhere[] => {
      const tare = vessel.tares.at(-1);
      const origin = tare?.datum.origin;
      if (!tare || origin?.from !== 'there' || !origin.uri) return [];
      const { number, unit } = tare.datum.quantity;
      const { uri, start, end } = origin;
      const entry = origin.entry ?? '';
      return [
        { vessel: vessel.name, key, digits: number.text, unit: unit?.symbol ?? 'g', entry, uri, span: { start, end } },
      ];
    });
  return [...others, ...registered];
}

/** What all pages put into a stream; worked out once while the pages say the same. */
const broughtByPages = new WeakMap<Pages, Map<string, readonly Brought[]>>();

/** Two pages a group are enough: whoever asks is at most one of them. */
const PAGES_A_GROUP = 2;

function broughtTo(pages: Pages, key: string): readonly Brought[] {
  let known = broughtByPages.get(pages);
  if (!known) {
    known = new Map();
    broughtByPages.set(pages, known);
  }
  let list = known.get(key);
  if (!list) {
    const groups = new Map<string, Brought[]>();
    // The earliest first: who comes later finds it there. A page without a date may have been the first of all.
    const inOrder = [...(pages.wastes.get(key) ?? [])].sort((a, b) => compare(a.date ?? '', b.date ?? ''));
    for (const { uri, id, date, wastes } of inOrder) {
      for (const record of wastes) {
        if (record.key !== key) continue;
        for (const { name, groups: all } of contentsOfRecord(record)) {
          for (const group of all) {
            const brought = groups.get(group) ?? [];
            groups.set(group, brought);
            if (brought.length >= PAGES_A_GROUP || brought.some((b) => b.id === id && b.uri === uri)) continue;
            const { entry, span } = record;
            brought.push({ group, name, groups: [...all], uri, id, ...(date && { date }), entry, span });
          }
        }
      }
    }
    list = [...groups.values()].flat();
    known.set(key, list);
  }
  return list;
}

// ── questions and answers ────────────────────────────────────────────────────────────────────────────────────────

type Question =
  | 'stream'
  | 'wastes'
  | 'material'
  | 'byFormula'
  | 'vessel'
  | 'balance'
  | 'balances'
  | 'page'
  | 'tares'
  | 'pageIds'
  | 'batch'
  | 'overall';

/** What a definition says and where: its file and its text. */
const printOf = (d: { readonly where: Material['where']; readonly entry?: { readonly text: string } }): string =>
  `${d.where.kind === 'register' ? d.where.uri : d.where.kind} ${d.entry?.text ?? ''}`;

const inLayer: { readonly [kind in Question]?: (layer: Declared, key: string) => readonly string[] } = {
  material: (layer, key) => (layer.materials.get(key) ?? []).map(printOf),
  byFormula: (layer, key) => (layer.formulas.get(key) ?? []).map(printOf),
  vessel: (layer, key) => (layer.vessels.get(key) ?? []).map(printOf),
  balance: (layer, key) => (layer.balances.get(key) ?? []).map(printOf),
  balances: (layer) => layer.allBalances.map(printOf),
  tares: (layer, key) => (layer.vessels.get(key) ?? []).map(printOf),
  stream: (layer, key) => (layer.streams.get(key) ?? []).map(printOf),
};

const onPages: { readonly [kind in Question]?: (pages: Pages, key: string) => readonly string[] } = {
  page: (pages, id) => (pages.byId.get(id) ?? []).map((s) => s.fingerprint),
  tares: (pages, key) =>
    (pages.tares.get(key) ?? []).map(({ summary: s, tare: t }) => JSON.stringify([s.uri, s.id, s.date, t])),
  pageIds: (pages) => [...pages.byId.keys()],
  wastes: (pages, key) => broughtTo(pages, key).map((brought) => JSON.stringify(brought)),
};

/** Answers are told apart by a hash; each is hashed once while what it comes from stands. */
const hashes = new WeakMap<object, Map<string, number>>();

function hashOnce(owner: object, question: string, parts: () => readonly string[]): number {
  let known = hashes.get(owner);
  if (!known) {
    known = new Map();
    hashes.set(owner, known);
  }
  let hash = known.get(question);
  if (hash === undefined) {
    hash = hashOf(parts().join('\n'));
    known.set(question, hash);
  }
  return hash;
}

/** 53 bits of two multiplicative hashes run side by side. */
function hashOf(text: string): number {
  let a = 0xdeadbeef;
  let b = 0x41c6ce57;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 2654435761);
    b = Math.imul(b ^ c, 1597334677);
  }
  a ^= b >>> 15;
  b ^= a >>> 13;
  return (b >>> 11) * 4294967296 + (a >>> 0);
}

/** A fingerprint of the answer that a question gets from these layers and pages. */
function answerTo(question: string, layers: readonly Declared[], pages: Pages, world: World): number {
  const blank = question.indexOf(' ');
  const kind = question.slice(0, blank) as Question;
  const key = question.slice(blank + 1);
  if (kind === 'batch' || kind === 'overall') {
    const slash = key.indexOf('/');
    const of = world[kind];
    return hashOf(JSON.stringify((slash < 0 ? of(key) : of(key.slice(0, slash), key.slice(slash + 1))) ?? null));
  }
  let answer = 0;
  const ofLayer = inLayer[kind];
  if (ofLayer)
    for (const layer of layers)
      answer = (answer * 31 + hashOnce(layer, question, () => ofLayer(layer, key))) % Number.MAX_SAFE_INTEGER;
  const ofPages = onPages[kind];
  if (ofPages) answer = (answer * 31 + hashOnce(pages, question, () => ofPages(pages, key))) % Number.MAX_SAFE_INTEGER;
  return answer;
}

interface Window {
  readonly world: World;
  /** The fingerprint of today's answer to a question. */
  readonly answer: (question: string) => number;
}

/** The window with a record of what was asked through it. */
function recording({ world, answer }: Window): { world: World; asked: Map<string, number> } {
  const asked = new Map<string, number>();
  const note = (kind: Question, key: string): void => {
    const question = `${kind} ${key}`;
    if (!asked.has(question)) asked.set(question, answer(question));
  };
  const ask = <K extends 'material' | 'byFormula' | 'vessel' | 'balance' | 'page' | 'tares' | 'stream' | 'wastes'>(
    kind: K,
  ) =>
    ((key: string) => {
      note(kind, key);
      return world[kind](key);
    }) as World[K];
  return {
    asked,
    world: {
      material: ask('material'),
      byFormula: ask('byFormula'),
      vessel: ask('vessel'),
      balance: ask('balance'),
      page: ask('page'),
      tares: ask('tares'),
      stream: ask('stream'),
      wastes: ask('wastes'),
      balances: () => {
        note('balances', '');
        return world.balances();
      },
      pageIds: () => {
        note('pageIds', '');
        return world.pageIds();
      },
      overall: (id, label) => {
        note('overall', label === undefined ? id : `${id}/${label}`);
        return world.overall(id, label);
      },
      batch: (id, label) => {
        note('batch', label === undefined ? id : `${id}/${label}`);
        return world.batch(id, label);
      },
    },
  };
}

// ── places ───────────────────────────────────────────────────────────────────────────────────────────────────────

function rangeIn(source: SourceFile, index: number, span: Span): Range {
  const placed = source.pages[index]!;
  const { lines } = placed.page;
  const position = (offset: number) => {
    let low = 0;
    let high = lines.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (lines[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: placed.line + low, character: offset - (lines[low] ?? 0) };
  };
  return { start: position(span.start), end: position(span.end) };
}

function locate(
  files: ReadonlyMap<string, SourceFile>,
  origin: Extract<Origin, { from: 'there' }>,
): { uri: string; range: Range } | undefined {
  const file = origin.uri === undefined ? undefined : files.get(origin.uri);
  if (!file || origin.uri === undefined) return undefined;
  const index =
    origin.page === undefined
      ? 0
      : file.pages.findIndex(({ page }) => factsOf(page, origin.uri!).summary?.id === origin.page);
  const placed = file.pages[index];
  if (!placed) return undefined;
  const found = placed.page.blocks.find(({ block }) => block.statement && entryName(block.statement) === origin.entry);
  const at = found?.at ?? placed.page.blocks.find(({ block }) => block.kind !== 'blank')?.at ?? 0;
  const span = found ? { start: at + origin.start, end: at + origin.end } : { start: at, end: at };
  return { uri: origin.uri, range: rangeIn(file, index, span) };
}
