/**
 * The ledger of a page: all that was charged leaves as product, recovered material, sample, gas or waste. A line without
 * a mass leaves the balance open; nothing is guessed.
 */
import type { Entry, Sample } from '../model/page';
import type { Waste } from '../model/waste';
import { add, exact, type Held, held, isHeld, multiply, type Result, subtract, total, unknown } from '../quantity/held';
import { type Content, contentsOf } from './contents';
import type { Materials } from './solution';
import { taken } from './taken';
import type { ChargeValue, ProductValue, ReactionValue, RecoveredValue, UsedValue } from './values';

export interface WasteValue {
  readonly waste: Waste;
  /** g */
  readonly mass: Result;
  /** mL */
  readonly volume: Result;
  readonly contents: readonly Content[];
}

export interface SampleValue {
  readonly sample: Sample;
  /** g */
  readonly mass: Result;
  /** mL */
  readonly volume: Result;
  /** mol */
  readonly amount: Result;
  /** Taken from a product after that was weighed: part of its mass, so not counted again. */
  readonly within: boolean;
}

export type Exit = 'product' | 'recovered' | 'sample' | 'gas' | 'waste';

export interface LedgerLine {
  /** What it is: a substance, or the name of a stream. */
  readonly what: string;
  readonly as: 'charge' | Exit;
  /** The equation, for a gas. */
  readonly entry: Entry;
  /** g */
  readonly mass: Result;
}

export interface LedgerStream {
  readonly name: string;
  /** g; of all its lines. */
  readonly mass: Result;
  /** mL; of the lines that have one. */
  readonly volume: Result;
  readonly contents: readonly string[];
  readonly lines: readonly WasteValue[];
}

export interface LedgerValue {
  readonly lines: readonly LedgerLine[];
  /** g */
  readonly in: Result;
  readonly out: Result;
  /** In minus out; unknown while a line has no mass. */
  readonly unaccounted: Result;
  /** Lines whose mass nobody knows. */
  readonly open: readonly LedgerLine[];
  readonly streams: readonly LedgerStream[];
  /** Taken for tests and measurements. It comes out of what is listed already, mostly the product: no exit of its own. */
  readonly used: readonly UsedValue[];
}

const NO_MASS = unknown('amount-missing', 'a mass or volume');

export function wasteValue(waste: Waste, materials: Materials): WasteValue {
  const masses = waste.quantities.filter((q) => q.quantity.unit?.kind === 'mass').map((q) => materials.readings(q));
  const volumes = waste.quantities.filter((q) => q.quantity.unit?.kind === 'volume').map((q) => materials.readings(q));
  const volume: Result = total(volumes, 'V') ?? NO_MASS;
  const weighed = total(masses, 'm');
  const poured = isHeld(volume) ? massOf(waste, volume, materials) : undefined;
  const mass: Result =
    poured === undefined
      ? (weighed ?? NO_MASS)
      : !isHeld(poured) || !weighed
        ? poured
        : add(weighed, poured, {
            formula: 'm₁ + m₂',
            inputs: [
              { symbol: 'm₁', held: weighed },
              { symbol: 'm₂', held: poured },
            ],
          });
  return { waste, mass, volume, contents: contentsOf(waste) };
}

/** Only with a density that is written, or that of the one substance it is. */
function massOf(waste: Waste, volume: Held, materials: Materials): Result {
  const density = waste.density && materials.readings(waste.density);
  if (density?.kind === 'density')
    return multiply('mass', volume, density, {
      formula: 'V · ρ',
      inputs: [
        { symbol: 'V', held: volume },
        { symbol: 'ρ', held: density },
      ],
    });
  const pure = waste.pure?.target;
  if (!pure) return unknown('density-missing', `a density of the ${waste.stream.text} waste`);
  const [first] = waste.quantities;
  const amount = { quantities: first ? [first] : [], weighing: { readings: [] } };
  return taken({ amount, subject: pure.name, material: pure }, materials).mass;
}

export function sampleValue(sample: Sample, products: readonly ProductValue[], materials: Materials): SampleValue {
  const { quantity, name, entry, id } = sample;
  const amount = { quantities: quantity ? [quantity] : [], weighing: { readings: [] } };
  const target = name?.target;
  const value = taken({ amount, subject: name?.text ?? id, ...(target && { material: target }) }, materials);
  const within = products.some(
    ({ product, superseded }) =>
      !superseded && product.entry.block < entry.block && target !== undefined && product.name.target === target,
  );
  return { sample, mass: value.mass, volume: value.volume, amount: value.amount, within };
}

export interface LedgerFrom {
  readonly charges: readonly ChargeValue[];
  readonly reactions: readonly ReactionValue[];
  readonly products: readonly ProductValue[];
  readonly recovered: readonly RecoveredValue[];
  readonly samples: readonly SampleValue[];
  readonly wastes: readonly WasteValue[];
  readonly used: readonly UsedValue[];
}

/** Undefined for a page on which nothing goes in or nothing comes out. */
export function ledgerOf(from: LedgerFrom): LedgerValue | undefined {
  const { charges, products, recovered, samples, wastes } = from;
  const exits = [...products, ...recovered, ...samples, ...wastes];
  if (wastes.length === 0 && (charges.length === 0 || exits.length === 0)) return undefined;
  const lines: LedgerLine[] = [
    ...charges.flatMap((c): LedgerLine[] => {
      // A blanket of gas is not matter that has to come out again.
      if (c.charge.roles.some(({ role }) => role === 'atmosphere')) return [];
      const { name, entry } = c.charge;
      return [{ what: name.text, as: 'charge', entry, mass: c.unlimited ? noMass(name.text) : c.mass }];
    }),
    ...products.flatMap(({ product: { name, entry }, mass, superseded }): LedgerLine[] =>
      superseded ? [] : [{ what: name.text, as: 'product', entry, mass }],
    ),
    ...recovered.map(
      ({ recovered: { name, entry }, mass }): LedgerLine => ({
        what: name.text,
        as: 'recovered',
        entry,
        mass,
      }),
    ),
    ...samples.flatMap(({ sample, mass, within }): LedgerLine[] =>
      within ? [] : [{ what: sample.name?.text ?? sample.id, as: 'sample', entry: sample.entry, mass }],
    ),
    ...gases(from),
    ...wastes.map(
      ({ waste, mass }): LedgerLine => ({ what: waste.stream.text, as: 'waste', entry: waste.entry, mass }),
    ),
  ];
  const into = sumOf(
    lines.filter((l) => l.as === 'charge'),
    'a charge',
  );
  const out = sumOf(
    lines.filter((l) => l.as !== 'charge'),
    'a product, a sample or waste',
  );
  return {
    lines,
    in: into,
    out,
    unaccounted: difference(into, out),
    open: lines.filter((line) => !isHeld(line.mass)),
    streams: streamsOf(wastes),
    used: from.used,
  };
}

const noMass = (name: string): Result => unknown('amount-missing', `a mass of ${name}`);

/** Gaseous by-products, as much as the equation says for what reacted. */
function gases({ reactions, products, recovered }: LedgerFrom): LedgerLine[] {
  const kept = new Set([
    ...products.map(({ product }) => product.name.target),
    ...recovered.map(({ recovered: line }) => line.name.target),
  ]);
  return reactions.flatMap((value) =>
    value.theoretical.flatMap(({ term, mass }): LedgerLine[] => {
      const target = term.name.target;
      const gaseous = term.state === 'g' || (target?.kind === 'substance' && target.state === 'gas');
      if (!gaseous || term.state === 'aq' || (target && kept.has(target))) return [];
      return [{ what: term.name.text, as: 'gas', entry: value.reaction.entry, mass: reacted(mass, value) }];
    }),
  );
}

function reacted(mass: Result, { conversion }: ReactionValue): Result {
  if (!isHeld(mass) || !conversion) return mass;
  return multiply('mass', mass, conversion, {
    formula: 'm · X',
    inputs: [
      { symbol: 'm', held: mass },
      { symbol: 'X', held: conversion },
    ],
  });
}

function sumOf(lines: readonly LedgerLine[], what: string): Result {
  const missing = lines.find(({ mass }) => !isHeld(mass));
  if (missing && !isHeld(missing.mass)) return unknown(missing.mass.missing, missing.mass.what);
  return (
    total(
      lines.flatMap(({ mass }) => held(mass) ?? []),
      'm',
    ) ?? (what === 'a charge' ? unknown('not-charged', what) : exact('mass', 0))
  );
}

function difference(into: Result, out: Result): Result {
  if (!isHeld(into)) return into;
  if (!isHeld(out)) return out;
  return subtract(into, out, {
    formula: 'm(in) − m(out)',
    inputs: [
      { symbol: 'm(in)', held: into },
      { symbol: 'm(out)', held: out },
    ],
  });
}

function streamsOf(wastes: readonly WasteValue[]): LedgerStream[] {
  const byKey = new Map<string, WasteValue[]>();
  for (const value of wastes) byKey.set(value.waste.key, [...(byKey.get(value.waste.key) ?? []), value]);
  return [...byKey.values()].map((lines): LedgerStream => {
    const open = lines.find(({ mass }) => !isHeld(mass));
    const volumes = lines.flatMap(({ volume }) => held(volume) ?? []);
    return {
      name: lines[0]!.waste.stream.text,
      mass:
        open?.mass ??
        total(
          lines.flatMap(({ mass }) => held(mass) ?? []),
          'm',
        ) ??
        NO_MASS,
      volume: total(volumes, 'V') ?? NO_MASS,
      contents: [...new Set(lines.flatMap(({ contents }) => contents.map(({ name }) => name)))],
      lines,
    };
  });
}
