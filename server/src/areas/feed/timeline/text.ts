// A profile's history as a page: what changed, how the feed stood from day to day, and what was measured.

import type { EvidenceWord } from '../../../model/evidence-word.ts'
import type { Setup } from '../../../model/setup.ts'
import { shown } from '../../../model/shown.ts'
import { formatSi } from '../../../quantities/format.ts'
import { items, lines, type Page, type Passage } from '../../../report/page.ts'
import { chanceText } from '../verdict-words.ts'
import { plusMinus } from '../words.ts'
import type { HistoryMoment, ProfileHistory } from './result.ts'

const percent = (share: number | null): string =>
  share === null ? '-' : formatSi(share, 'relative', { unit: '%', decimals: 3, sign: true })

export function historyPage(history: ProfileHistory, setup: Setup): Page {
  const { profile, from, to, moments, checks, readings, alignments, marks } = history
  const passages: Passage[] = [
    {
      heading: 'The feed, from its day on',
      blocks: [
        {
          kind: 'table',
          header: ['day', 'commit', 'in the file', 'it ran with', 'asked for', 'feed', 'in tolerance', 'alignment', 'heat', ''],
          rows: moments.map(momentRow),
        },
      ],
    },
    {
      heading: 'What changed',
      blocks: [
        marks.length === 0
          ? lines('Nothing that is written down.')
          : { kind: 'table', header: ['day', '', ''], rows: marks.map(({ date, kind, text }) => [date, kind, text]) },
      ],
    },
  ]
  if (checks.length > 0)
    passages.push({
      heading: 'Feed checks, each by itself',
      blocks: [
        {
          kind: 'table',
          header: ['day', 'printed with', 'asks for', '95 % interval', 'lot', 'with', ''],
          rows: checks.map(({ date, applied, asks, asksU, lot, instrument, leftOut }) => [
            date,
            percent(applied),
            percent(asks),
            asksU === null ? '-' : plusMinus(asksU),
            lot ?? '-',
            instrument ?? '-',
            leftOut === null ? '' : `left out: ${leftOut}`,
          ]),
        },
      ],
    })
  if (alignments.length > 0)
    passages.push({
      heading: 'Alignments',
      blocks: [
        items(
          ...alignments.map(
            ({ date, commit, picks }) =>
              `${date} (commit ${commit}): ${Object.entries(picks)
                .filter(([, channels]) => Object.keys(channels).length > 0)
                .map(
                  ([way, channels]) =>
                    `${way} ${Object.entries(channels)
                      .map(([name, pick]) => `${name} ${pick}`)
                      .join(', ')}`,
                )
                .join('; ')}`,
          ),
        ),
      ],
    })
  if (readings.length > 0) {
    const warm = (at: number | null): string => (at === null ? '-' : shown(setup, at, 'temperature'))
    passages.push({
      heading: 'Readings of the web',
      blocks: [
        {
          kind: 'table',
          header: ['day', 'zone', 'set', 'web'],
          rows: readings.map(({ date, zone, set, web }) => [date, zone, warm(set), warm(web)]),
        },
      ],
    })
  }
  return { title: `History of ${profile}, ${from} to ${to}`, passages }
}

function momentRow({
  date,
  by,
  commit,
  subject,
  set,
  held,
  heldBy,
  wanted,
  wantedU,
  feed,
  chance,
  alignment,
  heat,
}: HistoryMoment): readonly string[] {
  return [
    date,
    commit,
    percent(set),
    heldBy === 'machine' ? `${percent(held)} read back` : heldBy === 'file' ? 'as the file' : '-',
    wanted === null || wantedU === null ? '-' : `${percent(wanted)} ${plusMinus(wantedU)}`,
    feed,
    chance === null ? '-' : chanceText(chance),
    alignment,
    worst(Object.values(heat)),
    by === 'days' ? 'by the days alone' : subject,
  ]
}

/** Of several zones the one that is proven least. */
const worst = (words: readonly EvidenceWord[]): string =>
  (['unknown', 'doubtful', 'off', 'carried', 'proven'] as const).find((word) => words.includes(word)) ?? '-'
