// Generated from the files of server/src/rules and server/src/areas/*/rules by `npm run gen`. Do not edit.
import type { Rule } from '../rule.ts'
import { rule as acceptExpired } from '../accept-expired.ts'
import { rule as acceptMiswritten } from '../accept-miswritten.ts'
import { rule as acceptRefused } from '../accept-refused.ts'
import { rule as acceptUnused } from '../accept-unused.ts'
import { rule as afterBelowPlaten } from '../../areas/heat/rules/after-below-platen.ts'
import { rule as aliasLimit } from '../alias-limit.ts'
import { rule as alignmentDoubtful } from '../../areas/landing/rules/alignment-doubtful.ts'
import { rule as alignmentGapChanged } from '../../areas/landing/rules/alignment-gap-changed.ts'
import { rule as alignmentMissing } from '../../areas/landing/rules/alignment-missing.ts'
import { rule as alignmentModeChanged } from '../../areas/landing/rules/alignment-mode-changed.ts'
import { rule as alignmentStale } from '../../areas/landing/rules/alignment-stale.ts'
import { rule as alignmentThicknessChanged } from '../../areas/landing/rules/alignment-thickness-changed.ts'
import { rule as badDate } from '../bad-date.ts'
import { rule as badFraction } from '../bad-fraction.ts'
import { rule as badId } from '../bad-id.ts'
import { rule as badKey } from '../bad-key.ts'
import { rule as badLevelName } from '../bad-level-name.ts'
import { rule as badNumber } from '../bad-number.ts'
import { rule as badResolution } from '../bad-resolution.ts'
import { rule as badUncertainty } from '../bad-uncertainty.ts'
import { rule as baseRedundant } from '../base-redundant.ts'
import { rule as beforeAbovePlaten } from '../../areas/heat/rules/before-above-platen.ts'
import { rule as boundaryError } from '../../areas/advance/rules/boundary-error.ts'
import { rule as cgatsBroken } from '../../areas/colour/rules/cgats-broken.ts'
import { rule as checkClimate } from '../../areas/room/rules/check-climate.ts'
import { rule as checkOrder } from '../../areas/feed/rules/check-order.ts'
import { rule as checkWebWarm } from '../../areas/feed/rules/check-web-warm.ts'
import { rule as circularBase } from '../circular-base.ts'
import { rule as claimIncomplete } from '../../areas/observed/rules/claim-incomplete.ts'
import { rule as colourBeyondTolerance } from '../../areas/colour/rules/colour-beyond-tolerance.ts'
import { rule as colourConditionsDiffer } from '../../areas/colour/rules/colour-conditions-differ.ts'
import { rule as colourDoubtful } from '../../areas/colour/rules/colour-doubtful.ts'
import { rule as colourFileKind } from '../../areas/colour/rules/colour-file-kind.ts'
import { rule as colourFileMissing } from '../../areas/colour/rules/colour-file-missing.ts'
import { rule as colourFileUnreadable } from '../../areas/colour/rules/colour-file-unreadable.ts'
import { rule as colourNotJudged } from '../../areas/colour/rules/colour-not-judged.ts'
import { rule as commaDecimal } from '../comma-decimal.ts'
import { rule as condensationRisk } from '../../areas/room/rules/condensation-risk.ts'
import { rule as conflictMarkers } from '../conflict-markers.ts'
import { rule as dryingTooShort } from '../../areas/drying/rules/drying-too-short.ts'
import { rule as duplicateId } from '../duplicate-id.ts'
import { rule as duplicateKey } from '../duplicate-key.ts'
import { rule as eventOpensUnsaid } from '../../areas/machine/rules/event-opens-unsaid.ts'
import { rule as exponent } from '../exponent.ts'
import { rule as feedChanged } from '../../areas/feed/rules/feed-changed.ts'
import { rule as feedCheckMiswritten } from '../../areas/feed/rules/feed-check-miswritten.ts'
import { rule as feedCorrection } from '../../areas/feed/rules/feed-correction.ts'
import { rule as feedDrift } from '../../areas/feed/rules/feed-drift.ts'
import { rule as feedImprecise } from '../../areas/feed/rules/feed-imprecise.ts'
import { rule as feedLot } from '../../areas/feed/rules/feed-lot.ts'
import { rule as feedOtherConditions } from '../../areas/feed/rules/feed-other-conditions.ts'
import { rule as feedOutlier } from '../../areas/feed/rules/feed-outlier.ts'
import { rule as feedOutsideRange } from '../../areas/feed/rules/feed-outside-range.ts'
import { rule as feedStale } from '../../areas/feed/rules/feed-stale.ts'
import { rule as feedStep } from '../../areas/feed/rules/feed-step.ts'
import { rule as feedUnproven } from '../../areas/feed/rules/feed-unproven.ts'
import { rule as fineAgainstRuler } from '../../areas/feed/rules/fine-against-ruler.ts'
import { rule as fineLastPatch } from '../../areas/feed/rules/fine-last-patch.ts'
import { rule as fineMode } from '../../areas/feed/rules/fine-mode.ts'
import { rule as fineRowsDiffer } from '../../areas/feed/rules/fine-rows-differ.ts'
import { rule as fineStale } from '../../areas/feed/rules/fine-stale.ts'
import { rule as futureDate } from '../future-date.ts'
import { rule as gapBelowThickness } from '../../areas/landing/rules/gap-below-thickness.ts'
import { rule as heatOutsidePrinter } from '../../areas/heat/rules/heat-outside-printer.ts'
import { rule as heatReadingsDisagree } from '../../areas/heat/rules/heat-readings-disagree.ts'
import { rule as heatReadingsOld } from '../../areas/heat/rules/heat-readings-old.ts'
import { rule as heatStep } from '../../areas/heat/rules/heat-step.ts'
import { rule as humidityPaperGrowth } from '../../areas/room/rules/humidity-paper-growth.ts'
import { rule as iccBroken } from '../../areas/colour/rules/icc-broken.ts'
import { rule as iccInks } from '../../areas/colour/rules/icc-inks.ts'
import { rule as iccNotOutput } from '../../areas/colour/rules/icc-not-output.ts'
import { rule as idUnlikeFile } from '../id-unlike-file.ts'
import { rule as implausible } from '../implausible.ts'
import { rule as impossibleTemperature } from '../impossible-temperature.ts'
import { rule as inkLimitAboveInks } from '../../areas/colour/rules/ink-limit-above-inks.ts'
import { rule as instrumentCorrects } from '../../areas/machine/rules/instrument-corrects.ts'
import { rule as instrumentDates } from '../instrument-dates.ts'
import { rule as instrumentErrorsOverlap } from '../instrument-errors-overlap.ts'
import { rule as instrumentFoundWrong } from '../../areas/machine/rules/instrument-found-wrong.ts'
import { rule as instrumentInDoubt } from '../../areas/machine/rules/instrument-in-doubt.ts'
import { rule as instrumentOverdue } from '../../areas/machine/rules/instrument-overdue.ts'
import { rule as instrumentTooShort } from '../../areas/machine/rules/instrument-too-short.ts'
import { rule as keyedDiffers } from '../../areas/machine/rules/keyed-differs.ts'
import { rule as keyedStale } from '../../areas/machine/rules/keyed-stale.ts'
import { rule as lotDates } from '../../areas/stock/rules/lot-dates.ts'
import { rule as lotSpreadHistory } from '../../areas/stock/rules/lot-spread-history.ts'
import { rule as missingBase } from '../missing-base.ts'
import { rule as missingInstrument } from '../missing-instrument.ts'
import { rule as missingKey } from '../missing-key.ts'
import { rule as missingMode } from '../missing-mode.ts'
import { rule as missingNumber } from '../missing-number.ts'
import { rule as missingPrinter } from '../missing-printer.ts'
import { rule as missingReplacement } from '../missing-replacement.ts'
import { rule as missingStock } from '../missing-stock.ts'
import { rule as missingUnit } from '../missing-unit.ts'
import { rule as modeCoverage } from '../../areas/advance/rules/mode-coverage.ts'
import { rule as noColon } from '../no-colon.ts'
import { rule as noState } from '../no-state.ts'
import { rule as notAQuantity } from '../not-a-quantity.ts'
import { rule as notJudged } from '../../areas/machine/rules/not-judged.ts'
import { rule as numberOutOfRange } from '../number-out-of-range.ts'
import { rule as numberOverflow } from '../number-overflow.ts'
import { rule as openFault } from '../../areas/observed/rules/open-fault.ts'
import { rule as opensTwice } from '../../areas/machine/rules/opens-twice.ts'
import { rule as outOfRange } from '../out-of-range.ts'
import { rule as pairOrder } from '../pair-order.ts'
import { rule as paperOnHotPlaten } from '../../areas/heat/rules/paper-on-hot-platen.ts'
import { rule as patchesUnmatched } from '../../areas/colour/rules/patches-unmatched.ts'
import { rule as pauseOutside } from '../../areas/drying/rules/pause-outside.ts'
import { rule as pickStandsApart } from '../../areas/feed/rules/pick-stands-apart.ts'
import { rule as picksBeyondPattern } from '../../areas/feed/rules/picks-beyond-pattern.ts'
import { rule as picksCount } from '../../areas/feed/rules/picks-count.ts'
import { rule as picksOffByOne } from '../../areas/feed/rules/picks-off-by-one.ts'
import { rule as platenFeedGrowth } from '../../areas/heat/rules/platen-feed-growth.ts'
import { rule as printedAfterSeen } from '../../areas/observed/rules/printed-after-seen.ts'
import { rule as repeatabilityHistory } from '../../areas/feed/rules/repeatability-history.ts'
import { rule as repeatabilityOutdated } from '../../areas/machine/rules/repeatability-outdated.ts'
import { rule as roomTwice } from '../../areas/machine/rules/room-twice.ts'
import { rule as roundingLeaves } from '../../areas/feed/rules/rounding-leaves.ts'
import { rule as runOutBelowTouchDry } from '../../areas/drying/rules/run-out-below-touch-dry.ts'
import { rule as runOutOutside } from '../../areas/drying/rules/run-out-outside.ts'
import { rule as samePrint } from '../same-print.ts'
import { rule as setAboveLimit } from '../../areas/heat/rules/set-above-limit.ts'
import { rule as settingMissing } from '../../areas/machine/rules/setting-missing.ts'
import { rule as settingNotDescribed } from '../../areas/machine/rules/setting-not-described.ts'
import { rule as settledBeforeSeen } from '../../areas/observed/rules/settled-before-seen.ts'
import { rule as severalDocuments } from '../several-documents.ts'
import { rule as slackWatchMissing } from '../../areas/web/rules/slack-watch-missing.ts'
import { rule as slotOutside } from '../../areas/machine/rules/slot-outside.ts'
import { rule as slotTaken } from '../../areas/machine/rules/slot-taken.ts'
import { rule as softening } from '../../areas/heat/rules/softening.ts'
import { rule as softensBelowLimit } from '../../areas/heat/rules/softens-below-limit.ts'
import { rule as stateDiffers } from '../state-differs.ts'
import { rule as stateElsewhere } from '../state-elsewhere.ts'
import { rule as stateIncomplete } from '../state-incomplete.ts'
import { rule as stateSettingUnknown } from '../state-setting-unknown.ts'
import { rule as stateTwice } from '../state-twice.ts'
import { rule as stateUnused } from '../state-unused.ts'
import { rule as staticRisk } from '../../areas/room/rules/static-risk.ts'
import { rule as stockGrammageDensity } from '../../areas/stock/rules/stock-grammage-density.ts'
import { rule as stockLayersThickness } from '../../areas/stock/rules/stock-layers-thickness.ts'
import { rule as stockRetired } from '../../areas/stock/rules/stock-retired.ts'
import { rule as stockRollLength } from '../../areas/stock/rules/stock-roll-length.ts'
import { rule as stockUnlikeFamily } from '../../areas/stock/rules/stock-unlike-family.ts'
import { rule as stockWidthBed } from '../../areas/stock/rules/stock-width-bed.ts'
import { rule as strikesThroughput } from '../../areas/advance/rules/strikes-throughput.ts'
import { rule as suctionDimples } from '../../areas/suction/rules/suction-dimples.ts'
import { rule as suctionFeedCoupling } from '../../areas/suction/rules/suction-feed-coupling.ts'
import { rule as suctionLevelUnknown } from '../../areas/suction/rules/suction-level-unknown.ts'
import { rule as suctionMayNotHold } from '../../areas/suction/rules/suction-may-not-hold.ts'
import { rule as suctionNoWindow } from '../../areas/suction/rules/suction-no-window.ts'
import { rule as suctionStretch } from '../../areas/suction/rules/suction-stretch.ts'
import { rule as suctionTooWeak } from '../../areas/suction/rules/suction-too-weak.ts'
import { rule as syntax } from '../syntax.ts'
import { rule as tabIndent } from '../tab-indent.ts'
import { rule as tensionAboveGuard } from '../../areas/web/rules/tension-above-guard.ts'
import { rule as tensionBelowSag } from '../../areas/web/rules/tension-below-sag.ts'
import { rule as tensionLevelUnknown } from '../../areas/web/rules/tension-level-unknown.ts'
import { rule as tensionOutsidePrinter } from '../../areas/web/rules/tension-outside-printer.ts'
import { rule as tensionStretch } from '../../areas/web/rules/tension-stretch.ts'
import { rule as toleranceBeyondRules } from '../../areas/feed/rules/tolerance-beyond-rules.ts'
import { rule as tooDeep } from '../too-deep.ts'
import { rule as tooLarge } from '../too-large.ts'
import { rule as turnAtBedEnd } from '../../areas/advance/rules/turn-at-bed-end.ts'
import { rule as twoTensions } from '../../areas/web/rules/two-tensions.ts'
import { rule as twoValues } from '../two-values.ts'
import { rule as underUnknown } from '../under-unknown.ts'
import { rule as unknownAlias } from '../unknown-alias.ts'
import { rule as unknownChannel } from '../../areas/landing/rules/unknown-channel.ts'
import { rule as unknownGap } from '../../areas/landing/rules/unknown-gap.ts'
import { rule as unknownKey } from '../unknown-key.ts'
import { rule as unknownLevelName } from '../unknown-level-name.ts'
import { rule as unknownLot } from '../unknown-lot.ts'
import { rule as unknownPanelKey } from '../../areas/machine/rules/unknown-panel-key.ts'
import { rule as unknownRule } from '../unknown-rule.ts'
import { rule as unknownUnit } from '../unknown-unit.ts'
import { rule as unknownValue } from '../unknown-value.ts'
import { rule as unseenLetter } from '../unseen-letter.ts'
import { rule as webNearLimit } from '../../areas/heat/rules/web-near-limit.ts'
import { rule as webSpeedOutside } from '../../areas/web/rules/web-speed-outside.ts'
import { rule as webSpeedUnlike } from '../../areas/web/rules/web-speed-unlike.ts'
import { rule as webTooHot } from '../../areas/heat/rules/web-too-hot.ts'
import { rule as woundAgainstStock } from '../../areas/web/rules/wound-against-stock.ts'
import { rule as woundInLifts } from '../../areas/suction/rules/wound-in-lifts.ts'
import { rule as woundInStrikes } from '../../areas/suction/rules/wound-in-strikes.ts'
import { rule as wrongCount } from '../wrong-count.ts'
import { rule as wrongDimension } from '../wrong-dimension.ts'
import { rule as wrongKind } from '../wrong-kind.ts'
import { rule as zoneWithoutHeater } from '../../areas/heat/rules/zone-without-heater.ts'

/** In the order of the areas; last, those of no area: syntax, structure and references. */
export const RULE_AREAS: Readonly<Record<string, readonly Rule[]>> = {
  feed: [
    checkOrder,
    checkWebWarm,
    feedChanged,
    feedCheckMiswritten,
    feedCorrection,
    feedDrift,
    feedImprecise,
    feedLot,
    feedOtherConditions,
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
    pickStandsApart,
    picksBeyondPattern,
    picksCount,
    picksOffByOne,
    repeatabilityHistory,
    roundingLeaves,
    toleranceBeyondRules,
  ],
  advance: [
    boundaryError,
    modeCoverage,
    strikesThroughput,
    turnAtBedEnd,
  ],
  landing: [
    alignmentDoubtful,
    alignmentGapChanged,
    alignmentMissing,
    alignmentModeChanged,
    alignmentStale,
    alignmentThicknessChanged,
    gapBelowThickness,
    unknownChannel,
    unknownGap,
  ],
  heat: [
    afterBelowPlaten,
    beforeAbovePlaten,
    heatOutsidePrinter,
    heatReadingsDisagree,
    heatReadingsOld,
    heatStep,
    paperOnHotPlaten,
    platenFeedGrowth,
    setAboveLimit,
    softening,
    softensBelowLimit,
    webNearLimit,
    webTooHot,
    zoneWithoutHeater,
  ],
  drying: [
    dryingTooShort,
    pauseOutside,
    runOutBelowTouchDry,
    runOutOutside,
  ],
  suction: [
    suctionDimples,
    suctionFeedCoupling,
    suctionLevelUnknown,
    suctionMayNotHold,
    suctionNoWindow,
    suctionStretch,
    suctionTooWeak,
    woundInLifts,
    woundInStrikes,
  ],
  web: [
    slackWatchMissing,
    tensionAboveGuard,
    tensionBelowSag,
    tensionLevelUnknown,
    tensionOutsidePrinter,
    tensionStretch,
    twoTensions,
    webSpeedOutside,
    webSpeedUnlike,
    woundAgainstStock,
  ],
  room: [
    checkClimate,
    condensationRisk,
    humidityPaperGrowth,
    staticRisk,
  ],
  colour: [
    cgatsBroken,
    colourBeyondTolerance,
    colourConditionsDiffer,
    colourDoubtful,
    colourFileKind,
    colourFileMissing,
    colourFileUnreadable,
    colourNotJudged,
    iccBroken,
    iccInks,
    iccNotOutput,
    inkLimitAboveInks,
    patchesUnmatched,
  ],
  stock: [
    lotDates,
    lotSpreadHistory,
    stockGrammageDensity,
    stockLayersThickness,
    stockRetired,
    stockRollLength,
    stockUnlikeFamily,
    stockWidthBed,
  ],
  machine: [
    eventOpensUnsaid,
    instrumentCorrects,
    instrumentFoundWrong,
    instrumentInDoubt,
    instrumentOverdue,
    instrumentTooShort,
    keyedDiffers,
    keyedStale,
    notJudged,
    opensTwice,
    repeatabilityOutdated,
    roomTwice,
    settingMissing,
    settingNotDescribed,
    slotOutside,
    slotTaken,
    unknownPanelKey,
  ],
  observed: [
    claimIncomplete,
    openFault,
    printedAfterSeen,
    settledBeforeSeen,
  ],
  documents: [
    acceptExpired,
    acceptMiswritten,
    acceptRefused,
    acceptUnused,
    aliasLimit,
    badDate,
    badFraction,
    badId,
    badKey,
    badLevelName,
    badNumber,
    badResolution,
    badUncertainty,
    baseRedundant,
    circularBase,
    commaDecimal,
    conflictMarkers,
    duplicateId,
    duplicateKey,
    exponent,
    futureDate,
    idUnlikeFile,
    implausible,
    impossibleTemperature,
    instrumentDates,
    instrumentErrorsOverlap,
    missingBase,
    missingInstrument,
    missingKey,
    missingMode,
    missingNumber,
    missingPrinter,
    missingReplacement,
    missingStock,
    missingUnit,
    noColon,
    noState,
    notAQuantity,
    numberOutOfRange,
    numberOverflow,
    outOfRange,
    pairOrder,
    samePrint,
    severalDocuments,
    stateDiffers,
    stateElsewhere,
    stateIncomplete,
    stateSettingUnknown,
    stateTwice,
    stateUnused,
    syntax,
    tabIndent,
    tooDeep,
    tooLarge,
    twoValues,
    underUnknown,
    unknownAlias,
    unknownKey,
    unknownLevelName,
    unknownLot,
    unknownRule,
    unknownUnit,
    unknownValue,
    unseenLetter,
    wrongCount,
    wrongDimension,
    wrongKind,
  ],
}

/** By their codes. */
export const RULES: readonly Rule[] = Object.values(RULE_AREAS)
  .flat()
  .sort((a, b) => (a.code < b.code ? -1 : 1))
