// Generated from the folders by `npm run generate`.
import claimDigits from './claims/claim-digits';
import claimMismatch from './claims/claim-mismatch';
import claimRounding from './claims/claim-rounding';
import claimUncomputable from './claims/claim-uncomputable';
import claimUnit from './claims/claim-unit';
import logDisagrees from './claims/log-disagrees';
import nothingMeasured from './claims/nothing-measured';
import combustionOutside from './evidence/combustion-outside';
import exactMassOutside from './evidence/exact-mass-outside';
import hydrogenCount from './evidence/hydrogen-count';
import meltingRangeWide from './evidence/melting-range-wide';
import strengthDiffers from './evidence/strength-differs';
import testConditionsUnusual from './evidence/test-conditions-unusual';
import testContradicts from './evidence/test-contradicts';
import testNotDiscriminating from './evidence/test-not-discriminating';
import titrationOutlier from './evidence/titration-outlier';
import titrationRatio from './evidence/titration-ratio';
import gasEvolution from './ledger/gas-evolution';
import neutralisationShort from './ledger/neutralisation-short';
import wasteIncompatible from './ledger/waste-incompatible';
import wasteStreamMismatch from './ledger/waste-stream-mismatch';
import wasteUnrouted from './ledger/waste-unrouted';
import acceptUnused from './page/accept-unused';
import amendmentIncomplete from './page/amendment-incomplete';
import amendmentUnresolved from './page/amendment-unresolved';
import changedAfterSigning from './page/changed-after-signing';
import considerUndecided from './page/consider-undecided';
import idDuplicate from './page/id-duplicate';
import pageHeadMissing from './page/page-head-missing';
import referenceUnresolved from './page/reference-unresolved';
import signatureOrder from './page/signature-order';
import timeRunsBackwards from './page/time-runs-backwards';
import writtenAfterSigning from './page/written-after-signing';
import chargeMissing from './reaction/charge-missing';
import chargeUnused from './reaction/charge-unused';
import equationUnbalanced from './reaction/equation-unbalanced';
import limitingMismatch from './reaction/limiting-mismatch';
import noLimiting from './reaction/no-limiting';
import planNotMet from './reaction/plan-not-met';
import roleConflict from './reaction/role-conflict';
import dateFormat from './reading/date-format';
import factUnknown from './reading/fact-unknown';
import keywordMisspelt from './reading/keyword-misspelt';
import numberFormat from './reading/number-format';
import statementIncomplete from './reading/statement-incomplete';
import statementWithoutColon from './reading/statement-without-colon';
import unitSpelling from './reading/unit-spelling';
import unitUnknown from './reading/unit-unknown';
import type { Rule } from './rule';
import casCheckDigit from './substance/cas-check-digit';
import chargeNotation from './substance/charge-notation';
import densityMissing from './substance/density-missing';
import formulaInvalid from './substance/formula-invalid';
import hydrateDot from './substance/hydrate-dot';
import molarMassMismatch from './substance/molar-mass-mismatch';
import nameAmbiguous from './substance/name-ambiguous';
import purityOutOfRange from './substance/purity-out-of-range';
import registerConflict from './substance/register-conflict';
import structureMismatch from './substance/structure-mismatch';
import substanceUnknown from './substance/substance-unknown';
import rangeReversed from './units/range-reversed';
import unitKind from './units/unit-kind';
import unitMissing from './units/unit-missing';
import balanceCheckOld from './weighing/balance-check-old';
import belowMinimumWeight from './weighing/below-minimum-weight';
import belowUspMinimum from './weighing/below-usp-minimum';
import flaskVolume from './weighing/flask-volume';
import grossBelowTare from './weighing/gross-below-tare';
import grossMissing from './weighing/gross-missing';
import netMismatch from './weighing/net-mismatch';
import netNegative from './weighing/net-negative';
import notConstantMass from './weighing/not-constant-mass';
import overCapacity from './weighing/over-capacity';
import planBelowMinimum from './weighing/plan-below-minimum';
import readabilityMismatch from './weighing/readability-mismatch';
import readingDrift from './weighing/reading-drift';
import tareDrift from './weighing/tare-drift';
import tareMissing from './weighing/tare-missing';
import batchOverdrawn from './yield/batch-overdrawn';
import massOutExceedsMassIn from './yield/mass-out-exceeds-mass-in';
import productNotInReaction from './yield/product-not-in-reaction';
import purifiedAboveCrude from './yield/purified-above-crude';
import yieldImplausible from './yield/yield-implausible';
import yieldOver100 from './yield/yield-over-100';

/** All rules; a family may rest on what those before it have doubted. */
export const RULES: readonly Rule[] = [
  dateFormat,
  factUnknown,
  keywordMisspelt,
  numberFormat,
  statementIncomplete,
  statementWithoutColon,
  unitSpelling,
  unitUnknown,
  rangeReversed,
  unitKind,
  unitMissing,
  balanceCheckOld,
  belowMinimumWeight,
  belowUspMinimum,
  flaskVolume,
  grossBelowTare,
  grossMissing,
  netMismatch,
  netNegative,
  notConstantMass,
  overCapacity,
  planBelowMinimum,
  readabilityMismatch,
  readingDrift,
  tareDrift,
  tareMissing,
  casCheckDigit,
  chargeNotation,
  densityMissing,
  formulaInvalid,
  hydrateDot,
  molarMassMismatch,
  nameAmbiguous,
  purityOutOfRange,
  registerConflict,
  structureMismatch,
  substanceUnknown,
  chargeMissing,
  chargeUnused,
  equationUnbalanced,
  limitingMismatch,
  noLimiting,
  planNotMet,
  roleConflict,
  claimDigits,
  claimMismatch,
  claimRounding,
  claimUncomputable,
  claimUnit,
  logDisagrees,
  nothingMeasured,
  batchOverdrawn,
  massOutExceedsMassIn,
  productNotInReaction,
  purifiedAboveCrude,
  yieldImplausible,
  yieldOver100,
  combustionOutside,
  exactMassOutside,
  hydrogenCount,
  meltingRangeWide,
  strengthDiffers,
  testConditionsUnusual,
  testContradicts,
  testNotDiscriminating,
  titrationOutlier,
  titrationRatio,
  gasEvolution,
  neutralisationShort,
  wasteIncompatible,
  wasteStreamMismatch,
  wasteUnrouted,
  acceptUnused,
  amendmentIncomplete,
  amendmentUnresolved,
  changedAfterSigning,
  considerUndecided,
  idDuplicate,
  pageHeadMissing,
  referenceUnresolved,
  signatureOrder,
  timeRunsBackwards,
  writtenAfterSigning,
];
