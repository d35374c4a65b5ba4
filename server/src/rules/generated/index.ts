// Generated from the files of server/src/rules by `npm run gen`. Do not edit.
import type { Rule } from '../rule.ts'
import { rule as afterBelowPlaten } from '../after-below-platen.ts'
import { rule as aliasLimit } from '../alias-limit.ts'
import { rule as alignmentGapChanged } from '../alignment-gap-changed.ts'
import { rule as alignmentMissing } from '../alignment-missing.ts'
import { rule as alignmentModeChanged } from '../alignment-mode-changed.ts'
import { rule as alignmentStale } from '../alignment-stale.ts'
import { rule as alignmentThicknessChanged } from '../alignment-thickness-changed.ts'
import { rule as badDate } from '../bad-date.ts'
import { rule as badFraction } from '../bad-fraction.ts'
import { rule as badId } from '../bad-id.ts'
import { rule as badKey } from '../bad-key.ts'
import { rule as badNumber } from '../bad-number.ts'
import { rule as badResolution } from '../bad-resolution.ts'
import { rule as badUncertainty } from '../bad-uncertainty.ts'
import { rule as baseRedundant } from '../base-redundant.ts'
import { rule as beforeAbovePlaten } from '../before-above-platen.ts'
import { rule as boundaryError } from '../boundary-error.ts'
import { rule as cgatsBroken } from '../cgats-broken.ts'
import { rule as checkClimate } from '../check-climate.ts'
import { rule as checkOrder } from '../check-order.ts'
import { rule as checkWebWarm } from '../check-web-warm.ts'
import { rule as circularBase } from '../circular-base.ts'
import { rule as colourBeyondTolerance } from '../colour-beyond-tolerance.ts'
import { rule as colourConditionsDiffer } from '../colour-conditions-differ.ts'
import { rule as colourFileKind } from '../colour-file-kind.ts'
import { rule as colourFileMissing } from '../colour-file-missing.ts'
import { rule as colourFileUnreadable } from '../colour-file-unreadable.ts'
import { rule as colourNotJudged } from '../colour-not-judged.ts'
import { rule as commaDecimal } from '../comma-decimal.ts'
import { rule as condensationRisk } from '../condensation-risk.ts'
import { rule as conflictMarkers } from '../conflict-markers.ts'
import { rule as dryingTooShort } from '../drying-too-short.ts'
import { rule as duplicateId } from '../duplicate-id.ts'
import { rule as duplicateKey } from '../duplicate-key.ts'
import { rule as exponent } from '../exponent.ts'
import { rule as feedCheckSlip } from '../feed-check-slip.ts'
import { rule as feedCorrection } from '../feed-correction.ts'
import { rule as feedDrift } from '../feed-drift.ts'
import { rule as feedImprecise } from '../feed-imprecise.ts'
import { rule as feedLot } from '../feed-lot.ts'
import { rule as feedOutlier } from '../feed-outlier.ts'
import { rule as feedOutsideRange } from '../feed-outside-range.ts'
import { rule as feedStale } from '../feed-stale.ts'
import { rule as feedStep } from '../feed-step.ts'
import { rule as feedUnproven } from '../feed-unproven.ts'
import { rule as fineAgainstRuler } from '../fine-against-ruler.ts'
import { rule as fineLastPatch } from '../fine-last-patch.ts'
import { rule as fineMode } from '../fine-mode.ts'
import { rule as fineRowsDiffer } from '../fine-rows-differ.ts'
import { rule as fineStale } from '../fine-stale.ts'
import { rule as futureDate } from '../future-date.ts'
import { rule as gapBelowThickness } from '../gap-below-thickness.ts'
import { rule as heatOutsidePrinter } from '../heat-outside-printer.ts'
import { rule as heatReadingsDisagree } from '../heat-readings-disagree.ts'
import { rule as heatReadingsOld } from '../heat-readings-old.ts'
import { rule as heatStep } from '../heat-step.ts'
import { rule as humidityPaperGrowth } from '../humidity-paper-growth.ts'
import { rule as iccBroken } from '../icc-broken.ts'
import { rule as iccInks } from '../icc-inks.ts'
import { rule as iccNotOutput } from '../icc-not-output.ts'
import { rule as idUnlikeFile } from '../id-unlike-file.ts'
import { rule as implausible } from '../implausible.ts'
import { rule as impossibleTemperature } from '../impossible-temperature.ts'
import { rule as inkLimitAboveInks } from '../ink-limit-above-inks.ts'
import { rule as instrumentDates } from '../instrument-dates.ts'
import { rule as instrumentOverdue } from '../instrument-overdue.ts'
import { rule as keyedDiffers } from '../keyed-differs.ts'
import { rule as keyedStale } from '../keyed-stale.ts'
import { rule as missingBase } from '../missing-base.ts'
import { rule as missingInstrument } from '../missing-instrument.ts'
import { rule as missingKey } from '../missing-key.ts'
import { rule as missingMode } from '../missing-mode.ts'
import { rule as missingNumber } from '../missing-number.ts'
import { rule as missingPrinter } from '../missing-printer.ts'
import { rule as missingStock } from '../missing-stock.ts'
import { rule as missingUnit } from '../missing-unit.ts'
import { rule as modeCoverage } from '../mode-coverage.ts'
import { rule as noColon } from '../no-colon.ts'
import { rule as notAQuantity } from '../not-a-quantity.ts'
import { rule as notJudged } from '../not-judged.ts'
import { rule as numberOutOfRange } from '../number-out-of-range.ts'
import { rule as numberOverflow } from '../number-overflow.ts'
import { rule as openFault } from '../open-fault.ts'
import { rule as outOfRange } from '../out-of-range.ts'
import { rule as pairOrder } from '../pair-order.ts'
import { rule as paperOnHotPlaten } from '../paper-on-hot-platen.ts'
import { rule as patchesUnmatched } from '../patches-unmatched.ts'
import { rule as pauseOutside } from '../pause-outside.ts'
import { rule as pickStandsApart } from '../pick-stands-apart.ts'
import { rule as picksBeyondPattern } from '../picks-beyond-pattern.ts'
import { rule as picksCount } from '../picks-count.ts'
import { rule as picksOffByOne } from '../picks-off-by-one.ts'
import { rule as platenFeedGrowth } from '../platen-feed-growth.ts'
import { rule as roundingLeaves } from '../rounding-leaves.ts'
import { rule as runOutBelowTouchDry } from '../run-out-below-touch-dry.ts'
import { rule as runOutOutside } from '../run-out-outside.ts'
import { rule as setAboveLimit } from '../set-above-limit.ts'
import { rule as settingMissing } from '../setting-missing.ts'
import { rule as settingNotDescribed } from '../setting-not-described.ts'
import { rule as settledBeforeSeen } from '../settled-before-seen.ts'
import { rule as severalDocuments } from '../several-documents.ts'
import { rule as slackWatchMissing } from '../slack-watch-missing.ts'
import { rule as slotOutside } from '../slot-outside.ts'
import { rule as slotTaken } from '../slot-taken.ts'
import { rule as softening } from '../softening.ts'
import { rule as softensBelowLimit } from '../softens-below-limit.ts'
import { rule as staticRisk } from '../static-risk.ts'
import { rule as stockGrammageDensity } from '../stock-grammage-density.ts'
import { rule as stockLayersThickness } from '../stock-layers-thickness.ts'
import { rule as stockRollLength } from '../stock-roll-length.ts'
import { rule as stockUnlikeFamily } from '../stock-unlike-family.ts'
import { rule as stockWidthBed } from '../stock-width-bed.ts'
import { rule as strikesThroughput } from '../strikes-throughput.ts'
import { rule as suctionDimples } from '../suction-dimples.ts'
import { rule as suctionFeedCoupling } from '../suction-feed-coupling.ts'
import { rule as suctionLevelUnknown } from '../suction-level-unknown.ts'
import { rule as suctionMayNotHold } from '../suction-may-not-hold.ts'
import { rule as suctionNoWindow } from '../suction-no-window.ts'
import { rule as suctionStretch } from '../suction-stretch.ts'
import { rule as suctionTooWeak } from '../suction-too-weak.ts'
import { rule as syntax } from '../syntax.ts'
import { rule as tabIndent } from '../tab-indent.ts'
import { rule as tensionAboveGuard } from '../tension-above-guard.ts'
import { rule as tensionBelowSag } from '../tension-below-sag.ts'
import { rule as tensionLevelUnknown } from '../tension-level-unknown.ts'
import { rule as tensionOutsidePrinter } from '../tension-outside-printer.ts'
import { rule as tensionStretch } from '../tension-stretch.ts'
import { rule as tooDeep } from '../too-deep.ts'
import { rule as tooLarge } from '../too-large.ts'
import { rule as travelBedNarrow } from '../travel-bed-narrow.ts'
import { rule as twoTensions } from '../two-tensions.ts'
import { rule as twoValues } from '../two-values.ts'
import { rule as unknownAlias } from '../unknown-alias.ts'
import { rule as unknownChannel } from '../unknown-channel.ts'
import { rule as unknownGap } from '../unknown-gap.ts'
import { rule as unknownKey } from '../unknown-key.ts'
import { rule as unknownLot } from '../unknown-lot.ts'
import { rule as unknownPanelKey } from '../unknown-panel-key.ts'
import { rule as unknownRule } from '../unknown-rule.ts'
import { rule as unknownUnit } from '../unknown-unit.ts'
import { rule as unknownValue } from '../unknown-value.ts'
import { rule as unseenLetter } from '../unseen-letter.ts'
import { rule as webNearLimit } from '../web-near-limit.ts'
import { rule as webSpeedOutside } from '../web-speed-outside.ts'
import { rule as webSpeedUnlike } from '../web-speed-unlike.ts'
import { rule as webTooHot } from '../web-too-hot.ts'
import { rule as woundAgainstStock } from '../wound-against-stock.ts'
import { rule as woundInLifts } from '../wound-in-lifts.ts'
import { rule as woundInStrikes } from '../wound-in-strikes.ts'
import { rule as wrongCount } from '../wrong-count.ts'
import { rule as wrongDimension } from '../wrong-dimension.ts'
import { rule as wrongKind } from '../wrong-kind.ts'
import { rule as zoneWithoutHeater } from '../zone-without-heater.ts'

export const RULES: readonly Rule[] = [
  afterBelowPlaten,
  aliasLimit,
  alignmentGapChanged,
  alignmentMissing,
  alignmentModeChanged,
  alignmentStale,
  alignmentThicknessChanged,
  badDate,
  badFraction,
  badId,
  badKey,
  badNumber,
  badResolution,
  badUncertainty,
  baseRedundant,
  beforeAbovePlaten,
  boundaryError,
  cgatsBroken,
  checkClimate,
  checkOrder,
  checkWebWarm,
  circularBase,
  colourBeyondTolerance,
  colourConditionsDiffer,
  colourFileKind,
  colourFileMissing,
  colourFileUnreadable,
  colourNotJudged,
  commaDecimal,
  condensationRisk,
  conflictMarkers,
  dryingTooShort,
  duplicateId,
  duplicateKey,
  exponent,
  feedCheckSlip,
  feedCorrection,
  feedDrift,
  feedImprecise,
  feedLot,
  feedOutlier,
  feedOutsideRange,
  feedStale,
  feedStep,
  feedUnproven,
  fineAgainstRuler,
  fineLastPatch,
  fineMode,
  fineRowsDiffer,
  fineStale,
  futureDate,
  gapBelowThickness,
  heatOutsidePrinter,
  heatReadingsDisagree,
  heatReadingsOld,
  heatStep,
  humidityPaperGrowth,
  iccBroken,
  iccInks,
  iccNotOutput,
  idUnlikeFile,
  implausible,
  impossibleTemperature,
  inkLimitAboveInks,
  instrumentDates,
  instrumentOverdue,
  keyedDiffers,
  keyedStale,
  missingBase,
  missingInstrument,
  missingKey,
  missingMode,
  missingNumber,
  missingPrinter,
  missingStock,
  missingUnit,
  modeCoverage,
  noColon,
  notAQuantity,
  notJudged,
  numberOutOfRange,
  numberOverflow,
  openFault,
  outOfRange,
  pairOrder,
  paperOnHotPlaten,
  patchesUnmatched,
  pauseOutside,
  pickStandsApart,
  picksBeyondPattern,
  picksCount,
  picksOffByOne,
  platenFeedGrowth,
  roundingLeaves,
  runOutBelowTouchDry,
  runOutOutside,
  setAboveLimit,
  settingMissing,
  settingNotDescribed,
  settledBeforeSeen,
  severalDocuments,
  slackWatchMissing,
  slotOutside,
  slotTaken,
  softening,
  softensBelowLimit,
  staticRisk,
  stockGrammageDensity,
  stockLayersThickness,
  stockRollLength,
  stockUnlikeFamily,
  stockWidthBed,
  strikesThroughput,
  suctionDimples,
  suctionFeedCoupling,
  suctionLevelUnknown,
  suctionMayNotHold,
  suctionNoWindow,
  suctionStretch,
  suctionTooWeak,
  syntax,
  tabIndent,
  tensionAboveGuard,
  tensionBelowSag,
  tensionLevelUnknown,
  tensionOutsidePrinter,
  tensionStretch,
  tooDeep,
  tooLarge,
  travelBedNarrow,
  twoTensions,
  twoValues,
  unknownAlias,
  unknownChannel,
  unknownGap,
  unknownKey,
  unknownLot,
  unknownPanelKey,
  unknownRule,
  unknownUnit,
  unknownValue,
  unseenLetter,
  webNearLimit,
  webSpeedOutside,
  webSpeedUnlike,
  webTooHot,
  woundAgainstStock,
  woundInLifts,
  woundInStrikes,
  wrongCount,
  wrongDimension,
  wrongKind,
  zoneWithoutHeater,
]
