/**
 * A page as the plan of the next one: its declarations and equations, and each charge beside the limiting reactant, so
 * that whatever target is put in, all follows from it.
 */
import type { ChargeValue, ProductValue, ReactionValue } from '../compute/values';
import { Decimal } from '../quantity/decimal';
import { divide, exact, type Held, held, isHeld, multiply, total } from '../quantity/held';
import { show } from '../quantity/show';
import { inChoice, inSnippet, lineEnd } from '../rules/wording';
import type { PageResult } from '../snapshot';

/** Copied as they stand. */
const DECLARED: ReadonlySet<string> = new Set(['substance', 'solution', 'balance', 'reaction']);
/** What a work-up takes is measured when it is due. */
const LATER: ReadonlySet<string> = new Set(['quench', 'wash', 'eluent', 'atmosphere', 'drying agent']);
/** Offered for the target, the first of them first. */
const FACTORS = ['2', '1', '5', '10', '0.5'] as const;

/** The text of the new page as a snippet; undefined where nothing that was charged can be planned from. */
export function scaledPage({ page, values, source }: PageResult): string | undefined {
  const targets = values.reactions.flatMap((reaction) => targetOf(reaction, values.products) ?? []);
  const made = targets.at(-1);
  if (!made) return undefined;
  const plans = values.reactions.flatMap((reaction) =>
    reactionLines(reaction, values.charges, made.reaction === reaction && made.what === 'charge'),
  );
  const copied = source.blocks.flatMap(({ block }) =>
    block.statement && DECLARED.has(block.statement.keyword) ? [inSnippet(block.text.trimEnd())] : [],
  );
  const reference = page.id ? [`reference: as ${inSnippet(page.id.text)}`] : [];
  const lines = [
    `experiment \${1:ID}: \${2:${inSnippet(page.title?.text ?? 'title')}}`,
    `date: \${3:YYYY-MM-DD}`,
    `author: \${4:${inSnippet(page.author?.text ?? 'author')}}`,
    ...reference,
    '',
    ...copied,
    '',
    made.line,
    ...targets.flatMap(({ intermediate }) =>
      intermediate && intermediate !== made.intermediate ? [intermediate] : [],
    ),
    ...plans,
  ];
  return `${lines.join(lineEnd(source))}${lineEnd(source)}`;
}

interface Target {
  readonly reaction: ReactionValue;
  readonly what: 'product' | 'charge';
  readonly line: string;
  /** Where it is not the last: its yield, and what goes on with it decides how much. */
  readonly intermediate?: string;
}

/** The product with its yield where there is one, else the limiting reactant. */
function targetOf(reaction: ReactionValue, products: readonly ProductValue[]): Target | undefined {
  const { limiting } = reaction;
  if (!limiting) return undefined;
  const product = products.findLast(
    (p) => p.reaction?.reaction === reaction.reaction && !p.superseded && isHeld(p.mass) && isHeld(p.yield),
  );
  const share = product && (product.stageYield ?? held(product.yield));
  if (product && share && isHeld(product.mass) && share.value.gt(0) && share.value.lte(1)) {
    const mass = product.stageYield ? (divideBy(product, share) ?? product.mass) : product.mass;
    const line = `plan ${inSnippet(product.product.name.text)}: ${choice(mass)} at ${claim(share, 3)}`;
    const intermediate = `plan ${inSnippet(product.product.name.text)}: at ${claim(share, 3)}`;
    return { reaction, what: 'product', line, intermediate };
  }
  const { term, amount } = limiting;
  const molarMass = term.substance && held(term.substance.molarMass);
  const mass = molarMass ? multiply('mass', amount, molarMass, NO_WORKING) : amount;
  return { reaction, what: 'charge', line: `plan ${inSnippet(term.term.name.text)}: ${choice(mass)}, limiting` };
}

/** The mass of all crops together: that of one line by its share of the yield. */
function divideBy({ mass, yield: own }: ProductValue, all: Held): Held | undefined {
  const ratio = isHeld(own) ? divide('ratio', all, own, NO_WORKING) : undefined;
  return ratio && isHeld(mass) ? multiply('mass', mass, ratio, NO_WORKING) : undefined;
}

const NO_WORKING = { inputs: [] };

/** `${5|27.3 g,13.7 g|}` */
function choice(value: Held): string {
  const scaled = FACTORS.map((factor) => multiply(value.kind, value, exact('number', new Decimal(factor)), NO_WORKING));
  return `\${5|${scaled.map((one) => inChoice(claim(one, 3))).join(',')}|}`;
}

const claim = (value: Held, figures: number): string => show({ ...value, figures }, { as: 'claim' });

function reactionLines(reaction: ReactionValue, charges: readonly ChargeValue[], planned: boolean): string[] {
  const { limiting } = reaction;
  if (!limiting) return [];
  const own = charges.filter((c) => c.reaction?.reaction === reaction.reaction && !c.charge.roles.some(isLater));
  const byName = new Map<string, ChargeValue[]>();
  for (const charge of own) {
    const key = [charge.charge.name.text, ...charge.charge.roles.map(({ role }) => role)].join(', ');
    byName.set(key, [...(byName.get(key) ?? []), charge]);
  }
  const mass = massOf(own.filter((c) => c.term === limiting.term.term));
  return [...byName.values()].flatMap((lines) => {
    const [first] = lines;
    const isLimiting = first!.term !== undefined && first!.term === limiting.term.term;
    // Its own line is the target already, or it follows from it.
    if (isLimiting && planned) return [];
    const roles = first!.charge.roles.map(({ role }) => role).filter((role) => role !== 'limiting');
    const amount = isLimiting ? 'limiting' : beside(lines, limiting.amount, mass);
    return amount ? [`plan ${inSnippet(first!.charge.name.text)}: ${[amount, ...roles].join(', ')}`] : [];
  });
}

const isLater = ({ role }: { readonly role: string }): boolean => LATER.has(role);

/** Equivalents, mol% of a catalyst, millilitres of solvent for each gram of the limiting reactant. */
function beside(lines: readonly ChargeValue[], limiting: Held, mass: Held | undefined): string | undefined {
  const roles = new Set<string>(lines.flatMap(({ charge }) => charge.roles.map(({ role }) => role)));
  const volume = sumOf(lines.map((line) => line.volume));
  if (roles.has('solvent') && volume && mass) {
    const perGram = divide('number', volume, mass, NO_WORKING);
    return perGram && `${claim(perGram, 3)} mL/g`;
  }
  const amount = sumOf(lines.map((line) => line.amount));
  const ratio = amount && divide('equivalents', amount, limiting, NO_WORKING);
  if (ratio?.value.gt(0)) {
    const catalytic = roles.has('catalyst') || roles.has('ligand');
    return show({ ...ratio, figures: 3 }, { as: 'claim', ...(catalytic && { unit: 'mol%' as const }) });
  }
  const own = sumOf(lines.map((line) => line.mass));
  const share = own && mass && divide('massFraction', own, mass, NO_WORKING);
  if (share) return show({ ...share, figures: 3 }, { as: 'claim' });
  const word = lines[0]?.charge.amount.word?.word;
  return word === 'excess' ? 'excess' : undefined;
}

const massOf = (lines: readonly ChargeValue[]): Held | undefined => sumOf(lines.map((line) => line.mass));

const sumOf = (results: readonly ChargeValue['mass'][]): Held | undefined =>
  results.every(isHeld)
    ? total(
        results.flatMap((result) => held(result) ?? []),
        'q',
      )
    : undefined;
