/** Gas that comes off when two things meet: which, how much, and how many litres at 20 °C and 101.325 kPa. */
import { constant } from '../chem/constants';
import type { Substance } from '../model/page';
import { divide, exact, type Held, multiply } from '../quantity/held';
import { bookOf, protonsOf } from './acid-base';
import { substancesOf } from './contents';
import { groupsOf } from './reactive-groups';
import type { TakenValue } from './values';

/** Where the litres are given: a room, and the standard atmosphere. */
const ROOM_K = '293.15';
const ATMOSPHERE_KPA = '101.325';

export interface GasSource {
  /** `carbon dioxide` */
  readonly gas: string;
  readonly toxic: boolean;
  /** Moles of gas from one mole of the substance. */
  readonly perMole: string;
  /** What sets it free; the number is moles of protons that one mole of the substance takes. */
  readonly by: 'acid' | 'protic';
  readonly protons: number;
}

/** Moles of hydrogen from a mole of hydride or metal, by CAS number, from the equations with water or acid. */
const HYDROGEN: Readonly<Record<string, readonly [perMole: string, by: GasSource['by'], protons: number]>> = {
  '7646-69-7': ['1', 'protic', 1],
  '7693-26-7': ['1', 'protic', 1],
  '7580-67-8': ['1', 'protic', 1],
  '7789-78-8': ['2', 'protic', 2],
  '16940-66-2': ['4', 'protic', 4],
  '13762-51-1': ['4', 'protic', 4],
  '16949-15-8': ['4', 'protic', 4],
  '16853-85-3': ['4', 'protic', 4],
  '7440-23-5': ['0.5', 'protic', 1],
  '7440-09-7': ['0.5', 'protic', 1],
  '7439-93-2': ['0.5', 'protic', 1],
  '7440-70-2': ['1', 'protic', 2],
  '7439-95-4': ['1', 'acid', 2],
  '7440-66-6': ['1', 'acid', 2],
  '7439-89-6': ['1', 'acid', 2],
  '7429-90-5': ['1.5', 'acid', 3],
};

/** Salts whose acid leaves as gas; the equations are those of general inorganic chemistry. */
const SALTS: readonly (readonly [group: string, source: GasSource])[] = [
  ['azide', { gas: 'hydrogen azide', toxic: true, perMole: '1', by: 'acid', protons: 1 }],
  ['cyanide', { gas: 'hydrogen cyanide', toxic: true, perMole: '1', by: 'acid', protons: 1 }],
  ['sulfide-inorganic', { gas: 'hydrogen sulfide', toxic: true, perMole: '1', by: 'acid', protons: 2 }],
  // 2 HNO2 -> NO + NO2 + H2O
  ['nitrite', { gas: 'nitrogen oxides', toxic: true, perMole: '1', by: 'acid', protons: 1 }],
];
const METABISULFITES: ReadonlySet<string> = new Set(['7681-57-4', '16731-55-8']);
const DITHIONITE = '7775-14-6';

/** What gas a substance can give, and what sets it free. */
export function gasSource(substance: Substance): GasSource | undefined {
  // Only what the handbook lists: groups of all else cost a structure search and hold no salt that matters here.
  const book = bookOf(substance);
  if (!book) return undefined;
  const { cas } = book;
  const groups = groupsOf(book);
  if (groups.has('carbonate')) return { gas: 'carbon dioxide', toxic: false, perMole: '1', by: 'acid', protons: 2 };
  if (groups.has('base-hydrogencarbonate'))
    return { gas: 'carbon dioxide', toxic: false, perMole: '1', by: 'acid', protons: 1 };
  const hydrogen = cas === undefined ? undefined : HYDROGEN[cas];
  if (hydrogen) return { gas: 'hydrogen', toxic: false, perMole: hydrogen[0], by: hydrogen[1], protons: hydrogen[2] };
  if (groups.has('sulfite') && cas !== DITHIONITE && cas !== '7446-09-5') {
    const two = cas !== undefined && METABISULFITES.has(cas);
    return { gas: 'sulfur dioxide', toxic: true, perMole: two ? '2' : '1', by: 'acid', protons: 2 };
  }
  // A salt: its acid is free already, and carbon-bound azide stays where it is.
  const ionic = !groups.has('combustible-organic') && !protonsOf(substance)?.count;
  return ionic ? SALTS.find(([group]) => groups.has(group))?.[1] : undefined;
}

/** The substance in a charge that counts, for its groups: the solute of a solution. */
export const activeOf = (taken: TakenValue): Substance | undefined =>
  taken.substance?.substance ?? (taken.material && substancesOf(taken.material)[0]);

/** V = n R T ÷ p, mL, at 20 °C and 101.325 kPa. */
export function gasVolume(amount: Held): Held {
  const r = exact('other', constant('R'), { from: 'table', source: 'CODATA 2022' });
  const t = exact('temperature', ROOM_K, { from: 'rule', says: 'taken for a room, 20 °C' });
  const p = exact('pressure', ATMOSPHERE_KPA, { from: 'rule', says: 'standard atmosphere' });
  const inputs = [
    { symbol: 'n', held: amount },
    { symbol: 'R', held: r },
    { symbol: 'T', held: t },
    { symbol: 'p', held: p },
  ];
  const top = multiply('other', multiply('other', amount, r, NONE), t, NONE);
  return divide('volume', top, p, { formula: 'n · R · T ÷ p', inputs }, 1000)!;
}

const NONE = { inputs: [] };
