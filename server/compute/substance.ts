/** What can be said of a substance whoever uses it: molar mass, density, purity, exact mass. */
import type { Formula } from '../chem/formula';
import { parseFormula } from '../chem/formula';
import { exactMass, molarMass } from '../chem/mass';
import { structureFormula } from '../chem/structure';
import type { NameRef, Substance } from '../model/page';
import {
  asKind,
  exact,
  type Held,
  type Leaf,
  multiply,
  type Result,
  relabel,
  subtract,
  unknown,
} from '../quantity/held';
import type { Readings } from './readings';
import { one } from './readings';
import type { SubstanceValue } from './values';

const WEIGHTS = 'CIAAW standard atomic weights';
/** One leaf an element: carbon in reactant and product is the same carbon, so its uncertainty cancels in a yield. */
const elements = new Map<string, Leaf>();

function elementLeaf(symbol: string): Leaf {
  let leaf = elements.get(symbol);
  if (!leaf) {
    leaf = { name: `atomic weight of ${symbol}`, origin: { from: 'table', source: WEIGHTS } };
    elements.set(symbol, leaf);
  }
  return leaf;
}

/** g/mol with the uncertainty of the atomic weights; the slack is half of the second decimal. */
export function molarMassOf(formula: Formula): Result {
  const mass = molarMass(formula);
  if (!mass || mass.value.lte(0)) return unknown('formula-missing', `a molar mass of ${formula.text}`);
  return {
    kind: 'molarMass',
    value: mass.value,
    parts: new Map(mass.parts.map((part) => [elementLeaf(part.symbol), part.count.toNumber() * part.u])),
    slack: 0.005,
    figures: Number.POSITIVE_INFINITY,
    working: { inputs: [], origin: { from: 'table', source: WEIGHTS }, note: formula.text },
  };
}

/** The formula a substance is computed with: its own, its structure's, its repeat unit's or its enantiomer's. */
export function formulaOf(substance: Substance, lookUp?: (text: string) => NameRef): Formula | undefined {
  if (substance.repeatUnit?.formula) return substance.repeatUnit.formula;
  if (substance.formula) return substance.formula.formula;
  if (substance.smiles) {
    const structure = structureFormula(substance.smiles.text);
    const parsed = structure.ok ? parseFormula(structure.formula) : undefined;
    return parsed?.ok ? parsed.formula : undefined;
  }
  const enantiomer = substance.racemateOf && lookUp?.(substance.racemateOf.text).target;
  return enantiomer?.kind === 'substance' && enantiomer !== substance ? formulaOf(enantiomer) : undefined;
}

export function substanceValue(
  substance: Substance,
  readings: Readings,
  lookUp?: (text: string) => NameRef,
): SubstanceValue {
  const formula = formulaOf(substance, lookUp);
  const mass = formula && exactMass(formula);
  return {
    substance,
    molarMass: molarMassFor(substance, formula, readings),
    density: densityFor(substance, readings),
    purity: purityOf(substance, readings),
    ...(substance.loading?.quantity.unit?.kind === 'molality' && { loading: readings(substance.loading) }),
    ...(mass && { exactMass: exact('other', mass, { from: 'table', source: 'AME2020 atomic masses' }) }),
  };
}

function molarMassFor(substance: Substance, formula: Formula | undefined, readings: Readings): Result {
  const written = substance.molarMass?.quantity.unit?.kind === 'molarMass' ? substance.molarMass : undefined;
  // What somebody wrote counts over a formula that only the handbook has.
  const fromBook = substance.entry !== undefined && substance.formula?.span.end === 0;
  if (formula && !(written && fromBook)) return molarMassOf(formula);
  if (written) return readings(written);
  return unknown('formula-missing', `a formula or molar mass of ${substance.name}`);
}

function densityFor(substance: Substance, readings: Readings): Result {
  if (substance.density?.quantity.unit?.kind === 'density') return readings(substance.density);
  return unknown('density-missing', `a density of ${substance.name}`);
}

/** Mass fraction of the substance in what is taken: assay, loading of a support, what is not water. */
function purityOf(substance: Substance, readings: Readings): Held {
  let value = one();
  const times = (factor: Held, symbol: string): void => {
    value =
      value.parts.size === 0 && value.value.eq(1)
        ? asKind(factor, 'ratio')
        : multiply('ratio', value, factor, {
            formula: `w · ${symbol}`,
            inputs: [
              { symbol: 'w', held: value },
              { symbol, held: factor },
            ],
          });
  };
  const fraction = (held: Held): boolean => held.kind === 'ratio' || held.kind === 'massFraction';
  const purity = substance.purity && named('purity', readings(substance.purity));
  if (purity && fraction(purity) && purity.value.gt(0) && purity.value.lte(1)) times(purity, 'p');
  const loading = substance.loading && readings(substance.loading);
  if (loading && fraction(loading)) times(loading, 'l');
  const wet = substance.wet && readings(substance.wet);
  if (wet && fraction(wet) && wet.value.lt(1)) {
    const dry = subtract(one(), wet, { formula: '1 − wet', inputs: [{ symbol: 'wet', held: wet }] });
    times(relabel({ ...dry, kind: 'ratio', figures: wet.figures }, dry.working), 'dry');
  }
  return value;
}

/** A reading whose share in an uncertainty is better known by what it is than by its digits. */
function named(name: string, value: Held): Held {
  return { ...value, parts: new Map([...value.parts].map(([leaf, u]) => [{ ...leaf, name }, u])) };
}

export const isPure = (value: Held): boolean => value.value.eq(1) && value.parts.size === 0;
