/** Waste streams as a page sees them: the site's own, else the stock list. */
import { foldName } from '../../grammar/names';
import type { Content } from '../compute/contents';
import type { Pair } from '../compute/reactive-groups';
import { type Matter, type Stream, stockStream } from '../model/streams';
import type { Waste } from '../model/waste';
import type { World } from '../model/world';

export const streamOf = (world: World, name: string): Stream | undefined =>
  world.stream(foldName(name))[0] ?? stockStream(name);

/** Where a content stands on the page. */
export const placeOf = (waste: Waste, { start, end }: Pick<Content, 'start' | 'end'>) => ({
  start: waste.text.span.start + start,
  end: waste.text.span.start + end,
});

/** `halogenated organics` → `a halogenated organic`, for a sentence about one substance. */
const ONE: { readonly [kind in Matter]: string } = {
  'halogenated organics': 'a halogenated organic',
  'non-halogenated organics': 'organic',
  'heavy metals': 'a heavy metal or holds one',
  mercury: 'mercury or holds it',
  oxidisers: 'an oxidiser',
  cyanides: 'a cyanide',
  azides: 'an azide',
  sulfides: 'a sulfide',
  fluorides: 'a fluoride',
  acids: 'an acid',
  bases: 'a base',
  salts: 'a salt',
  water: 'water',
  'water-reactives': 'water-reactive',
  'inorganic solids': 'an inorganic solid',
  'organic solids': 'an organic solid',
};
export const oneOf = (kind: Matter): string => ONE[kind];

/** Whether a pair is said at all: a caution is daily work, but a carbonate in an acid bottle bursts it. */
export function severityOf({ severity, a, b }: Pair): 'warning' | 'information' | undefined {
  if (severity !== 'caution') return 'warning';
  return CARBONATES.has(a) || CARBONATES.has(b) ? 'information' : undefined;
}

const CARBONATES: ReadonlySet<string> = new Set(['carbonate', 'base-hydrogencarbonate']);

/** To end what is said of a hazard. */
export const WHO_DECIDES = 'Safety data sheets and site rules decide; ask a qualified person.';
