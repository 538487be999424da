import type {
  Balance,
  Charge,
  Claim,
  Entry,
  Material,
  Measurement,
  NameRef,
  Page,
  Plan,
  Product,
  Reaction,
  ReactionTerm,
  Reading,
  Recovered,
  Role,
  Solution,
  Substance,
  Vessel,
  Weigh,
} from '../model/page';
import type { Titration, TitrationRun } from '../model/titration';
import type { Verdict } from '../quantity/agree';
import type { Held, Result } from '../quantity/held';
import type { ConsiderationValue } from './consider';
import type { Ratio } from './equivalence';
import type { LedgerValue, SampleValue, WasteValue } from './ledger';
import type { MeasuredValue } from './measured';
import type { NeutralisationValue } from './neutralise';
import type { SeriesStep } from './series';
import type { TestValue } from './tests';

/** A substance with what can be said of it whoever uses it. */
export interface SubstanceValue {
  readonly substance: Substance;
  /** g/mol; of the repeat unit where the substance is a polymer. */
  readonly molarMass: Result;
  /** g/mL */
  readonly density: Result;
  /** Mass fraction of the substance in the material as taken (purity, loading, wet), 1 when nothing is said. */
  readonly purity: Held;
  /** Amount of active sites per mass of a support, mol/kg. */
  readonly loading?: Held;
  /** Da, most abundant isotopes. */
  readonly exactMass?: Held;
}

export interface SolutionValue {
  readonly solution: Solution;
  /** What it carries. */
  readonly solute?: Substance;
  /** mol/L */
  readonly concentration: Result;
  /** 1 */
  readonly massFraction: Result;
  /** g/L as g/mL */
  readonly massConcentration: Result;
  /** Mass of solute weighed in, g. */
  readonly soluteMass: Result;
  /** g/mL */
  readonly density: Result;
  /** mol/kg, where it was written so. */
  readonly molality?: Held;
  /** Of each thing it was mixed from, mol/L. */
  readonly components?: readonly {
    readonly name: string;
    readonly substance: Substance;
    readonly concentration: Result;
  }[];
  /** By titration on this page; its own line is then only nominal. */
  readonly standardised?: TitrationValue;
}

export type WeighingHow = 'difference' | 'net' | 'dispensed' | 'incomplete' | 'none';

/** One weighing: of a charge, a product, a substance or an empty vessel. */
export interface WeighingValue {
  readonly entry: Entry;
  readonly subject: string;
  readonly how: WeighingHow;
  readonly vessel?: Vessel;
  readonly balance?: Balance;
  /** As written here, or taken from the vessel's own record. */
  readonly tare?: { readonly held: Held; readonly reading: Reading; readonly elsewhere: boolean };
  /** The last of a series. */
  readonly gross?: { readonly held: Held; readonly reading: Reading };
  readonly before?: Held;
  readonly after?: Held;
  readonly residue?: Held;
  /** g */
  readonly net: Result;
  readonly readings: readonly Reading[];
  /** From each reading to the next, of the kind that was read more than once; empty where none was. */
  readonly series: readonly SeriesStep[];
}

/** What was taken of a material. */
export interface TakenValue {
  readonly material?: Material;
  /** Of the material as taken, g. */
  readonly mass: Result;
  /** Of the material as taken, mL. */
  readonly volume: Result;
  /** Of the substance (the solute of a solution), mol. */
  readonly amount: Result;
  /** The substance that counts: the solute of a solution. */
  readonly substance?: SubstanceValue;
  readonly solution?: SolutionValue;
  readonly weighing?: WeighingValue;
  /** Share of the mass that was counted, of a substance: its own purity, or a product's assay less what it contains. */
  readonly purity?: Held;
  /** Nobody can compute how much: `excess`, `balloon`. */
  readonly unlimited: boolean;
}

export interface ChargeValue extends TakenValue {
  readonly charge: Charge;
  readonly reaction?: ReactionValue;
  readonly term?: ReactionTerm;
  /** n over n of the limiting reactant. */
  readonly equiv: Result;
}

export interface TermValue {
  readonly term: ReactionTerm;
  readonly substance?: SubstanceValue;
  /** Charged, or carried over from the reaction before; mol. */
  readonly charged: Result;
  readonly unlimited: boolean;
  /** Carried over from another reaction of the page. */
  readonly carried: boolean;
}

export type Balancing =
  | { readonly kind: 'balanced' }
  | { readonly kind: 'open'; readonly why: 'rest' | 'unknown' }
  | {
      readonly kind: 'unbalanced';
      readonly differences: readonly { readonly what: string; readonly left: string; readonly right: string }[];
      readonly solution: 'one' | 'several' | 'none';
      /** The equation with its smallest whole coefficients, when there is one answer. */
      readonly equation?: string;
    };

export interface ReactionValue {
  readonly reaction: Reaction;
  readonly left: readonly TermValue[];
  readonly right: readonly TermValue[];
  readonly balancing: Balancing;
  /** Coefficients of the balanced equation by name, when there is one answer. */
  readonly coefficients: ReadonlyMap<string, string> | null;
  readonly limiting?: { readonly term: TermValue; readonly amount: Held; readonly declared: boolean };
  /** The reactant that would be limiting by what was charged, where another is declared. */
  readonly computedLimiting?: TermValue;
  /** n(limiting) over its coefficient, mol. */
  readonly extent: Result;
  readonly theoretical: readonly TheoreticalValue[];
  /** 1 */
  readonly atomEconomy: Result;
  /** 1 */
  readonly conversion?: Held;
}

export interface TheoreticalValue {
  readonly term: ReactionTerm;
  readonly substance?: SubstanceValue;
  readonly amount: Result;
  readonly mass: Result;
}

export interface ProductValue extends TakenValue {
  readonly product: Product;
  readonly reaction?: ReactionValue;
  readonly theory?: TheoreticalValue;
  /** 1; of this line alone. */
  readonly yield: Result;
  /** 1; of all crops of this stage together, where there are several. */
  readonly stageYield?: Held;
  /** Based on recovered starting material, 1. */
  readonly brsm?: Held;
  /** Over the pages it came from, 1. */
  readonly overall?: Held;
  /** A later stage replaces this line. */
  readonly superseded: boolean;
}

export interface RecoveredValue extends TakenValue {
  readonly recovered: Recovered;
  /** Share of what was charged, 1. */
  readonly recovery: Result;
}

export interface WeighValue extends TakenValue {
  readonly weigh: Weigh;
}

export interface TitrationRunValue {
  readonly run: TitrationRun;
  /** What stood in the flask, as measured: g or mL. */
  readonly portion: Result;
  /** Delivered, blank taken off, mL. */
  readonly titre: Result;
  /** Of the standard, or of the titrant delivered; mol. */
  readonly known: Result;
  /** Of what is looked for, mol. */
  readonly amount: Result;
  /** Its strength: mol/L, or the mass fraction of a weighed sample. */
  readonly value: Result;
}

export interface TitrationValue {
  readonly titration: Titration;
  readonly ratio: Ratio;
  /** What reacts in the solution or sample. */
  readonly analyte?: SubstanceValue;
  /** What was in the burette, where its strength is known. */
  readonly titrant?: Material;
  readonly runs: readonly TitrationRunValue[];
  /** mol/L, or the mass fraction of a weighed sample. */
  readonly mean: Result;
  /** g/L as g/mL */
  readonly massConcentration: Result;
  /** Sample standard deviation of the runs. */
  readonly deviation?: Held;
  /** The run that Dixon's Q picks out; it counts all the same. */
  readonly suspect?: { readonly run: number; readonly q: number; readonly limit: number; readonly gap: Held };
}

/** What to take to make so much of a solution. */
export interface MakingUpValue {
  /** The solute, a hydrate or grade of it, or a stock. */
  readonly source: Material;
  /** Of the finished solution: mL or g. */
  readonly whole: Held;
  /** Of the solute, mol. */
  readonly amount: Result;
  /** Of the source as it is weighed, g. */
  readonly mass: Result;
  /** Of the source where it is measured by volume, mL. */
  readonly volume: Result;
}

/** What is planned of something: mass and volume as it is taken, amount of what counts. */
export interface PlannedValue {
  readonly name: string;
  readonly material?: Material;
  readonly substance?: SubstanceValue;
  /** g */
  readonly mass: Result;
  /** mL */
  readonly volume: Result;
  /** mol */
  readonly amount: Result;
  readonly role?: Role | 'product';
  readonly balance?: Balance;
  /** Rounded to what the balance shows, g. */
  readonly weigh?: Held;
  /** Rounded to what the usual glassware can measure, mL; of liquids. */
  readonly measure?: Held;
  /** The mass is less than the balance weighs well: its limit, g, and twice its standard deviation over the mass, 1. */
  readonly below?: { readonly least: Held; readonly relative?: Held };
  /** Of a product: what would come out at a yield of 100 %. */
  readonly theory?: { readonly amount: Held; readonly mass: Result };
  /** Of a product, as expected: 1. */
  readonly yield?: Held;
}

export interface PlanValue extends PlannedValue {
  readonly plan: Plan;
  /** Of a solution: mass, volume and amount are those of what it is made from. */
  readonly makingUp?: MakingUpValue;
}

/** A term of an equation that has no plan of its own and follows from another's. */
export interface ImpliedPlan extends PlannedValue {
  readonly target: Plan;
  readonly term: ReactionTerm;
  readonly reaction: Reaction;
}

export interface MeasurementValue {
  readonly measurement: Measurement;
  readonly kind: 'HRMS' | 'combustion';
  /** Element for combustion. */
  readonly what?: string;
  readonly calculated: Result;
  readonly found: Held;
  readonly adduct?: string;
}

/** What a claim is about. */
export type Property =
  | 'mass'
  | 'volume'
  | 'amount'
  | 'equiv'
  | 'mol%'
  | 'net'
  | 'yield'
  | 'recovery'
  | 'loss'
  | 'brsm'
  | 'overall'
  | 'conversion'
  | 'concentration'
  | 'deviation'
  | 'mass fraction'
  | 'density'
  | 'molar mass'
  | 'm/z'
  | 'element'
  | 'Rf'
  | 'specific rotation'
  | 'optical purity'
  | 'theory'
  | 'literature'
  | 'other';

export type Slip =
  | 'factor-1000'
  | 'digits-swapped'
  | 'digit-dropped'
  | 'digit-doubled'
  | 'tare-gross-swapped'
  | 'gross-as-net'
  | 'density-inverted'
  | 'density-missing-used-as-mass'
  | 'purity-ignored'
  | 'hydrate-ignored'
  | 'coefficient-ignored'
  | 'other-limiting'
  | 'other-molar-mass'
  | 'yield-by-mass'
  | 'log-differs';

export interface SlipFound {
  readonly slip: Slip;
  /** In words, to end a sentence: `the water of crystallisation was left out of the molar mass`. */
  readonly says: string;
  /** How the written number comes about: `20.25 g ÷ 74.035 g/mol`. */
  readonly working?: string;
}

export interface ClaimValue {
  readonly claim: Claim;
  readonly owner: Entry;
  /** Whom the line is about. */
  readonly subject: string;
  readonly property: Property;
  readonly value: Result;
  /** Absent when there is nothing to compare with. */
  readonly verdict?: Verdict;
  readonly slip?: SlipFound;
  /** Right as the page was signed; an amendment has changed what it follows from. */
  readonly amended?: boolean;
}

/** What was taken of a substance for a test or a measurement. */
export interface UsedValue {
  readonly entry: Entry;
  readonly name: NameRef;
  /** g */
  readonly mass: Result;
}

export interface Metrics {
  /** Mass of all that went in but is not product, over mass of product. */
  readonly eFactor: Result;
  readonly processMassIntensity: Result;
  /** 1 */
  readonly reactionMassEfficiency: Result;
}

export interface Values {
  readonly page: Page;
  readonly substances: readonly SubstanceValue[];
  readonly solutions: readonly SolutionValue[];
  readonly weighings: readonly WeighingValue[];
  readonly charges: readonly ChargeValue[];
  readonly reactions: readonly ReactionValue[];
  readonly weighs: readonly WeighValue[];
  readonly products: readonly ProductValue[];
  readonly recovered: readonly RecoveredValue[];
  readonly titrations: readonly TitrationValue[];
  readonly plans: readonly PlanValue[];
  /** What follows from the plans and has no line. */
  readonly planned: readonly ImpliedPlan[];
  readonly considerations: readonly ConsiderationValue[];
  readonly measurements: readonly MeasurementValue[];
  readonly tests: readonly TestValue[];
  readonly measured: readonly MeasuredValue[];
  readonly used: readonly UsedValue[];
  readonly samples: readonly SampleValue[];
  readonly wastes: readonly WasteValue[];
  readonly neutralisations: readonly NeutralisationValue[];
  /** Absent where nothing goes in or nothing comes out. */
  readonly ledger?: LedgerValue;
  readonly claims: readonly ClaimValue[];
  readonly metrics?: Metrics;
}
