/** What a consideration comes to, in a sentence or two. It says what would be left; what to do is for the person. */
import type { Held } from '../quantity/held';
import { held, isHeld, uncertainty } from '../quantity/held';
import { show } from '../quantity/show';
import { filledIn } from '../quantity/steps';
import { type ConsiderationValue, type Loss, type Turn, WORTH } from './consider';

/** With its uncertainty where it has one worth reading: to that, and not to the last place of what was read. */
const about = (value: Held): string =>
  uncertainty(value) > 0 ? show({ ...value, figures: 9 }, { u: true }) : show(value);
const rough = (value: Held): string =>
  show({ ...value, figures: Math.max(2, Math.min(value.figures, 3)) }, { as: 'claim' });

/** Of a least amount: rounded to two figures it might not be enough. */
const three = (value: Held): string => show({ ...value, figures: 3 }, { as: 'claim' });

export function says(value: ConsiderationValue): string {
  const { consideration, start, left, recovery } = value;
  const { name, step } = consideration;
  if (!isHeld(left) || !isHeld(start) || !isHeld(recovery)) {
    const missing = [left, start].find((result) => !isHeld(result));
    return `What ${step.text} of ${name.text} would leave is not computable: it needs ${missing && !isHeld(missing) ? missing.what : 'a number'}.`;
  }
  const yields = held(value.yield);
  const shares = [`${rough(recovery)} of it`, ...(yields ? [`yield ${rough(yields)}`] : [])].join(', ');
  const first = left.value.isZero()
    ? `Of the ${show(start)}${fromWhere(value)} nothing would be left.`
    : `Of the ${show(start)}${fromWhere(value)} about ${about(left)} would be left: ${shares}.`;
  return [
    first,
    ...solventSays(value),
    ...value.losses.map((loss) => lossSays(loss)),
    ...lossShare(value),
    turnsSay(value),
  ]
    .filter(Boolean)
    .join(' ');
}

const fromWhere = ({ from }: ConsiderationValue): string =>
  from === undefined || from === 'product' ? '' : ` (${from})`;

function solventSays({ solvent, consideration }: ConsiderationValue): string[] {
  if (!solvent) return [];
  const name = consideration.solvent?.text ?? 'solvent';
  const amount = [solvent.volume, solvent.mass].flatMap((held) => (held ? three(held) : [])).join(' or ');
  if (solvent.least)
    return [`At least ${amount} of ${name} dissolves it hot; that is the minimum, and more keeps more.`];
  return solvent.short ? [`It takes ${three(solvent.short)} of ${name} to dissolve all of it hot.`] : [];
}

const STAYS: Readonly<Record<Loss['where'], string>> = {
  apparatus: 'stays in the apparatus',
  'mother liquor': 'stays dissolved in the cold',
  washings: 'goes with the washings',
  'mixed fractions': 'is in the mixed fractions',
};

function lossSays({ where, mass }: Loss): string {
  const working = filledIn(mass);
  return `${working ? `${working} = ` : ''}${rough(mass)} ${STAYS[where]}.`;
}

function lossShare({ consideration }: ConsiderationValue): string[] {
  const { loss } = consideration;
  if (!loss) return [];
  const { number, unit } = loss.quantity;
  return [
    `Counted with it: a loss of ${number.text}${unit?.symbol ? ` ${unit.symbol}` : ''}${unit?.kind === 'mass' ? '' : ' of what comes out'}.`,
  ];
}

/** `less than 0.66 mL of hold-up`: on which side of the turn there is enough. */
const TURNS: Readonly<Record<Turn['what'], (at: string) => string>> = {
  'hold-up': (at) => `a hold-up of at most ${at}`,
  scale: (at) => `at least ${at} to start with`,
  solvent: (at) => `at most ${at} of solvent`,
  'mixed fractions': (at) => `at most ${at} in mixed fractions`,
  'cold solubility': (at) => `a solubility of at most ${at} in the cold`,
};

function turnsSay({ turns, recovery }: ConsiderationValue): string {
  if (turns.length === 0 || !isHeld(recovery)) return '';
  const conditions = turns.map(({ what, at }) => TURNS[what](unitOfTurn(at)));
  const last = conditions.pop()!;
  const list = conditions.length > 0 ? `${conditions.join(', or ')}, or ${last}` : last;
  return recovery.value.gte(WORTH) ? `80 % or more comes back with ${list}.` : `For 80 % it would take ${list}.`;
}

/** A solubility in the unit in which it is written. */
const unitOfTurn = (at: Held): string =>
  at.kind === 'density'
    ? show({ ...at, figures: 2 }, { unit: 'g/100 mL', as: 'claim' })
    : at.kind === 'massRatio'
      ? show({ ...at, figures: 2 }, { unit: 'g/100 g', as: 'claim' })
      : show({ ...at, figures: 2 }, { as: 'claim' });
