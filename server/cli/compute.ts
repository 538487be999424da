/**
 * `tarebook compute`: everything that follows from the pages, as one JSON document (`compute.schema.json`). Numbers are
 * full precision in the unit that the key names, `null` where not computable.
 */
import type { UnitSymbol } from '../../grammar/vocabulary';
import type {
  ChargeValue,
  MeasurementValue,
  Metrics,
  ProductValue,
  ReactionValue,
  RecoveredValue,
  SolutionValue,
  SubstanceValue,
  TitrationValue,
  WeighingValue,
} from '../compute/values';

import type { Entry } from '../model/page';
import type { Outcome } from '../model/world';
import { Decimal } from '../quantity/decimal';
import { isHeld, type Result } from '../quantity/held';
import { machine, machineU } from '../quantity/show';
import { branchesOf } from '../routes';
import type { PageResult, Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import schema from './compute.schema.json';
import { measuredJson, testJson } from './evidence';
import { byPlace, diagnosticOf, internal } from './findings';
import { ledgerJson, neutralisationJson, routeJson, sampleJson } from './ledger';
import { type Opened, open } from './notebook';
import { considerationJson, planJson, plannedJson } from './planned';
import { acceptedJson, diagnosticJson, document, errorJson } from './report/json';
import { signingJson } from './signing';
import type { Exit, Terminal } from './terminal';

export interface ComputeOptions {
  readonly output?: string;
  readonly stdinFilename?: string;
  /** Print the document's schema instead. */
  readonly schema?: boolean;
}

export function compute(paths: readonly string[], options: ComputeOptions, terminal: Terminal): Exit {
  if (options.schema) {
    terminal.write(`${JSON.stringify(schema, null, 2)}\n`, options.output);
    return 0;
  }
  const { cwd, note } = terminal;
  const entries = open({ paths, cwd, stdinFilename: options.stdinFilename, note, detail: () => {} });
  let exit: Exit = 0;
  const failed = (path: string, message: string) => {
    note(`${path}: ${message}`);
    exit = 2;
    return errorJson(path, message);
  };
  const files: object[] = [];
  const made = new Map<Workspace, Outcome[]>();
  for (const entry of entries) {
    if (entry.kind === 'problem') files.push(failed(entry.problem.path, entry.problem.message));
    else
      try {
        const { snapshot, workspace } = entry.opened;
        files.push(fileJson(entry.opened));
        made.set(workspace, [...(made.get(workspace) ?? []), ...outcomesIn(snapshot)]);
      } catch (error) {
        files.push(failed(entry.opened.path, internal(error)));
      }
  }
  const routes = [...made].flatMap(([workspace, pages]) => branchesOf(pages, (id) => workspace.outcomes(id)));
  terminal.write(document(files, routes.length > 0 ? { routes: routes.map(routeJson) } : {}), options.output);
  return exit;
}

const outcomesIn = (snapshot: Snapshot): readonly Outcome[] =>
  Array.from({ length: snapshot.pageCount }, (_, index) => snapshot.page(index).outcome).filter((o) => o !== undefined);

function fileJson({ path, snapshot }: Opened): object {
  const results = Array.from({ length: snapshot.pageCount }, (_, index) => snapshot.page(index));
  const diagnostics = results.flatMap((result, index) =>
    result.findings.map((finding) => diagnosticOf(finding, result, (span) => snapshot.range(index, span))),
  );
  const accepted = results.flatMap((result, index) =>
    result.accepted.map(({ finding, reason }) => ({
      ...diagnosticOf(finding, result, (span) => snapshot.range(index, span)),
      reason,
    })),
  );
  return {
    path,
    experiments: results.flatMap((result, index) => (index === 0 ? [] : [experimentJson(result, snapshot, index)])),
    diagnostics: diagnostics.sort(byPlace).map(diagnosticJson),
    ...(accepted.length > 0 && { accepted: accepted.sort(byPlace).map(acceptedJson) }),
  };
}

// ── one experiment ───────────────────────────────────────────────────────────────────────────────────────────────

/** Line of the file, from 1, of an offset of the page. */
type LineOf = (offset: number) => number;

function experimentJson(result: PageResult, snapshot: Snapshot, index: number): object {
  const { page, values, source } = result;
  const lineOf: LineOf = (offset) => snapshot.range(index, { start: offset, end: offset }).start.line + 1;
  const weighings = values.weighings.filter(({ how }) => how !== 'none');
  return {
    id: page.id?.text ?? null,
    title: page.title?.text ?? null,
    line: lineOf(page.id?.span.start ?? source.blocks[0]?.at ?? 0),
    reactions: values.reactions.map(reactionJson),
    charges: values.charges.map((value) => chargeJson(value, lineOf)),
    weighings: weighings.map((value) => weighingJson(value, lineOf)),
    products: values.products.map((value) => productJson(value, lineOf)),
    ...some('recovered', values.recovered, (value) => recoveredJson(value, lineOf)),
    ...some('solutions', values.solutions, (value) => solutionJson(value, values.titrations)),
    ...some('substances', values.substances, substanceJson),
    ...some('titrations', values.titrations, (value) => titrationJson(value, lineOf)),
    ...some('plans', [...values.plans.map(planJson), ...values.planned.map(plannedJson)], (json) => json),
    ...some('considerations', values.considerations, (value) =>
      considerationJson(value, lineIn(value.consideration.entry, lineOf)),
    ),
    ...some(
      'measurements',
      [
        ...values.measurements.map(measurementJson),
        ...values.measured.map((value) => measuredJson(value, (entry) => lineIn(entry, lineOf))),
      ],
      (json) => json,
    ),
    ...some('tests', values.tests, (value) => testJson(value, (entry) => lineIn(entry, lineOf))),
    ...(values.metrics && metricsJson(values.metrics)),
    ...some('batches', batchesOf(result), (batch) => batch),
    ...signingJson(result, lineOf),
    ...some('samples', values.samples, (value) => sampleJson(value, lineOf)),
    ...some('neutralisations', values.neutralisations, (value) => neutralisationJson(value, lineOf)),
    ...(values.ledger && { ledger: ledgerJson(values.ledger, lineOf) }),
  };
}

/** A list under its key, left out when the page has no such thing. */
const some = <T>(key: string, items: readonly T[], json: (item: T) => object): object =>
  items.length > 0 ? { [key]: items.map(json) } : {};

const lineIn = (entry: Entry, lineOf: LineOf): number => lineOf(entry.mark.start);

function reactionJson({ reaction, balancing, coefficients, limiting, theoretical, ...value }: ReactionValue): object {
  return {
    id: reaction.id,
    balanced: balancing.kind === 'open' ? null : balancing.kind === 'balanced',
    equation: reaction.equation.text,
    limiting: limiting?.term.term.name.text ?? null,
    theoretical: theoretical.map(({ term, amount, mass }) => ({
      substance: term.name.text,
      amount_mol: number(amount, 'mol'),
      mass_g: number(mass, 'g'),
    })),
    atom_economy_percent: number(value.atomEconomy, '%'),
    coefficients: coefficients && Object.fromEntries([...coefficients].map(([name, c]) => [name, fraction(c)])),
    ...(value.conversion && { conversion_percent: number(value.conversion, '%') }),
  };
}

/** `2` or `1/2` as a number. */
function fraction(text: string): number {
  const [numerator = '', denominator = '1'] = text.split('/');
  return Number(numerator) / Number(denominator);
}

function chargeJson({ charge, mass, volume, amount, equiv }: ChargeValue, lineOf: LineOf): object {
  return {
    substance: charge.name.text,
    line: lineIn(charge.entry, lineOf),
    mass_g: number(mass, 'g'),
    volume_mL: number(volume, 'mL'),
    amount_mol: number(amount, 'mol'),
    equiv: base(equiv),
    role: charge.roles[0]?.role ?? null,
    u_amount_mol: spread(amount, 'mol'),
  };
}

/** The line is that of the last reading on the page: a statement may run over several. */
function weighingJson(value: WeighingValue, lineOf: LineOf): object {
  const last = value.gross?.reading ?? value.readings.at(-1);
  const optional = { before_g: value.before, after_g: value.after, residue_g: value.residue };
  return {
    subject: value.subject,
    line: last ? lineOf(last.word.start) : lineIn(value.entry, lineOf),
    tare_g: number(value.tare?.held, 'g'),
    gross_g: number(value.gross?.held, 'g'),
    net_g: number(value.net, 'g'),
    u_net_g: spread(value.net, 'g'),
    ...Object.fromEntries(Object.entries(optional).flatMap(([key, held]) => (held ? [[key, number(held, 'g')]] : []))),
    ...some('series', value.series, ({ change, elapsed, perHour }) => ({
      change_g: number(change, 'g'),
      hours: elapsed === undefined ? null : elapsed / 3600,
      loss_g_per_h: number(perHour, 'g'),
    })),
  };
}

function productJson({ product, mass, amount, ...value }: ProductValue, lineOf: LineOf): object {
  return {
    substance: product.name.text,
    line: lineIn(product.entry, lineOf),
    stage: product.stage?.text ?? null,
    ...(product.label && { label: product.label.text }),
    mass_g: number(mass, 'g'),
    amount_mol: number(amount, 'mol'),
    yield_percent: number(value.yield, '%'),
    u_yield_percent: spread(value.yield, '%'),
    ...(value.stageYield && { stage_yield_percent: number(value.stageYield, '%') }),
    ...(value.brsm && { brsm_percent: number(value.brsm, '%') }),
    ...(value.overall && { overall_yield_percent: number(value.overall, '%') }),
  };
}

function recoveredJson({ recovered, mass, amount, recovery }: RecoveredValue, lineOf: LineOf): object {
  return {
    substance: recovered.name.text,
    line: lineIn(recovered.entry, lineOf),
    mass_g: number(mass, 'g'),
    amount_mol: number(amount, 'mol'),
    recovery_percent: number(recovery, '%'),
    u_recovery_percent: spread(recovery, '%'),
  };
}

const solutionJson = ({ solution, ...value }: SolutionValue, titrations: readonly TitrationValue[]): object => ({
  name: solution.name,
  concentration_mol_L: number(value.concentration, 'mol/L'),
  u_concentration_mol_L: spread(value.concentration, 'mol/L'),
  mass_fraction: base(value.massFraction),
  concentration_g_L: number(value.massConcentration, 'g/L'),
  u_concentration_g_L: spread(value.massConcentration, 'g/L'),
  solute_g: number(value.soluteMass, 'g'),
  ...(value.molality && { molality_mol_kg: number(value.molality, 'mol/kg') }),
  ...(value.components && {
    components: value.components.map(({ name, concentration }) => ({
      name,
      concentration_mol_L: number(concentration, 'mol/L'),
      u_concentration_mol_L: spread(concentration, 'mol/L'),
    })),
  }),
  ...standardisedJson(titrations.findLast(({ titration, mean }) => titration.name.target === solution && isHeld(mean))),
});

/** A later titration stands beside what the solution's own line says. */
const standardisedJson = (titration: TitrationValue | undefined): object =>
  titration && isHeld(titration.mean) && titration.mean.kind === 'concentration'
    ? {
        standardised_mol_L: number(titration.mean, 'mol/L'),
        u_standardised_mol_L: spread(titration.mean, 'mol/L'),
      }
    : {};

/** The mean counts all runs; `outlier_run` (from 0) only says which one Dixon's Q picks out. */
function titrationJson(value: TitrationValue, lineOf: LineOf): object {
  const { titration, ratio, mean, deviation, massConcentration, suspect } = value;
  const ofSample = isHeld(mean) && mean.kind === 'massFraction';
  return {
    solution: titration.name.text,
    line: lineIn(titration.entry, lineOf),
    against: titration.other.text,
    ratio: ratio.text,
    reaction: ratio.reaction?.id ?? null,
    mean_mol_L: ofSample ? null : number(mean, 'mol/L'),
    u_mean_mol_L: ofSample ? null : spread(mean, 'mol/L'),
    sd_mol_L: ofSample ? null : number(deviation, 'mol/L'),
    ...(isHeld(massConcentration) && {
      mean_g_L: number(massConcentration, 'g/L'),
      u_mean_g_L: spread(massConcentration, 'g/L'),
    }),
    ...(ofSample && { mean_mass_fraction: base(mean), u_mean_mass_fraction: spreadOfRatio(mean) }),
    ...(suspect && { outlier_run: suspect.run, dixon_q: suspect.q, dixon_q_limit: suspect.limit }),
    runs: value.runs.map((run) => ({
      mass_g: isHeld(run.portion) && run.portion.kind === 'mass' ? number(run.portion, 'g') : null,
      volume_mL: isHeld(run.portion) && run.portion.kind === 'volume' ? number(run.portion, 'mL') : null,
      titre_mL: number(run.titre, 'mL'),
      amount_mol: number(run.amount, 'mol'),
      ...(ofSample
        ? { mass_fraction: base(run.value), u: spreadOfRatio(run.value) }
        : { concentration_mol_L: number(run.value, 'mol/L'), u: spread(run.value, 'mol/L') }),
    })),
  };
}

const substanceJson = ({ substance, molarMass, exactMass }: SubstanceValue): object => ({
  name: substance.name,
  formula: substance.formula?.text ?? null,
  molar_mass_g_mol: number(molarMass, 'g/mol'),
  u_molar_mass_g_mol: spread(molarMass, 'g/mol'),
  exact_mass_Da: base(exactMass),
});

/** HRMS: m/z with the error in ppm of the calculated; combustion: percent of one element with the deviation. */
function measurementJson({ measurement, kind, what, adduct, calculated, found }: MeasurementValue): object {
  const deviation = isHeld(calculated) ? found.value.minus(calculated.value) : undefined;
  const head = { subject: measurement.name.text, kind, ...(what && { element: what }), ...(adduct && { adduct }) };
  if (kind === 'combustion')
    return {
      ...head,
      calculated: number(calculated, '%'),
      found: number(found, '%'),
      deviation: deviation ? deviation.times(100).toNumber() : null,
    };
  return {
    ...head,
    calculated: base(calculated),
    found: base(found),
    error_ppm: isHeld(calculated) && deviation ? deviation.div(calculated.value).times(1e6).toNumber() : null,
  };
}

function metricsJson({ eFactor, processMassIntensity, reactionMassEfficiency }: Metrics): object {
  const intensity = { e_factor: base(eFactor), process_mass_intensity: base(processMassIntensity) };
  return {
    metrics: { ...intensity, reaction_mass_efficiency_percent: number(reactionMassEfficiency, '%') },
    ...intensity,
  };
}

/** What the page made, as a whole and by label: how much, and how much other pages have left of it. */
function batchesOf({ page, outcome, world }: PageResult): readonly object[] {
  const id = page.id?.text;
  if (id === undefined || !outcome) return [];
  const labels = new Set([undefined, ...outcome.made.flatMap(({ label }) => label ?? [])]);
  return outcome.made.length === 0
    ? []
    : [...labels].map((label) => {
        const batch = world.batch(id, label);
        const mass = batch?.made ?? null;
        // Readings are decimals: 6.217 g less 4.504 g is 1.713 g.
        const left = batch?.taken.reduce<Decimal | null>(
          (rest, { mass: some }) => (rest === null || some === undefined ? null : rest.minus(some)),
          mass === null ? null : new Decimal(mass),
        );
        return {
          id: label === undefined ? id : `${id}/${label}`,
          mass_g: mass,
          left_g: left?.toNumber() ?? null,
        };
      });
}

// ── numbers ──────────────────────────────────────────────────────────────────────────────────────────────────────

const number = (result: Result | undefined, unit: UnitSymbol): number | null =>
  isHeld(result) ? machine(result, unit) : null;

const spread = (result: Result | undefined, unit: UnitSymbol): number | null =>
  isHeld(result) ? machineU(result, unit) : null;

/** Standard uncertainty of a ratio, as a number. */
const spreadOfRatio = (result: Result): number | null => (isHeld(result) ? machineU(result, '') : null);

/** In the base unit of its kind: 1 for ratios, Da for accurate masses. */
function base(result: Result | undefined): number | null {
  const value = isHeld(result) ? result.value.toNumber() : null;
  return value !== null && Number.isFinite(value) ? value : null;
}
