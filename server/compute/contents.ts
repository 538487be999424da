/**
 * What a waste line brings into its stream: reactive groups and kinds of matter of all that its text names. A text
 * names little, so this finds less than there is; what it does not name is not judged.
 */
import { foldName } from '../../grammar/names';
import { patternsIn } from '../chem/structure';
import { findInHandbook, type HandbookSubstance } from '../model/handbook';
import { bookEntry, namesInText } from '../model/names-in-text';
import type { Material, Substance } from '../model/page';
import type { Matter } from '../model/streams';
import type { Waste } from '../model/waste';
import type { WasteRecord } from '../model/world';
import { clashes, groupsOf, type Pair, smilesOf } from './reactive-groups';

export interface Content {
  readonly name: string;
  /** In the text of the line. */
  readonly start: number;
  readonly end: number;
  /** Reactive groups as they count in this line: dilute sulfuric acid is no oxidising acid. */
  readonly groups: ReadonlySet<string>;
  readonly matter: ReadonlySet<Matter>;
}

interface Named {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly substances: readonly (Substance | HandbookSubstance)[];
  readonly concentrated: boolean;
}

const WET = /\baqueous\b|\bwater\b|\bwash(?:es|ings?)?\b|\bsolution\b/i;
const SULFURIC = /sul(?:f|ph)uric acid|oleum|H2SO4/i;

/** Words that say what is in it without naming a substance. */
const WORDS: readonly (readonly [pattern: RegExp, groups: readonly string[]])[] = [
  [/\bazides?\b/gi, ['azide']],
  [/\bcyanides?\b/gi, ['cyanide']],
  [/\b(?:hydrogen|bi)carbonates?\b/gi, ['base-hydrogencarbonate']],
  [/\bcarbonates?\b/gi, ['carbonate', 'base-inorganic']],
  [/\bpermanganates?\b/gi, ['oxidiser-strong', 'heavy-metal']],
  [/\b(?:di)?chromates?\b|\bchromium\b/gi, ['heavy-metal']],
  [/\bbleach\b|\bhypochlorites?\b/gi, ['hypochlorite', 'oxidiser-strong']],
  [/\b(?:hydro)?peroxides?\b/gi, ['peroxide', 'oxidiser-strong']],
  [/\b(?:chlorinated|halogenated) (?:solvents?|organics?|residues?)\b/gi, ['halogenated-organic']],
  [
    /\bheavy metals?\b|\b(?:copper|nickel|cobalt|lead|tin|zinc|cadmium|palladium|silver) (?:salts?|residues?|sludge)\b/gi,
    ['heavy-metal'],
  ],
  [/\bmercury\b/gi, ['mercury', 'heavy-metal']],
];
const GONE_BEFORE = /\b(?:no|without|free (?:of|from)|quenched|destroyed|decomposed|neutrali[sz]ed|reduced|spent)\s+$/i;
const GONE_AFTER = /^(?:[- ]free\b|\s+(?:is |was )?(?:destroyed|gone|quenched|reduced)\b)/i;

const ofWaste = new WeakMap<Waste, readonly Content[]>();
const ofRecord = new WeakMap<WasteRecord, readonly Content[]>();

export function contentsOf(waste: Waste): readonly Content[] {
  let contents = ofWaste.get(waste);
  if (!contents) {
    const named = waste.contents.map(({ name, concentrated }): Named => {
      const strong = concentrated || (name.target?.kind === 'solution' && isStrong(name.target.name));
      const at = { start: name.span.start - waste.text.span.start, end: name.span.end - waste.text.span.start };
      return { name: name.text, ...at, substances: name.target ? substancesOf(name.target) : [], concentrated: strong };
    });
    contents = judged(waste.stream.text, waste.text.text, named);
    ofWaste.set(waste, contents);
  }
  return contents;
}

/** Of a line on another page, as far as that page and the handbook tell. */
export function contentsOfRecord(record: WasteRecord): readonly Content[] {
  let contents = ofRecord.get(record);
  if (!contents) {
    const own = new Map<string, Substance>();
    for (const substance of record.known)
      for (const key of [substance.key, ...substance.also.map(({ text }) => foldName(text))]) own.set(key, substance);
    const named = namesInText(record.text, new Set(own.keys())).map(({ text, start, end, concentrated }): Named => {
      const mine = own.get(foldName(text));
      const book = mine ? undefined : bookEntry(text);
      return {
        name: text,
        start,
        end,
        substances: mine ? [mine] : book?.kind === 'solution' ? solutes(book.solute, book.solvent) : book ? [book] : [],
        concentrated: concentrated || (book?.kind === 'solution' && isStrong(book.name)),
      };
    });
    contents = judged(record.stream, record.text, named);
    ofRecord.set(record, contents);
  }
  return contents;
}

const isStrong = (solution: string): boolean => /^(?:conc|fuming|glacial)/i.test(solution);

function solutes(...names: readonly string[]): HandbookSubstance[] {
  return names.flatMap((name) => {
    const found = findInHandbook(name);
    return found?.kind === 'one' && found.entry.kind === 'substance' ? [found.entry] : [];
  });
}

/** A substance, or what is in a solution. */
export function substancesOf(material: Material): readonly Substance[] {
  if (material.kind === 'substance') return [material];
  return [material.solute?.target, material.solvent?.target].flatMap((target) =>
    target?.kind === 'substance' ? [target] : [],
  );
}

function judged(stream: string, text: string, named: readonly Named[]): readonly Content[] {
  const raw = named.map((one) => ({
    ...one,
    raw: new Set(one.substances.flatMap((s) => [...groupsOf(s), ...finer(s)])),
  }));
  const wet = WET.test(`${stream} ${text}`) || raw.some(({ raw: groups }) => groups.has('water'));
  const contents = raw.map(({ name, start, end, raw: groups, concentrated }) =>
    content(name, start, end, wet && !concentrated ? dilute(name, groups) : groups),
  );
  const covered = [...contents];
  for (const [pattern, groups] of WORDS) {
    for (const { 0: word, index } of text.matchAll(pattern)) {
      if (GONE_BEFORE.test(text.slice(0, index)) || GONE_AFTER.test(text.slice(index + word.length))) continue;
      if (covered.some(({ start, end }) => index < end && start < index + word.length)) continue;
      const all = new Set(groups);
      contents.push(content(word, index, index + word.length, wet ? dilute(word, all) : all));
    }
  }
  return contents;
}

/** Marks that no table needs: a nitro group on a ring is not the acidic one of nitromethane, styrene no Michael acceptor. */
const RING_NITRO = 'nitro-aromatic';
const PLAIN_ALKENE = 'alkene without acceptor';

function finer(substance: Substance | HandbookSubstance): readonly string[] {
  const groups = groupsOf(substance);
  if (!groups.has('nitro') && !groups.has('alkene-polymerisable')) return [];
  const smiles = smilesOf(substance);
  const has = smiles === undefined ? undefined : patternsIn(smiles);
  if (!has) return [];
  const ring = groups.has('nitro') && !has('[CX4][N+](=O)[O-]');
  const plain = groups.has('alkene-polymerisable') && !has('[CX3]=[CX3]C=O') && !has('[CX3]=[CX3]C#N');
  return [...(ring ? [RING_NITRO] : []), ...(plain ? [PLAIN_ALKENE] : [])];
}

/** In water, sulfuric acid is a mineral acid and a nitrate a salt: neither oxidises what is dissolved beside it. */
function dilute(name: string, groups: ReadonlySet<string>): ReadonlySet<string> {
  const out = new Set(groups);
  if (SULFURIC.test(name) && out.delete('acid-oxidising')) out.add('acid-mineral-nonoxidising');
  if (/\bnitrates?\b|NO3/i.test(name) && !out.has('acid-oxidising')) {
    out.delete('oxidiser-strong');
    out.delete('nitrate-ammonium');
  }
  // Bleach and dilute nitric acid have pairs of their own; they do not set fire to what is dissolved beside them.
  if (out.has('hypochlorite') || out.has('acid-oxidising')) out.delete('oxidiser-strong');
  return out;
}

const KINDS: readonly (readonly [group: string, matter: Matter])[] = [
  ['halogenated-organic', 'halogenated organics'],
  ['heavy-metal', 'heavy metals'],
  ['silver', 'heavy metals'],
  ['mercury', 'mercury'],
  ['oxidiser-strong', 'oxidisers'],
  ['peroxide', 'oxidisers'],
  ['hypochlorite', 'oxidisers'],
  ['perchlorate', 'oxidisers'],
  ['nitrate-ammonium', 'oxidisers'],
  ['cyanide', 'cyanides'],
  ['azide', 'azides'],
  ['sulfide-inorganic', 'sulfides'],
  ['fluoride-hf', 'fluorides'],
  ['hydride', 'water-reactives'],
  ['organometallic', 'water-reactives'],
  ['alkali-metal', 'water-reactives'],
  ['water-reactive-halide', 'water-reactives'],
  ['acid-mineral-nonoxidising', 'acids'],
  ['acid-oxidising', 'acids'],
  ['acid-organic', 'acids'],
  ['base-inorganic', 'bases'],
  ['water', 'water'],
];

/** What a stream's list would call it. A metal is judged by its toxicity, not by its reactivity, where it is one of both. */
export function matterOf(groups: ReadonlySet<string>): ReadonlySet<Matter> {
  const found = new Set(KINDS.flatMap(([group, matter]) => (groups.has(group) ? [matter] : [])));
  if (found.has('heavy metals')) found.delete('water-reactives');
  if (found.has('mercury')) found.delete('heavy metals');
  if (groups.has('combustible-organic') && !found.has('halogenated organics')) found.add('non-halogenated organics');
  return found;
}

const content = (name: string, start: number, end: number, groups: ReadonlySet<string>): Content => ({
  name,
  start,
  end,
  groups,
  matter: matterOf(groups),
});

/** Pairs that a third partner makes dangerous: without it they are a caution. */
const NEEDS: readonly (readonly [a: string, b: string, third: string])[] = [
  ['halocarbon-base-sensitive', 'ketone', 'base-inorganic'],
  ['silver', 'alcohol', 'acid-oxidising'],
];

/** Pairs that a mark of the first partner takes out. */
const SPARED: readonly (readonly [mark: string, a: string, b: string])[] = [
  [RING_NITRO, 'nitro', 'base-inorganic'],
  [RING_NITRO, 'nitro', 'amine'],
  [PLAIN_ALKENE, 'alkene-polymerisable', 'amine'],
  [PLAIN_ALKENE, 'alkene-polymerisable', 'base-inorganic'],
];

/**
 * What happens when two lines share a container, the worst first. `all`: every group that is in the stream, for pairs
 * that need a third partner.
 */
export function clashesIn(
  here: Pick<Content, 'name' | 'groups'>,
  there: Pick<Content, 'name' | 'groups'>,
  all: ReadonlySet<string>,
): readonly Pair[] {
  return clashes(here.groups, there.groups).filter(
    (pair) =>
      !NEEDS.some(([a, b, third]) => pairIs(pair, a, b) && !all.has(third)) &&
      !(pairIs(pair, 'acid-oxidising', 'acid-mineral-nonoxidising') && !isAquaRegia(here.name, there.name)) &&
      !SPARED.some(([mark, a, b]) => pairIs(pair, a, b) && (here.groups.has(a) ? here : there).groups.has(mark)),
  );
}

/** The pair of acids means nitric with hydrochloric; others are in these groups for their other partners. */
const isAquaRegia = (a: string, b: string): boolean =>
  [a, b].some((name) => /nitric|HNO3/i.test(name)) &&
  [a, b].some((name) => /hydrochloric|hydrobromic|hydrogen (?:chlor|brom)ide|HCl|HBr/i.test(name));

const pairIs = ({ a, b }: Pair, x: string, y: string): boolean => (a === x && b === y) || (a === y && b === x);
