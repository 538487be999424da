/** How strong a solution is, from what is written or from how it was made up. */
import { equivalentsPerMole } from '../chem/normality';
import type { Datum, Solution, Strength, Substance } from '../model/page';
import { Decimal } from '../quantity/decimal';
import {
  add,
  asKind,
  divide,
  exact,
  type Held,
  held,
  isHeld,
  type Result,
  reading,
  relabel,
  total,
  unknown,
} from '../quantity/held';
import { over, times } from '../quantity/worked';
import { fractionOfMolality, fromMolality } from './molality';
import type { Readings } from './readings';
import { formulaOf, isPure } from './substance';
import { inlineSolution, taken } from './taken';
import type { SolutionValue, SubstanceValue, TitrationValue } from './values';

export interface Materials {
  readonly readings: Readings;
  substance(substance: SubstanceValue['substance']): SubstanceValue;
  solution(solution: Solution): SolutionValue;
}

/** A solution made from itself, over however many steps, has no strength. */
export function solutionValue(solution: Solution, materials: Materials): SolutionValue {
  if (solution.parts) return mixed(solution, materials);
  const solute = solution.solute?.target;
  const density: Result =
    solution.density?.quantity.unit?.kind === 'density'
      ? materials.readings(solution.density)
      : unknown('density-missing', `a density of ${solution.name}`);
  if (!solution.strength || !solute) {
    const what = solution.strength
      ? `what ${solution.solute?.text ?? 'the solute'} is`
      : `a strength of ${solution.name}`;
    const missing = unknown(solution.strength ? 'substance-unknown' : 'strength-missing', what);
    const known = { ...bareStrength(solution, materials), ...(solute?.kind === 'substance' && { solute }) };
    return { ...blank(solution, missing, density), ...known };
  }
  if (solution.strength.kind === 'made-up' && solution.strength.of)
    return diluted(solution, materials.solution(inlineSolution(solute, solution.strength.of)), density, materials);
  if (solute.kind === 'solution') return fromStock(solution, materials.solution(solute), density, materials);
  const substance = materials.substance(solute);
  return { ...strengths(solution, solution.strength, substance, density, materials), solute };
}

/** mol/L of something nobody knows is still mol/L. */
function bareStrength({ strength }: Solution, { readings }: Materials): Partial<SolutionValue> {
  const written = strength?.kind === 'written' ? readings(strength.datum) : undefined;
  return written?.kind === 'concentration' ? { concentration: written } : {};
}

/** A stock that was diluted, or whose solute the new strength is of. */
function fromStock(solution: Solution, stock: SolutionValue, density: Result, materials: Materials): SolutionValue {
  if (solution.strength?.kind !== 'written' || !stock.solute) return diluted(solution, stock, density, materials);
  const solute = materials.substance(stock.solute);
  return { ...strengths(solution, solution.strength, solute, density, materials), solute: stock.solute };
}

/** The solution with the strength that a titration gave it. */
export function standardised(own: SolutionValue, titration: TitrationValue, materials: Materials): SolutionValue {
  const { mean } = titration;
  if (!isHeld(mean) || mean.kind !== 'concentration') return own;
  const solute = titration.analyte ?? (own.solute && materials.substance(own.solute));
  const molarMass = solute && held(solute.molarMass);
  const perVolume = molarMass && massConcentrationOf(mean, molarMass);
  const rho = held(own.density);
  return {
    ...own,
    ...(solute && { solute: solute.substance }),
    concentration: mean,
    massConcentration: perVolume ?? titration.massConcentration,
    massFraction: (perVolume && rho && fractionOf(perVolume, rho)) ?? own.density,
    standardised: titration,
  };
}

const blank = (solution: Solution, missing: Result, density: Result): SolutionValue => ({
  solution,
  concentration: missing,
  massFraction: missing,
  massConcentration: missing,
  soluteMass: missing,
  density,
});

function strengths(
  solution: Solution,
  strength: Strength,
  solute: SubstanceValue,
  density: Result,
  materials: Materials,
): Omit<SolutionValue, 'solute'> {
  if (strength.kind === 'saturated')
    return blank(solution, unknown('strength-missing', `the strength of ${solution.name}`), density);
  if (strength.kind === 'made-up') return madeUp(solution, strength, solute, density, materials);
  const written = materials.readings(strength.datum);
  const rho = held(density) ?? (inPartsPerMillion(strength.datum) ? diluteWater(solution) : undefined);
  const molarMass = held(solute.molarMass);
  const noMass = isHeld(solute.molarMass)
    ? unknown('density-missing', `a density of ${solution.name}`)
    : solute.molarMass;
  const soluteMass = unknown('depends', 'a made-up mass');
  const fromConcentration = (c: Held): Omit<SolutionValue, 'solute'> => {
    const perVolume = molarMass && massConcentrationOf(c, molarMass);
    return {
      solution,
      concentration: c,
      massConcentration: perVolume ?? solute.molarMass,
      massFraction: (perVolume && rho && fractionOf(perVolume, rho)) ?? noMass,
      soluteMass,
      density,
    };
  };
  switch (written.kind) {
    case 'concentration':
      return fromConcentration(written);
    case 'equivalentConcentration': {
      const c = fromNormality(written, solute, solution.name);
      return isHeld(c) ? fromConcentration(c) : blank(solution, c, density);
    }
    case 'density':
    case 'massPerVolume': {
      const perVolume = asKind(written, 'density');
      return {
        solution,
        concentration: (molarMass && toConcentration(perVolume, molarMass)) ?? solute.molarMass,
        massConcentration: perVolume,
        massFraction:
          (rho && fractionOf(perVolume, rho)) ?? unknown('density-missing', `a density of ${solution.name}`),
        soluteMass,
        density,
      };
    }
    case 'massFraction':
    case 'massRatio':
    case 'ratio': {
      const w = asKind(written, 'massFraction');
      const perVolume = rho && times('density', w, 'w', rho, 'ρ');
      return {
        solution,
        concentration: (perVolume && molarMass && toConcentration(perVolume, molarMass)) ?? noMass,
        massConcentration: perVolume ?? noMass,
        massFraction: w,
        soluteMass,
        density,
      };
    }
    case 'volumeFraction': {
      const pure = held(solute.density);
      if (!pure) return blank(solution, solute.density, density);
      const perVolume = times('density', { ...written }, 'φ', pure, 'ρ');
      return {
        solution,
        concentration: (molarMass && toConcentration(perVolume, molarMass)) ?? solute.molarMass,
        massConcentration: perVolume,
        massFraction:
          (rho && fractionOf(perVolume, rho)) ?? unknown('density-missing', `a density of ${solution.name}`),
        soluteMass,
        density,
      };
    }
    case 'molality': {
      const c = molarMass && rho && fromMolality(written, molarMass, rho);
      const massFraction = (molarMass && fractionOfMolality(written, molarMass)) ?? noMass;
      return { ...(c ? fromConcentration(c) : blank(solution, noMass, density)), massFraction, molality: written };
    }
    default:
      return blank(solution, unknown('unit-kind', `a strength of ${solution.name}`), density);
  }
}

/** g/mL over g/mol is mol/mL: a thousand times as many mol/L. */
const toConcentration = (perVolume: Held, molarMass: Held): Held | undefined =>
  over('concentration', perVolume, 'β', molarMass, 'M', 1000);

export const massConcentrationOf = (c: Held, molarMass: Held): Held =>
  times('density', c, 'c', molarMass, 'M', '0.001');

const fractionOf = (perVolume: Held, density: Held): Held | undefined =>
  over('massFraction', perVolume, 'β', density, 'ρ');

/** Normality counts protons, hydroxide or charges: only where the substance leaves no choice. */
function fromNormality(normality: Held, solute: SubstanceValue, name: string): Result {
  const formula = formulaOf(solute.substance);
  const z = formula && equivalentsPerMole(formula);
  if (!z)
    return unknown('strength-missing', `how many equivalents a mole of ${solute.substance.name} counts in ${name}`);
  const factor = exact('number', z);
  const working = {
    formula: 'N ÷ z',
    inputs: [
      { symbol: 'N', held: normality },
      { symbol: 'z', held: factor },
    ],
  };
  return divide('concentration', normality, factor, working) ?? unknown('strength-missing', name);
}

const inPartsPerMillion = ({ quantity }: Datum): boolean =>
  quantity.unit?.symbol === 'ppm' || quantity.unit?.symbol === 'ppb';

/** A density for a trace in water; common practice, no source. */
function diluteWater({ solvent }: Solution): Held | undefined {
  if (solvent && solvent.text.toLowerCase() !== 'water' && solvent.target?.name !== 'water') return undefined;
  const says = '1 ppm taken as 1 mg/L: dilute, in water';
  const value = reading('density', new Decimal(1), 0.003, 3, {
    name: 'density of dilute water',
    origin: { from: 'rule', says },
  });
  return relabel(value, { ...value.working, note: says });
}

function madeUp(
  solution: Solution,
  strength: Extract<Strength, { kind: 'made-up' }>,
  solute: SubstanceValue,
  density: Result,
  materials: Materials,
): Omit<SolutionValue, 'solute'> {
  const taken = materials.readings(strength.solute);
  const mass: Result = taken.kind === 'mass' ? taken : massFrom(taken, solute);
  const whole = wholeOf(solution, strength, mass, materials);
  if (whole && !isHeld(whole)) return { ...blank(solution, whole, density), soluteMass: mass };
  const to = held(whole);
  if (!to)
    return {
      ...blank(solution, unknown('strength-missing', `what ${solution.name} was made up to`), density),
      soluteMass: mass,
    };
  const m = held(mass);
  if (!m) return blank(solution, mass, density);
  // An amount of substance is that of the pure solute.
  const pure = isPure(solute.purity) || taken.kind === 'amount' ? m : times('mass', m, 'm', solute.purity, 'w');
  if (to.kind === 'mass') {
    const w = divide('massFraction', pure, to, {
      formula: 'm ÷ m(solution)',
      inputs: [
        { symbol: 'm', held: pure },
        { symbol: 'm(solution)', held: to },
      ],
    });
    const rho = held(density);
    const perVolume = w && rho && times('density', w, 'w', rho, 'ρ');
    const molarMass = held(solute.molarMass);
    return {
      solution,
      massFraction: w ?? unknown('unreadable', solution.name),
      massConcentration: perVolume ?? density,
      concentration:
        (perVolume && molarMass && toConcentration(perVolume, molarMass)) ?? (perVolume ? solute.molarMass : density),
      soluteMass: mass,
      density,
    };
  }
  const perVolume =
    to.kind === 'volume'
      ? divide('density', pure, to, {
          formula: 'm ÷ V',
          inputs: [
            { symbol: 'm', held: pure },
            { symbol: 'V', held: to },
          ],
        })
      : undefined;
  if (!perVolume)
    return {
      ...blank(solution, unknown('unit-kind', `a volume that ${solution.name} was made up to`), density),
      soluteMass: mass,
    };
  const molarMass = held(solute.molarMass);
  const rho = held(density);
  return {
    solution,
    concentration: molarMass ? viaAmount(pure, molarMass, to) : solute.molarMass,
    massConcentration: perVolume,
    massFraction: (rho && fractionOf(perVolume, rho)) ?? unknown('density-missing', `a density of ${solution.name}`),
    soluteMass: mass,
    density,
  };
}

/** What it was made up to, or solute and measured solvent together. */
function wholeOf(
  solution: Solution,
  { to, solventAmount }: Extract<Strength, { kind: 'made-up' }>,
  mass: Result,
  materials: Materials,
): Result | undefined {
  if (to) return materials.readings(to);
  if (!solventAmount) return undefined;
  if (!isHeld(mass)) return mass;
  const measured = materials.readings(solventAmount);
  const solvent = solution.solvent?.target;
  const missing = unknown('density-missing', `a density of ${solution.solvent?.text ?? 'the solvent'}`);
  const rho = solvent?.kind === 'substance' ? materials.substance(solvent).density : missing;
  const own: Result =
    measured.kind === 'mass'
      ? measured
      : measured.kind === 'volume' && isHeld(rho)
        ? times('mass', measured, 'V', rho, 'ρ')
        : rho;
  if (!isHeld(own)) return own;
  return add(mass, own, {
    formula: 'm + m(solvent)',
    inputs: [
      { symbol: 'm', held: mass },
      { symbol: 'm(solvent)', held: own },
    ],
  });
}

/** n = m ÷ M, then c = n ÷ V: the way it is worked on paper. */
function viaAmount(mass: Held, molarMass: Held, volume: Held): Result {
  const n = divide('amount', mass, molarMass, {
    formula: 'm ÷ M',
    inputs: [
      { symbol: 'm', held: mass },
      { symbol: 'M', held: molarMass },
    ],
  });
  return (
    (n &&
      divide(
        'concentration',
        n,
        volume,
        {
          formula: 'n ÷ V',
          inputs: [
            { symbol: 'n', held: n },
            { symbol: 'V', held: volume },
          ],
        },
        1000,
      )) ??
    unknown('unreadable', 'a volume')
  );
}

function massFrom(taken: Held, solute: SubstanceValue): Result {
  if (taken.kind === 'volume') {
    const rho = held(solute.density);
    return rho ? times('mass', taken, 'V', rho, 'ρ') : solute.density;
  }
  if (taken.kind === 'amount') {
    const molarMass = held(solute.molarMass);
    return molarMass ? times('mass', taken, 'n', molarMass, 'M') : solute.molarMass;
  }
  return unknown('unit-kind', `a mass of ${solute.substance.name}`);
}

/** `50.0 mL A; 50.0 mL B`: counts for the solute of its first part; the others stand beside it. */
function mixed(solution: Solution, materials: Materials): SolutionValue {
  const density: Result = solution.density
    ? materials.readings(solution.density)
    : unknown('density-missing', `a density of ${solution.name}`);
  const { strength, solute } = solution;
  if (strength?.kind !== 'made-up' || !solute)
    return blank(solution, unknown('strength-missing', `how much of each ${solution.name} was mixed from`), density);
  const own = { datum: strength.solute, name: solute, of: strength.of };
  const parts = [own, ...(solution.parts ?? [])].map(({ datum, name, of }) =>
    taken(
      {
        amount: { quantities: [datum], weighing: { readings: [] }, ...(of && { strength: { datum: of } }) },
        subject: name.text,
        ...(name.target && { material: name.target }),
      },
      materials,
    ),
  );
  const volume = strength.to ? materials.readings(strength.to) : sumOf(parts.map((part) => part.volume));
  const bySubstance = new Map<Substance, Result[]>();
  for (const { substance, amount } of parts)
    if (substance) bySubstance.set(substance.substance, [...(bySubstance.get(substance.substance) ?? []), amount]);
  const components = [...bySubstance].map(([substance, amounts]) => ({
    name: substance.name,
    substance,
    concentration: over1000(sumOf(amounts, 'n'), volume),
  }));
  const first = parts[0]!.substance;
  const concentration =
    components.find((c) => c.substance === first?.substance)?.concentration ??
    unknown('substance-unknown', `what ${solute.text} is`);
  const molarMass = first && held(first.molarMass);
  const c = held(concentration);
  const perVolume = c && molarMass && massConcentrationOf(c, molarMass);
  const rho = held(density);
  return {
    ...blank(solution, concentration, density),
    ...(first && { solute: first.substance }),
    concentration,
    massConcentration: perVolume ?? concentration,
    massFraction: (perVolume && rho && fractionOf(perVolume, rho)) ?? (isHeld(density) ? concentration : density),
    components: components.filter(({ substance }) => substance.formula?.formula?.text !== 'H2O'),
  };
}

/** Volumes are taken to add up: the working says so. */
function sumOf(results: readonly Result[], symbol = 'V'): Result {
  const bad = results.find((r) => !isHeld(r));
  const sum =
    bad ??
    total(
      results.flatMap((r) => held(r) ?? []),
      symbol,
    ) ??
    unknown('amount-missing', 'an amount');
  return isHeld(sum) && symbol === 'V' && results.length > 1
    ? relabel(sum, { ...sum.working, note: 'volumes taken to add up' })
    : sum;
}

function over1000(n: Result, volume: Result): Result {
  if (!isHeld(n)) return n;
  if (!isHeld(volume)) return volume;
  const working = {
    formula: 'n ÷ V',
    inputs: [
      { symbol: 'n', held: n },
      { symbol: 'V', held: volume },
    ],
  };
  return (
    (volume.kind === 'volume' ? divide('concentration', n, volume, working, 1000) : undefined) ??
    unknown('unit-kind', 'a volume of the whole')
  );
}

/** `25.0 mL X stock in water, made up to 500.0 mL` */
function diluted(solution: Solution, stock: SolutionValue, density: Result, materials: Materials): SolutionValue {
  const soluteOf = stock.solute ? { solute: stock.solute } : {};
  const strength = solution.strength;
  if (strength?.kind !== 'made-up' || !strength.to) {
    return {
      ...blank(solution, unknown('strength-missing', `what ${solution.name} was made up to`), density),
      ...soluteOf,
    };
  }
  const taken = materials.readings(strength.solute);
  const to = materials.readings(strength.to);
  const factor = (kind: Held['kind'], value: Result): Result => {
    const v = held(value);
    if (!v) return value;
    const part = times(kind, v, 'c₁', taken, 'V₁');
    return (
      divide(kind, part, to, {
        formula: 'c₁ · V₁ ÷ V₂',
        inputs: [
          { symbol: 'c₁', held: v },
          { symbol: 'V₁', held: taken },
          { symbol: 'V₂', held: to },
        ],
      }) ?? unknown('unreadable', 'a volume')
    );
  };
  if (taken.kind === to.kind && taken.kind === 'volume') {
    const massConcentration = factor('density', stock.massConcentration);
    const rho = held(density);
    const perVolume = held(massConcentration);
    return {
      solution,
      ...soluteOf,
      concentration: factor('concentration', stock.concentration),
      massConcentration,
      massFraction:
        (rho && perVolume && fractionOf(perVolume, rho)) ?? unknown('density-missing', `a density of ${solution.name}`),
      soluteMass: perVolume ? times('mass', perVolume, 'β', to, 'V') : massConcentration,
      density,
    };
  }
  if (taken.kind === 'mass' && to.kind === 'volume') {
    const w = held(stock.massFraction);
    const mass = w && times('mass', taken, 'm', w, 'w');
    const solute = stock.solute && materials.substance(stock.solute);
    const molarMass = solute && held(solute.molarMass);
    return {
      ...blank(solution, stock.massFraction, density),
      ...soluteOf,
      ...(mass && { soluteMass: mass }),
      ...(mass && molarMass && { concentration: viaAmount(mass, molarMass, to) }),
    };
  }
  if (taken.kind === 'mass' && to.kind === 'mass') {
    return {
      ...blank(solution, density, density),
      ...soluteOf,
      massFraction: factor('massFraction', stock.massFraction),
    };
  }
  return { ...blank(solution, unknown('unit-kind', `a volume of ${stock.solution.name}`), density), ...soluteOf };
}
