/**
 * What an observation says in a test, by its words: `violet at once`, `no precipitate`, `turbid after 4 min`. A careful
 * reader: where the words do not settle it, the answer is undefined and never a guess.
 */
import type { KnownTest, Outcome } from './tests';

type Sign = 'solid' | 'cloudy' | 'gas' | 'mirror' | 'fading' | 'dissolving' | 'smell' | 'litmus' | 'ring';

/** Signs in words. A colour is no sign by itself: each test says which colours count. */
const SIGNS: Readonly<Record<Sign, RegExp>> = {
  solid: /\b(?:precipitat\w*|ppt|solids?|crystals?|crystalline|needles|flocks?|flocculent)\b/,
  cloudy:
    /\b(?:cloud\w*|turbid\w*|milky|opaque|hazy|emulsion|(?:two|second|oily) layers?|layers (?:form|separat)\w*)\b/,
  gas: /\b(?:gas(?:ing)?|bubbl\w*|effervesc\w*|fizz\w*|froth\w*|foam\w*)\b/,
  mirror: /\b(?:mirror|silver(?:ed|ing)?)\b/,
  fading:
    /\b(?:decolou?ri[sz]\w*|fad(?:es|ed|ing)|discharged|bleached|(?:colou?r|orange|red|brown|purple|pink|violet)(?: colou?r)? (?:is |was |all )?(?:goes|gone|went|disappear\w*|vanish\w*|lost))\b/,
  dissolving: /\b(?:dissolv\w*|soluble|goes into solution)\b/,
  smell: /\b(?:smell\w*|odou?r|stench|stinks?)\b/,
  litmus: /\b(?:litmus|indicator paper|pH paper)\b/,
  ring: /\bring\b/,
};

interface Words {
  /** Any of these, not denied, is a positive. */
  readonly signs?: readonly Sign[];
  /** A solid or a cloud that is said to have other colours than these is left open. */
  readonly solid?: readonly string[];
  /** Colours that are a positive. */
  readonly colours?: readonly string[];
  /** Colours that say slow. */
  readonly slow?: readonly string[];
  /** Colours of the reagent: that they stay, or are all there is to see, is a negative. */
  readonly start?: readonly string[];
  /** `clear` or `colourless` is a negative. */
  readonly clear?: true;
  /** Words that are a negative. */
  readonly against?: RegExp;
  /** Denied signs are no negative: other outcomes of this test go without them. */
  readonly manifold?: true;
}

const VIOLET = ['violet', 'purple', 'magenta'];
const SOLID: Words = { signs: ['solid'], clear: true };

/** By test; a test that is not here is never read. */
const WORDS: Readonly<Record<string, Words>> = {
  bromine: { signs: ['fading'], start: ['orange', 'red', 'brown', 'yellow', 'coloured', 'colour'] },
  baeyer: { signs: ['fading', 'solid'], colours: ['brown'], start: ['purple', 'violet', 'pink', 'colour'] },
  dnp: { ...SOLID, solid: ['yellow', 'orange', 'red'] },
  tollens: { signs: ['mirror', 'solid'], clear: true, colours: ['grey', 'black'] },
  fehling: { signs: ['solid'], colours: ['red', 'brick-red', 'orange', 'orange-red', 'red-brown'], start: ['blue'] },
  benedict: { signs: ['solid'], colours: ['red', 'brick-red', 'orange', 'orange-red', 'red-brown'], start: ['blue'] },
  barfoed: { signs: ['solid'], colours: ['red', 'brick-red', 'orange-red'], start: ['blue'] },
  schiff: { colours: [...VIOLET, 'pink-violet', 'red-violet', 'violet-red', 'purple-red'], clear: true },
  bisulfite: { ...SOLID, solid: ['white'] },
  iodoform: { ...SOLID, solid: ['yellow'] },
  lucas: { signs: ['cloudy'], clear: true },
  chromic: { colours: ['green', 'blue-green', 'green-blue', 'blue'], start: ['orange'] },
  ceric: { colours: ['red', 'orange-red', 'red-orange'], start: ['yellow'] },
  ferric: {
    colours: [...VIOLET, 'blue', 'green', 'red', 'blue-violet', 'violet-blue', 'red-violet'],
    start: ['yellow'],
  },
  hydroxamate: {
    colours: [...VIOLET, 'burgundy', 'wine-red', 'maroon', 'red', 'red-violet', 'violet-red', 'claret'],
    start: ['yellow'],
  },
  hydrogencarbonate: { signs: ['gas'] },
  'silver-nitrate': { signs: ['solid', 'cloudy'], clear: true },
  'sodium-iodide': { signs: ['solid', 'cloudy'], clear: true, solid: ['white'] },
  beilstein: { colours: ['green', 'blue-green', 'green-blue'] },
  hinsberg: { signs: ['solid'], manifold: true, against: /\boil\b.*\bdissolv/ },
  nitrous: { signs: ['gas'], colours: ['red', 'orange-red', 'orange', 'scarlet'], manifold: true },
  'copper-amine': { colours: ['deep-blue', 'dark-blue', 'royal-blue'], slow: ['green'], against: /\bpale[ -]blue\b/ },
  ninhydrin: { colours: ['blue', 'violet', 'purple', 'blue-violet', 'violet-blue', 'blue-purple'], clear: true },
  isocyanide: { signs: ['smell'] },
  'amide-hydrolysis': { signs: ['smell'], colours: ['blue'], against: /\b(?:stays?|stayed|remains?|remained) red\b/ },
  'iron-hydroxide': { colours: ['red-brown', 'brown', 'rust', 'rust-brown', 'brown-red'], start: ['green'] },
  'zinc-ammonium': { signs: ['mirror'], clear: true, colours: ['grey', 'black'] },
  'aluminium-chloride-chloroform': {
    colours: ['orange', 'red', 'orange-red', 'blue', 'purple', 'violet', 'green'],
    clear: true,
  },
  'sulfuric-solubility': { signs: ['dissolving'], against: /\b(?:insoluble|(?:two|separate) layers|floats?)\b/ },
  molisch: { signs: ['ring'], colours: ['violet', 'purple'] },
  seliwanoff: { colours: ['red', 'cherry-red', 'deep-red', 'cherry'], slow: ['pink'], clear: true },
  bial: { colours: ['blue-green', 'green-blue', 'green', 'blue'], against: /\bbrown\b/ },
  'iodine-starch': { colours: ['blue', 'deep-blue', 'blue-black', 'black'], start: ['brown', 'yellow'] },
  biuret: { colours: ['violet', 'purple', 'pink-violet'], start: ['blue'] },
  xanthoproteic: { colours: ['yellow', 'orange'], clear: true },
  nitroprusside: { colours: ['red', 'purple', 'violet', 'wine-red'], clear: true },
  'lead-acetate-thiol': { ...SOLID, solid: ['yellow', 'orange'] },
  'lassaigne-n': { colours: ['blue', 'prussian-blue', 'prussian'], against: /\byellow\b/ },
  'lassaigne-s': { colours: ['black', 'violet', 'purple'], clear: true },
  'lassaigne-x': SOLID,
  'ion-chloride': { signs: ['solid', 'cloudy'], clear: true },
  'ion-sulfate': {
    ...SOLID,
    solid: ['white'],
    against: /(?<!\bnot )\b(?:dissolv\w*|soluble) (?:again )?(?:in|with|on) (?:the )?(?:dilute )?acid/,
  },
  'ion-carbonate': { signs: ['gas'] },
  'ion-nitrate': { signs: ['ring'] },
  'ion-ammonium': { signs: ['smell'], colours: ['blue'], against: /\b(?:stays?|stayed|remains?|remained) red\b/ },
  'ion-iron3': { colours: ['red', 'blood-red', 'deep-red'] },
  'ion-iron2': { colours: ['blue', 'deep-blue', 'dark-blue'] },
  'ion-copper': { colours: ['deep-blue', 'dark-blue', 'royal-blue'] },
  'ion-nickel': { colours: ['red', 'rose-red', 'rose', 'pink', 'raspberry'] },
  'ion-lead': { ...SOLID, solid: ['yellow', 'gold'] },
  'peroxide-strip': { colours: ['yellow', 'brown', 'blue'], clear: true },
};

const DENIED = /\b(?:no|not|never|without|neither|nor|hardly|none|didn.t|doesn.t|isn.t|wasn.t|non|no more)\b/;
const NOTHING =
  /\b(?:no(?: visible| further| sign of a?)? (?:change|reaction|effect|colou?r|colou?ration|result|response)|unchanged|nothing|none|negative)\b/;
const STAYS =
  /\b(?:stays?|stayed|remains?|remained|still|persists?|persisted|kept its|keeps its|unchanged|only|left)\b/;
const DOUBT =
  /\?|\b(?:perhaps|maybe|possibly|unclear|doubtful|not sure|hard to (?:say|tell|see)|faint\w*|slight\w*|trace|weak|ambiguous)\b/;
/** Signs of time; heat is one only where the usual answer comes in the cold. */
const LATE =
  /\b(?:slow|slowly|gradual\w*|eventually|in time|on standing|only (?:after|on|when)|after (?:some|a|an|several|few|standing|\d+(?:\.\d+)? ?(?:min|h)\w*)|over night|overnight|over \d)/;
const HEATED =
  /\b(?:on (?:warming|heating|boiling)|when (?:warm|heat|boil|hot)\w*|after (?:warming|heating|boiling)|warming|boiled|heated)\b/;
const AT_ONCE =
  /\b(?:at once|immediate\w*|instant\w*|straight ?away|right away|within seconds?|directly|rapid\w*|fast|quickly)\b/;
const COLOURS =
  'red|orange|yellow|green|blue|violet|purple|magenta|burgundy|maroon|claret|pink|rose|crimson|scarlet|brown|black|grey|gray|white|cream|tan|rust|lilac|raspberry|cherry|prussian';
const HUES = `blood|brick|wine|cherry|deep|dark|royal|rose|${COLOURS}`;
const COLOUR = new RegExp(`\\b(?:(?:${HUES})(?:ish)?[- ])*(?:${COLOURS})(?:ish)?\\b`, 'g');

export interface Observed {
  readonly outcome: Outcome;
  /** It came at once, by the words. */
  readonly atOnce: boolean;
}

/** @returns undefined when the words leave it open, or say nothing of what this test shows */
export function readObservation(test: KnownTest, text: string): Observed | undefined {
  const words = WORDS[test.id];
  const said = text.toLowerCase().replace(/[’]/g, "'");
  if (said.trim() === '') return undefined;
  const atOnce = AT_ONCE.test(said);
  const of = (outcome: Outcome | undefined): Observed | undefined => outcome && { outcome, atOnce };
  if (/\bblank\b/.test(said)) return of(blank(said));
  if (DOUBT.test(said) || /\b(?:not|false)[- ](?:positive|negative)\b/.test(said)) return undefined;
  const late = !atOnce && isLate(test, said);
  // `positive` and `negative` say it for any test.
  if (/\bpositive\b/.test(said)) return /\bnegative\b/.test(said) ? undefined : of(late ? 'slow' : 'positive');
  if (!words) return of(whole(said) ? 'negative' : undefined);
  const clauses = said.split(/\s*(?:[,;:.](?=\s|$)|\bbut\b|\bthen\b)\s*/).filter((clause) => clause !== '');
  const found = clauses.map((clause) => inClause(words, clause)).filter((outcome) => outcome !== undefined);
  if (found.length === 0) return undefined;
  const yes = found.filter((outcome) => outcome !== 'negative');
  if (yes.length === 0) return of('negative');
  if (yes.length < found.length) {
    // `no precipitate in the cold, a white one on warming`: nothing first, then something late.
    return of(found[0] === 'negative' && found.at(-1) !== 'negative' && comesLate(said) ? 'slow' : undefined);
  }
  return of(late || yes.includes('slow') ? 'slow' : 'positive');
}

/** A time that is named counts against the usual one; `slowly` and `on warming` speak for themselves. */
function isLate(test: KnownTest, said: string): boolean {
  const named = [
    ...said.matchAll(/\b(?:after|in|within) (?:about |ca\.? )?(\d+(?:\.\d+)?) ?(s|sec\w*|min\w*|h|hours?)\b/g),
  ];
  const seconds = named.map(
    ([, n, unit]) => Number(n) * (unit!.startsWith('s') ? 1 : unit!.startsWith('m') ? 60 : 3600),
  );
  return named.length > 0
    ? Math.max(...seconds) > test.positiveWithin
    : LATE.test(said) || (slowWhenWarm(test) && HEATED.test(said));
}

const comesLate = (said: string): boolean => LATE.test(said) || HEATED.test(said);

/** Alkyl halides: quick in the cold, slow on warming. Other tests are warmed as a matter of course. */
const slowWhenWarm = (test: KnownTest): boolean =>
  test.legs.some(({ result, observation }) => result === 'slow' && /on warming|at \d+ °C/.test(observation));

/** A text that says nothing but that nothing happened. */
const whole = (said: string): boolean => /^(?:no change|unchanged|no reaction|nothing|negative)\b[^,;]*$/.test(said);

/** A blank that shows the same colour spoils the test; of another blank this reader says nothing. */
function blank(said: string): Outcome | undefined {
  const same =
    /\b(?:blank\b[^,;]*\b(?:the same|also|too|as well|likewise)|(?:the same|also) (?:in|with) (?:the )?blank)\b/;
  return same.test(said) && !DENIED.test(said) ? 'blank' : undefined;
}

function inClause(words: Words, clause: string): Outcome | undefined {
  const colours = coloursIn(clause);
  const isGood = ({ colour }: ColourAt): boolean => words.colours?.includes(colour) === true;
  const isStart = ({ colour }: ColourAt): boolean => words.start?.includes(colour) === true;
  const signs = (words.signs ?? []).flatMap((sign) => {
    const match = SIGNS[sign].exec(clause);
    return match ? [{ sign, at: match.index }] : [];
  });
  const shown = [...signs, ...colours.filter(isGood)];
  if (words.against?.test(clause)) return 'negative';
  if (DENIED.test(clause)) {
    if (words.manifold) return undefined;
    // What is denied must be what this test shows, right behind the `no`, or everything.
    if (shown.length === 0) return NOTHING.test(clause) ? 'negative' : undefined;
    return shown.every(({ at }) => DENIED.test(wordsBefore(clause, at))) ? 'negative' : undefined;
  }
  const stays = STAYS.test(clause);
  if (words.start && stays && shown.length === 0) {
    const ofReagent = colours.some(isStart) || (words.start.includes('colour') && /\bcolou?r(?:ed)?\b/.test(clause));
    if (ofReagent) return 'negative';
  }
  if (signs.some(({ sign }) => sign === 'solid' || sign === 'cloudy') && words.solid && colours.length > 0) {
    return colours.some(({ colour }) => words.solid!.some((stem) => colour.includes(stem))) ? 'positive' : undefined;
  }
  if (signs.length > 0) return 'positive';
  if (shown.length > 0) return stays && colours.some(isStart) ? undefined : 'positive';
  if (colours.some(({ colour }) => words.slow?.includes(colour))) return 'slow';
  if (NOTHING.test(clause)) return words.manifold ? undefined : 'negative';
  if (words.clear && /\b(?:clear|colou?rless|transparent)\b/.test(clause))
    return /\b(?:turn|go|becom)\w* (?:clear|colou?rless)\b/.test(clause) ? undefined : 'negative';
  // The reagent's colour alone, `yellow`: nothing happened. Of other colours nobody can say.
  return !words.signs && colours.length > 0 && colours.every(isStart) ? 'negative' : undefined;
}

/** The few words that a `no` reaches over: `no sign of a yellow precipitate`. */
const wordsBefore = (clause: string, at: number): string => clause.slice(0, at).split(' ').slice(-6).join(' ');

interface ColourAt {
  readonly colour: string;
  readonly at: number;
}

/** `deep blue` → `deep-blue`, `red-brown` stays one colour. A single hue without meaning of its own is dropped. */
function coloursIn(clause: string): ColourAt[] {
  return [...clause.matchAll(COLOUR)].map(({ 0: written, index }) => {
    const plain = written.replace(/ish\b/g, '').replace(/gray/g, 'grey').replace(/ /g, '-');
    const shade = /^(?:deep|dark)-(.+)$/.exec(plain)?.[1];
    return { colour: shade && shade !== 'blue' && shade !== 'red' ? shade : plain, at: index };
  });
}
