// How one stock prints on several machines, for people: the settings that differ, then how far the corrections are apart and what explains it.
import { perLength } from '../../areas/feed/words.ts'
import type { Shop } from '../../model/shop.ts'
import { formatSi } from '../../quantities/format.ts'
import { listed } from '../../rules/support/words.ts'
import type { CorrectionDifference, Differences, Why } from './differences.ts'

const WHY: Readonly<Record<Why, string>> = { build: 'by build', wear: 'by wear', 'nobody-knows': 'nobody knows why' }

export function differencesText(
  { stock, profiles, settings, corrections, alike }: Differences,
  shop: Shop,
  today: string,
): string {
  const out = [`${stock} on ${new Set(profiles.map(({ printer }) => printer)).size} printers, as on ${today}`, '']
  for (const { profile, printer, mode, word, correction } of profiles)
    out.push(
      `  ${profile}: ${printer}${mode === undefined ? '' : `, ${mode}`}; ${correction ? `asks for ${percent(correction.value, true)} ±${percent(correction.U)}, ${word}` : word}`,
    )
  out.push('', settings.length === 0 ? 'No setting differs.' : 'Settings that differ:')
  for (const { key, values, real, why, because } of settings) {
    out.push(`  ${key}  ${WHY[why]}: ${because}`)
    for (const [i, { profile }] of profiles.entries())
      out.push(`    ${profile}: ${values[i] ?? 'not given'}${real[i] === undefined ? '' : `, ${realWords(key)}${real[i]}`}`)
  }
  if (alike.length > 0) out.push(`  Alike: ${alike.join(', ')}.`)
  if (corrections.length > 0) out.push('', 'Corrections:')
  for (const one of corrections) out.push(...correctionLines(one, shop))
  return `${out.join('\n')}\n`
}

const realWords = (key: string): string => (key.startsWith('heat.') ? 'the web leaves it at ' : '')

/** To a thousandth of a per cent: comparisons are finer than any panel. */
const percent = (share: number, sign = false): string => formatSi(share, 'relative', { unit: '%', decimals: 3, sign })

function correctionLines({ a, b, apart, causes, why, wear }: CorrectionDifference, shop: Shop): readonly string[] {
  const { difference, U, explained, explainedU, left, leftU } = apart
  const head = `  ${b} against ${a}: ${percent(difference, true)} ±${percent(U)} (${perLength({ shop }, difference)})`
  if (why === undefined) return [`${head}: no difference that the checks can tell.`]
  const out = [head]
  for (const cause of causes)
    out.push(
      'problem' in cause
        ? `    ${cause.law}: not known (${cause.problem})`
        : `    ${cause.law}: ${percent(cause.range.typical, true)} (${percent(cause.range.low, true)} to ${percent(cause.range.high, true)})`,
    )
  out.push(`    together ${percent(explained, true)} ±${percent(explainedU)}; left ${percent(left, true)} ±${percent(leftU)}`)
  const missing = causes.filter((cause) => 'problem' in cause).map(({ law }) => law)
  const known = causes.filter((cause) => !('problem' in cause)).map(({ law }) => law)
  const by =
    known.length === 0
      ? 'Nothing that could be reckoned explains it'
      : `What ${listed(known)} do${known.length === 1 ? 'es' : ''}`
  const but =
    missing.length === 0
      ? ''
      : ` What ${listed(missing)} do${missing.length === 1 ? 'es' : ''} is not known, and may be part of it.`
  if (why === 'build') out.push(`    By build and settings: ${by[0]!.toLowerCase()}${by.slice(1)} explains it.${but}`)
  else {
    out.push(`    ${known.length === 0 ? by : `${by} is not enough`}.${but}`)
    out.push(
      why === 'wear'
        ? `    By wear, perhaps; this was written down: ${wear.join('; ')}`
        : '    Nobody knows why: nothing that was written down explains it. Look at the rollers first, and print the same pattern on both with one rule on one day.',
    )
  }
  return out
}
