/** Melting and boiling points, refractive index, Rf, rotation, hydrogens of a proton line: found beside what it should be. */
import { BOILING_SPREAD, boilingAt, HYDROXYL, TROUTON } from '../chem/boiling';
import type { Formula } from '../chem/formula';
import { type CountedHydrogens, countHydrogens } from '../chem/hydrogens';
import { labileHydrogens } from '../chem/structure';
import { hasPattern } from '../chem/tests';
import type { Measured } from '../model/evidence';
import type { Datum } from '../model/page';
import { Decimal } from '../quantity/decimal';
import {
  add,
  divide,
  exact,
  type Held,
  held,
  multiply,
  type Result,
  reading,
  relabel,
  subtract,
  unknown,
} from '../quantity/held';
import type { Readings } from './readings';
import { structureOf } from './structures';
import { formulaOf } from './substance';
import type { SubstanceValue } from './values';

export interface MeasuredValue {
  readonly measured: Measured;
  readonly substance?: SubstanceValue;
  /** As read; the middle of a range. */
  readonly found?: Held;
  /**
   * What it comes to: the boiling point estimated at the pressure, the index brought to the temperature of the
   * literature's (20 °C), Rf from the distances, specific rotation from the angle, hydrogens of the formula.
   */
  readonly calculated: Result;
  /** From the claim `(lit. …)`, else of the substance. */
  readonly literature?: Held;
  /** Found less calculated; for mp, an ordinary bp, an index and a rotation what there is less the literature. */
  readonly deviation?: Held;
  /** Of a melting or boiling range, K. */
  readonly width?: Held;
  /** [α] over that of the literature, 1. */
  readonly opticalPurity?: Held;
  readonly hydrogens?: HydrogenCount;
}

export interface HydrogenCount {
  readonly counted: CountedHydrogens;
  /** Hydrogens of the formula that the line must show, and all of them. */
  readonly least: number;
  readonly all: number;
}

export function measuredValue(
  measured: Measured,
  substance: SubstanceValue | undefined,
  readings: Readings,
): MeasuredValue | undefined {
  const base = { measured, ...(substance && { substance }) };
  switch (measured.kind) {
    case 'mp':
      return { ...base, ...meltingPoint(measured, substance, readings) };
    case 'bp':
      return { ...base, ...boilingPoint(measured, substance, readings) };
    case 'refractive index':
      return { ...base, ...refractiveIndex(measured, readings) };
    case 'Rf':
      return { ...base, ...retardation(measured, readings) };
    case 'optical rotation':
      return { ...base, ...rotation(measured, readings) };
    case '1H NMR':
      return hydrogens(measured, substance, base);
  }
}

type Found = Omit<MeasuredValue, 'measured' | 'substance'>;

const NO_WORKING = { inputs: [] };

/** A temperature, if it is one: the middle of its range. */
function temperatureOf(datum: Datum | undefined, readings: Readings): Held | undefined {
  return datum?.quantity.unit?.kind === 'temperature' ? readings(datum) : undefined;
}

function difference(a: Held | undefined, b: Held | undefined, kind?: Held['kind']): Held | undefined {
  if (!a || !b) return undefined;
  const inputs = [
    { symbol: 'found', held: a },
    { symbol: 'other', held: b },
  ];
  const less = subtract(a, b, { formula: 'found − other', inputs });
  return kind ? { ...less, kind } : less;
}

/** Top less bottom of a range, K; undefined for a single temperature. */
function widthOf(datum: Datum | undefined): Held | undefined {
  const quantity = datum?.quantity;
  if (!quantity?.to || quantity.course || quantity.unit?.kind !== 'temperature') return undefined;
  const k = quantity.to.value.minus(quantity.number.value).abs().times(quantity.unit.factor);
  return { ...exact('temperatureDifference', k, datum?.origin), figures: Math.max(1, k.e - quantity.number.place + 1) };
}

function meltingPoint(measured: Measured, substance: SubstanceValue | undefined, readings: Readings): Found {
  const found = temperatureOf(measured.value, readings);
  const literature = temperatureOf(measured.literature?.value ?? substance?.substance.mp, readings);
  return {
    calculated: unknown('depends', 'nothing: a melting point is not computed'),
    ...optional('found', found),
    ...optional('literature', literature),
    ...optional('deviation', difference(found, literature, 'temperatureDifference')),
    ...optional('width', widthOf(measured.value)),
  };
}

// ── boiling point ────────────────────────────────────────────────────────────────────────────────────────────────

const ORDINARY = 101.325;

function boilingPoint(measured: Measured, substance: SubstanceValue | undefined, readings: Readings): Found {
  const found = temperatureOf(measured.value, readings);
  const pressure = measured.pressure && readings(measured.pressure);
  const written = measured.literature;
  const literature = temperatureOf(written?.value ?? substance?.substance.bp, readings);
  const literatureAt = written ? written.pressure : substance?.substance.bpAt;
  const p0 = literatureAt ? readings(literatureAt) : undefined;
  const samePressure =
    Math.abs((pressure?.value.toNumber() ?? ORDINARY) / (p0?.value.toNumber() ?? ORDINARY) - 1) < 0.03;
  // What is written with the line may be for its own pressure; the substance's own value says how it boils at another.
  const base = samePressure ? temperatureOf(substance?.substance.bp, readings) : literature;
  const basePressure = samePressure ? substance?.substance.bpAt && readings(substance.substance.bpAt) : p0;
  const calculated = pressure
    ? estimate(base, basePressure, pressure, substance)
    : unknown('depends', 'a pressure: without one nothing is estimated');
  const beside = samePressure ? literature : held(calculated);
  return {
    calculated,
    ...optional('found', found),
    ...optional('literature', literature),
    ...optional('deviation', difference(found, beside, 'temperatureDifference')),
    ...optional('width', widthOf(measured.value)),
  };
}

function estimate(
  base: Held | undefined,
  basePressure: Held | undefined,
  pressure: Held,
  substance: SubstanceValue | undefined,
): Result {
  const name = substance?.substance.name ?? 'the substance';
  if (!base) return unknown('depends', `a boiling point of ${name} at a known pressure`);
  const smiles = substance && structureOf(substance.substance)?.smiles;
  if (smiles && hasPattern(smiles, '[CX3](=O)[OX2H1]'))
    return unknown('depends', 'more than an estimate: a carboxylic acid pairs in the vapour');
  if (smiles && /\[[^\]]*[+-]\d*\]/.test(smiles) && smiles.includes('.'))
    return unknown('depends', 'another measurement: a salt does not boil');
  const hydroxyl = smiles !== undefined && (hasPattern(smiles, '[CX4][OX2H1]') || smiles === 'O');
  const entropy = hydroxyl ? TROUTON * HYDROXYL : TROUTON;
  const p0 = basePressure?.value.toNumber() ?? ORDINARY;
  const t = boilingAt(base.value.toNumber(), p0, pressure.value.toNumber(), entropy);
  if (t === undefined) return unknown('depends', 'a pressure of 1 mmHg or more: below it no estimate is made');
  const rule = `± ${BOILING_SPREAD} K, an estimate from Trouton’s rule with a heat-capacity term (ΔS ${hydroxyl ? 'as of alcohols' : 'as of ordinary liquids'})`;
  const leaf = { name: 'boiling-point estimate', origin: { from: 'rule' as const, says: rule } };
  const value = reading('temperature', new Decimal(t), BOILING_SPREAD, 3, leaf);
  return {
    ...value,
    working: {
      formula: 'Tb at p',
      inputs: [
        { symbol: 'Tb', held: base },
        { symbol: 'p', held: pressure },
      ],
      note: rule,
    },
  };
}

// ── refractive index ─────────────────────────────────────────────────────────────────────────────────────────────

/** Per kelvin, for organic liquids: common practice. */
const INDEX_PER_KELVIN = '0.00045';

function refractiveIndex(measured: Measured, readings: Readings): Found {
  const found = numberOf(measured.value, readings);
  const literature = numberOf(measured.literature?.value, readings);
  const t = temperatureOf(measured.temperature, readings);
  const t0 =
    temperatureOf(measured.literature?.temperature, readings) ??
    exact('temperature', '293.15', { from: 'rule', says: 'the usual temperature of a refractive index' });
  const calculated = found && t ? corrected(found, t, t0) : undefined;
  return {
    calculated: calculated ?? unknown('depends', 'the temperature of the reading'),
    ...optional('found', found),
    ...optional('literature', literature),
    ...optional('deviation', difference(calculated ?? found, literature)),
  };
}

function corrected(found: Held, t: Held, t0: Held): Held {
  const warmer = difference(t, t0, 'temperatureDifference')!;
  const perKelvin = exact('number', INDEX_PER_KELVIN, { from: 'rule', says: 'common practice for organic liquids' });
  const shift = multiply('number', warmer, perKelvin, NO_WORKING);
  return add(found, shift, {
    formula: 'n + (t − t₀) · k',
    inputs: [
      { symbol: 'n', held: found },
      { symbol: 't', held: t },
      { symbol: 't₀', held: t0 },
      { symbol: 'k', held: perKelvin },
    ],
    note: 'An index falls by about 0.00045 for each kelvin: common practice for organic liquids.',
  });
}

/** A bare number. */
function numberOf(datum: Datum | undefined, readings: Readings): Held | undefined {
  return datum && datum.quantity.unit === undefined ? readings(datum) : undefined;
}

// ── Rf ───────────────────────────────────────────────────────────────────────────────────────────────────────────

function retardation(measured: Measured, readings: Readings): Found {
  const written = numberOf(measured.value, readings);
  const spot = lengthOf(measured.spot, readings);
  const front = lengthOf(measured.front, readings);
  const calculated =
    spot &&
    front &&
    divide('number', spot, front, {
      formula: 'spot ÷ front',
      inputs: [
        { symbol: 'spot', held: spot },
        { symbol: 'front', held: front },
      ],
    });
  const literature = numberOf(measured.literature?.value, readings);
  return {
    calculated: calculated ?? unknown('depends', 'the distances of spot and front'),
    ...optional('found', written ?? calculated),
    ...optional('literature', literature),
    ...optional('deviation', difference(written, calculated)),
  };
}

/** A length, or a bare number: spot and front then are in the same unit. */
function lengthOf(datum: Datum | undefined, readings: Readings): Held | undefined {
  if (!datum) return undefined;
  const kind = datum.quantity.unit?.kind ?? 'number';
  return kind === 'length' || kind === 'number' ? readings(datum) : undefined;
}

// ── rotation ─────────────────────────────────────────────────────────────────────────────────────────────────────

function rotation(measured: Measured, readings: Readings): Found {
  const angle = measured.value && angleOf(measured.value, readings);
  const literature = measured.literature && angleOf(measured.literature.value, readings);
  const { length, concentration } = measured;
  const raw = length !== undefined || concentration !== undefined;
  const calculated = raw ? specific(angle, length, concentration, readings) : angle;
  const result = calculated ?? unknown('depends', 'an angle');
  const value = held(result);
  const share =
    value && literature
      ? divide('ratio', value, literature, {
          formula: '[α] ÷ [α](lit.)',
          inputs: [
            { symbol: '[α]', held: value },
            { symbol: '[α](lit.)', held: literature },
          ],
          note: 'Optical purity is the enantiomeric excess where rotation goes with composition, at equal solvent, temperature and concentration.',
        })
      : undefined;
  return {
    calculated: result,
    ...optional('found', angle),
    ...optional('literature', literature),
    ...optional('deviation', difference(value, literature)),
    ...optional('opticalPurity', share),
  };
}

/** [α] = α/(l·c), l in dm and c in g/mL. */
function specific(
  angle: Held | undefined,
  length: Datum | undefined,
  concentration: Datum | undefined,
  readings: Readings,
): Result {
  if (!angle) return unknown('depends', 'an angle');
  const read = length && length.quantity.unit?.kind === 'length' ? readings(length) : undefined;
  if (!read) return unknown('depends', 'the length of the tube');
  const c = concentration && perMillilitre(concentration, readings);
  if (!c) return unknown('strength-missing', 'the concentration as mass per volume');
  // Lengths are held in mm; here one decimetre is 1, and it is shown as it was written.
  const l = relabel(multiply('number', read, exact('number', '0.01'), NO_WORKING), read.working);
  const path = multiply('number', l, c, NO_WORKING);
  const inputs = [
    { symbol: 'α', held: angle },
    { symbol: 'l', held: l },
    { symbol: 'c', held: c },
  ];
  const note = 'Specific rotation: l in dm, c in g/mL.';
  return (
    divide('number', angle, path, { formula: 'α ÷ (l · c)', inputs, note }) ??
    unknown('strength-missing', 'a concentration and a length above zero')
  );
}

/** g/mL; a bare number is g/100 mL, as `c` is written in journals. */
function perMillilitre(datum: Datum, readings: Readings): Held | undefined {
  const c = readings(datum);
  const kind = datum.quantity.unit?.kind;
  if (kind === 'density' || kind === 'massPerVolume') return { ...c, kind: 'density' };
  if (kind !== undefined) return undefined;
  return multiply('density', c, exact('number', '0.01'), {
    formula: 'c ÷ 100',
    inputs: [{ symbol: 'c', held: c }],
    note: 'A bare concentration is read as g/100 mL.',
  });
}

/** Degrees, or a bare number. */
function angleOf(datum: Datum, readings: Readings): Held | undefined {
  const kind = datum.quantity.unit?.kind;
  const bare = kind === undefined || kind === 'angle' || datum.quantity.unit?.symbol === '° cm² g⁻¹';
  return bare ? { ...readings(datum), kind: 'number' } : undefined;
}

// ── hydrogens ────────────────────────────────────────────────────────────────────────────────────────────────────

function hydrogens(
  measured: Measured,
  substance: SubstanceValue | undefined,
  base: Pick<MeasuredValue, 'measured' | 'substance'>,
): MeasuredValue | undefined {
  const counted = measured.text && countHydrogens(measured.text.text);
  if (!counted) return undefined;
  const sum = exact('number', new Decimal(counted.least).plus(counted.most).div(2));
  const found: Held = { ...sum, working: { inputs: [], written: counted.parts.join(' + ') } };
  const formula = substance && formulaOf(substance.substance);
  const all = formula && hydrogensOf(formula);
  if (all === undefined)
    return {
      ...base,
      found,
      calculated: unknown('formula-missing', `a formula of ${measured.name.text}`),
    };
  const smiles = structureOf(substance!.substance)?.smiles;
  const labile = Math.min(all, (smiles ? labileHydrogens(smiles) : undefined) ?? mostLabile(formula!));
  const calculated = exact('number', all);
  const deviation = difference(found, calculated);
  return {
    ...base,
    found,
    calculated,
    ...optional('deviation', deviation),
    hydrogens: { counted, least: all - labile, all },
  };
}

/** Protium only: labelled hydrogen is not seen. */
const hydrogensOf = (formula: Formula): number | undefined => {
  const count = formula.counts.get('H') ?? new Decimal(0);
  return formula.counts.size > 0 && count.isInteger() ? count.toNumber() : undefined;
};

/** Without a structure: as many as the heteroatoms could carry. */
function mostLabile(formula: Formula): number {
  const n = (element: string): number => formula.counts.get(element)?.toNumber() ?? 0;
  return n('O') * 2 + n('N') * 4 + n('S') + n('P') * 2 + n('B') * 3 + n('Cl') + n('Br') + n('I') + n('Si');
}

const optional = <K extends string, V>(key: K, value: V | undefined): { readonly [P in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { readonly [P in K]?: V };
