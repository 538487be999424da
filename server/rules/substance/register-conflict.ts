import { foldName } from '../../../grammar/names';
import { type Formula, hill, parseFormula, sameComposition } from '../../chem/formula';
import { findInHandbook } from '../../model/handbook';
import type { Datum, Substance } from '../../model/page';
import { Decimal } from '../../quantity/decimal';
import { toBase } from '../../quantity/units';
import { ownFacts } from '../declared';
import { type RuleContext, rule } from '../rule';
import { brief, sentences } from '../wording';

/** Two tables of one liquid, read at neighbouring temperatures, differ by up to a percent; more is another liquid. */
const MARGIN = 0.03;
/** A liquid grows by about a thousandth for each kelvin, some by half as much again. */
const EXPANSION = 0.0015;
const ROOM = 293.15;

export default rule({
  code: 'register-conflict',
  family: 'substance',
  severity: 'warning',
  fixable: 'never',
  title: 'The page and the register or handbook disagree',
  why: `The page declares a substance with another formula, or with a density more than 3 % away, than the file's head, the
register or the handbook. The page's own word counts; but one of the two is a slip, or another substance goes under that name.
Densities are compared for liquids only, with 0.15 % for each kelvin between the temperatures; solids are bulk or crystal
densities and gases depend on pressure.`,
  help: 'Compare both with the bottle. If the page means something else, give it another name.',
  examples: [
    {
      name: 'two digits of a density swapped',
      wrong: `experiment TB-781: Cyclohexene
date: 2026-03-11
author: MK
substance cyclohexanol: C6H12O, density 0.926 g/mL
                                        ^^^^^^^^^^ register-conflict: 0.962
`,
      right: `experiment TB-781: Cyclohexene
date: 2026-03-11
author: MK
substance cyclohexanol: C6H12O, density 0.962 g/mL
`,
    },
    {
      name: 'another formula than in the register',
      wrong: `experiment TB-782: Ester
date: 2026-03-11
author: MK
substance ligand 4: C18H15P
                    ^^^^^^^ register-conflict: C19H17P
`,
      right: `experiment TB-782: Ester
date: 2026-03-11
author: MK
substance ligand 4: C19H17P
`,
      files: { 'stock.tare': 'substance ligand 4: C19H17P\n' },
    },
    {
      name: 'near misses: another temperature, a hydrate, a powder, a solution',
      right: `experiment TB-783: Cyclohexene
date: 2026-03-11
author: MK
substance cyclohexanol: C6H12O, density 0.941 g/mL at 45 °C
substance copper(II) sulfate: CuSO4·5H2O
substance sodium chloride: NaCl, density 1.2 g/mL, state solid
substance acetic acid: C2H4O2, density 1.015 g/mL, purity 10 %
`,
    },
  ],
  sources: [
    'Thermal expansion of organic liquids, about 0.001 per kelvin: common practice, no source',
    'Handbook of the tool; its sources are named with each value',
  ],
  *check(context) {
    for (const substance of context.page.substances) {
      const { entry } = substance;
      if (!entry) continue;
      const own = ownFacts(substance);
      for (const other of others(context, substance)) {
        const formula = own.formula;
        if (formula?.formula && other.formula && !sameButWater(formula.formula, other.formula)) {
          yield {
            span: formula.span,
            block: entry.block,
            message: sentences(
              `${brief(substance.name)} is ${formula.text} here but ${hill(other.formula)} in ${other.where}.`,
              'What stands here counts; compare with the bottle.',
            ),
            rests: [formula.span],
          };
          // Of another substance the density says nothing.
          break;
        }
        if (
          own.density &&
          other.density &&
          isLiquid(substance, other) &&
          isNeat(substance) &&
          differ(substance, own.density, other)
        ) {
          yield {
            span: own.density.span,
            block: entry.block,
            message: sentences(
              `Density ${context.text(own.density.span)} here, ${other.density.text} in ${other.where}.`,
              'What stands here counts; compare with the bottle.',
            ),
            rests: [own.density.span],
          };
          break;
        }
      }
    }
  },
});

interface Other {
  readonly where: string;
  readonly formula?: Formula;
  readonly density?: { readonly value: Decimal; readonly text: string; readonly at: number };
  readonly state?: Substance['state'];
  readonly pourable: boolean;
}

/** The same name in the file's head, in the registers, in the handbook. */
function* others({ world, page }: RuleContext, { key, name }: Substance): Generator<Other> {
  for (const found of world.material(key)) {
    if (found.kind !== 'substance') continue;
    const density = found.density;
    const origin = density?.origin ?? found.molarMass?.origin;
    yield {
      where:
        origin?.from === 'there' ? origin.where : found.where.kind === 'file' ? 'the head of the file' : 'the register',
      ...(found.formula?.formula && { formula: found.formula.formula }),
      ...(density && { density: { value: inBase(density), text: textOf(density), at: kelvin(found.densityAt) } }),
      ...(found.state && { state: found.state }),
      pourable: found.state === undefined || found.state === 'liquid',
    };
  }
  // A register that is a page's own file has the same word.
  if (page.substances.filter((s) => s.key === key).length > 1) return;
  const book = findInHandbook(name);
  if (book?.kind !== 'one' || book.entry.kind !== 'substance') return;
  const { entry } = book;
  if (![entry.name, ...entry.synonyms].some((known) => foldName(known) === key)) return;
  const formula = entry.formula ? parseFormula(entry.formula) : undefined;
  yield {
    where: 'the handbook',
    ...(formula?.ok && { formula: formula.formula }),
    ...(entry.density &&
      !entry.density.doubtful && {
        density: {
          value: new Decimal(entry.density.digits),
          text: `${entry.density.digits} g/mL${entry.density.at ? ` at ${entry.density.at} °C` : ''}`,
          at: entry.density.at ? Number(entry.density.at) + 273.15 : ROOM,
        },
      }),
    ...(entry.state && { state: entry.state }),
    pourable: entry.state === 'liquid' || (entry.state === 'solid' && Number(entry.mp?.digits ?? MELTS_AT) < MELTS_AT),
  };
}

const inBase = ({ quantity }: Datum): Decimal =>
  quantity.unit ? toBase(quantity.number.value, quantity.unit) : quantity.number.value;
const textOf = ({ quantity }: Datum): string => `${quantity.number.text} ${quantity.unit?.symbol ?? ''}`.trim();
const kelvin = (at: Datum | undefined): number =>
  at?.quantity.unit?.kind === 'temperature' ? inBase(at).toNumber() : ROOM;

/** A salt and its hydrate often go under one name. */
function sameButWater(a: Formula, b: Formula): boolean {
  const forms = (f: Formula): readonly Formula[] => [f, ...(f.hydrate ? [f.hydrate.dry] : [])];
  return forms(a).some((x) => forms(b).some((y) => sameComposition(x, y)));
}

/** What melts in the hand is measured out as a liquid. */
const MELTS_AT = 40;

const isLiquid = (own: Substance, other: Other): boolean =>
  other.pourable && (own.state === undefined || own.state === 'liquid' || own.state === other.state);

/** `phosphoric acid: density 1.69 g/mL, purity 85 %` is a solution under the name of what it holds. */
const isNeat = ({ purity }: Substance): boolean => !purity || inBase(purity).gte('0.95');

function differ(own: Substance, density: Datum, other: Other): boolean {
  if (density.quantity.unit?.kind !== 'density' || !other.density) return false;
  const apart = Math.abs(kelvin(own.densityAt) - other.density.at);
  const off = inBase(density).minus(other.density.value).abs().div(other.density.value).toNumber();
  return off > MARGIN + EXPANSION * apart;
}
