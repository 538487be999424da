/** What a conclusion claims (`=> ester`, `=> no aldehyde or ketone`), and whether an observation bears it out. */
import type { KnownLeg, KnownTest, Outcome } from './tests';

export type Verdict = 'supports' | 'contradicts' | 'unclear';

interface Claimed {
  /** Which legs of a test speak of it. */
  readonly legs: RegExp;
  /** A word that makes it narrower, and is asked for in the leg too. */
  readonly says: string;
}

/** Narrow names before wide ones: what is read once is taken out of the text. */
const CLASSES: readonly (readonly [said: RegExp, legs: RegExp])[] = [
  [/\bmethyl ketones?\b/, /methyl ketone/],
  [/\b(?:alpha|α)-hydroxy ?ketones?\b/, /alpha-hydroxyketone/],
  [/\b(?:reducing )?(?:sugars?|carbohydrates?)\b/, /sugar|carbohydrate|saccharide|aldose|ketose|hexose|pentose/],
  [/\b(?:aliphatic) aldehydes?\b/, /aliphatic aldehyde|^aldehyde/],
  [/\b(?:aromatic) aldehydes?\b/, /aromatic aldehyde|^aldehyde/],
  [/\baldehydes?\b/, /aldehyde/],
  [/\bketones?\b/, /ketone/],
  [/\b(?:carbonyls?|carbonyl (?:group|compound)s?)\b/, /aldehyde|ketone/],
  [/\blactones?\b/, /lactone/],
  [/\banhydrides?\b/, /anhydride/],
  [/\b(?:acid|acyl) (?:chloride|halide|bromide)s?\b/, /acid chloride/],
  [/\besters?\b/, /\bester/],
  [/\bsulfonic acids?\b/, /sulfonic acid/],
  [/\b(?:carboxylic acids?|free acids?|acids?)\b/, /carboxylic acid/],
  [/\bphenols?\b/, /phenol/],
  [/\b(?:primary|1°) (?:aliphatic |aromatic )?amines?\b/, /primary.*amine|aniline/],
  [/\b(?:secondary|2°) (?:aliphatic |aromatic )?amines?\b/, /secondary.*amine/],
  [/\b(?:tertiary|3°) (?:aliphatic |aromatic )?amines?\b/, /tertiary.*amine|dialkylaniline/],
  [/\b(?:anilines?|aromatic amines?)\b/, /aniline|aromatic amine/],
  [/\bamides?\b/, /amide/],
  [/\bnitriles?\b/, /nitrile/],
  [/\b(?:primary|1°) alcohols?\b/, /primary alcohol|^alcohol/],
  [/\b(?:secondary|2°) alcohols?\b/, /secondary alcohol|^alcohol/],
  [/\b(?:tertiary|3°) alcohols?\b/, /tertiary alcohol|^alcohol/],
  [/\b(?:benzylic|allylic) alcohols?\b/, /(?:benzylic|allylic).*alcohol|^alcohol/],
  [/\b(?:primary|1°) (?:alkyl )?chlorides?\b/, /primary chloride/],
  [/\b(?:primary|1°) (?:alkyl )?bromides?\b/, /primary bromide|bromide or iodide, primary/],
  [/\b(?:tertiary|3°) (?:alkyl )?(?:halide|chloride|bromide)s?\b/, /tertiary (?:halide|chloride|bromide)/],
  [/\b(?:aryl|vinyl) (?:halide|chloride|bromide)s?\b/, /(?:aryl|vinyl).*halide/],
  [/\b(?:alkenes?|olefins?|double bonds?|c=c|unsaturat\w+)\b/, /alkene/],
  [/\b(?:alkynes?|triple bonds?)\b/, /alkyne/],
  [/\bnitro\b/, /\bnitro\b/],
  [/\bthiols?\b/, /thiol/],
  [/\bperoxides?\b/, /peroxide/],
  [/\b(?:alpha-)?amino acids?\b/, /amino acid|proline/],
  [/\balcohols?\b/, /alcohol|carbinol|ethanol/],
];

const NEGATED = /\b(?:no|not|none|without|absent|absence|free (?:of|from)|neither|nor|gone|never)\b/;
const DOUBT = /\?|\b(?:perhaps|maybe|possibly|probably|likely|inconclusive|unclear|repeat)\b/;

/** The classes of compound that a text names. */
function classesIn(text: string): Claimed[] {
  let rest = text;
  const found: Claimed[] = [];
  for (const [said, legs] of CLASSES) {
    const match = said.exec(rest);
    if (!match) continue;
    found.push({ legs, says: match[0] });
    rest = rest.replace(said, ' ');
  }
  return found;
}

/**
 * Whether an observation bears a conclusion out.
 *
 * @param expected legs that foretell what the page's own structures show; where there are none, all legs count
 * @returns unclear where the conclusion names no class that the test speaks of, or its words leave it open
 */
export function judgeConclusion(
  test: KnownTest,
  conclusion: string,
  observed: Outcome,
  expected: readonly KnownLeg[],
): Verdict {
  const said = conclusion.toLowerCase();
  if (observed === 'blank' || DOUBT.test(said)) return 'unclear';
  const verdicts = said.split(/\s*(?:[,.](?=\s|$)|\b(?:but|so|hence|therefore|thus)\b)\s*/).flatMap((clause) => {
    const claimed = classesIn(clause).filter(({ legs }) => test.legs.some(({ feature }) => legs.test(feature)));
    if (claimed.length === 0) return [];
    return [NEGATED.test(clause) ? denied(test, claimed, observed, expected) : affirmed(test, claimed, observed)];
  });
  if (verdicts.length === 0) return 'unclear';
  if (verdicts.includes('contradicts')) return 'contradicts';
  return verdicts.includes('supports') ? 'supports' : 'unclear';
}

const legsFor = (test: KnownTest, claimed: readonly Claimed[]): readonly KnownLeg[] =>
  test.legs.filter(({ feature }) => claimed.some(({ legs }) => legs.test(feature)));

/** `=> ester`: every leg that speaks of it says the opposite of what was seen, or one says the same. */
function affirmed(test: KnownTest, claimed: readonly Claimed[], observed: Outcome): Verdict {
  const results = legsFor(test, claimed).map(({ result }) => result);
  if (results.includes(observed)) return 'supports';
  if (observed === 'negative') return results.every((r) => r === 'positive') ? 'contradicts' : 'unclear';
  if (results.every((r) => r === 'negative')) return 'contradicts';
  return results.some((r) => r === 'positive' || r === 'slow') ? 'supports' : 'unclear';
}

/** `=> no aldehyde or ketone`: seen all the same, and nothing else on the page would give it. */
function denied(
  test: KnownTest,
  claimed: readonly Claimed[],
  observed: Outcome,
  expected: readonly KnownLeg[],
): Verdict {
  const own = legsFor(test, claimed);
  const positive = own.filter(({ result }) => result === 'positive');
  if (positive.length === 0) return 'unclear';
  if (observed === 'negative') return 'supports';
  if (observed !== 'positive') return 'unclear';
  const known = expected.filter(({ result }) => result === 'positive');
  const others = known.length > 0 ? known : test.legs.filter(({ result }) => result === 'positive');
  return others.every((leg) => own.includes(leg)) ? 'contradicts' : 'unclear';
}
