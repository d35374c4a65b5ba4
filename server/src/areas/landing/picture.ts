// The alignment as a picture: how far the pick of each ink lies from the middle of them all, one way and both, beside the shop's tolerance.
import { plainText } from '../../base/plain-text.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import type { Picture, PictureRow, Point } from '../../picture/picture.ts'
import type { AreaPicture } from '../picture.ts'
import { alignmentSentence } from './evidence.ts'
import { landingOf, WAYS, type Way } from './facts.ts'
import { pickText, pixelsSentence, spreadSentence } from './words.ts'

export const picture: AreaPicture = (setup) => {
  const { alignment } = setup.own
  if (!alignment) return undefined
  const { picks, tolerance } = landingOf(setup)
  const inks = [...new Set(WAYS.flatMap((way) => channelsOf(setup, way).map(({ channel }) => channel)))]
  const points = WAYS.flatMap((way) => channelsOf(setup, way).map((one) => pointOf(setup, way, one, inks.indexOf(one.channel))))
  const problem = WAYS.map((way) => picks[way]).find((found) => found && !found.ok)
  return {
    id: 'alignment',
    title: 'Alignment: the picks by ink',
    said: [plainText(alignmentSentence(setup))],
    chart:
      points.length === 0
        ? undefined
        : {
            x: { kind: 'names', names: inks, label: 'ink' },
            y: { label: 'µm from the middle of all inks', sign: true },
            bands: [
              {
                low: -tolerance * 1e6,
                high: tolerance * 1e6,
                look: 'tolerance',
                name: `tolerance, ${shown(setup, tolerance, 'length')}`,
              },
            ],
            lines: [],
            uprights: [],
            spans: [],
            points,
          },
    table: {
      header: ['ink', ...WAYS.map((way) => TITLES[way])],
      rows: inks.map(
        (ink, i): PictureRow => ({
          id: String(i + 1),
          cells: [ink, ...WAYS.map((way) => plainText(pickText(setup, way, ink) ?? '—'))],
          at: WAYS.map((way) => alignment[way]?.entries.get(ink)?.place).find((place) => place !== undefined),
        }),
      ),
    },
    notes: [
      ...(problem && !problem.ok ? [`What the picks come to cannot be told: ${problem.problem.reason}.`] : []),
      ...WAYS.flatMap((way) => {
        const told = spreadSentence(setup, way)
        return told === undefined ? [] : [`${TITLES[way][0]!.toUpperCase()}${TITLES[way].slice(1)}: ${plainText(told)}`]
      }),
      ...[pixelsSentence(setup)].filter((line) => line !== undefined),
    ],
    at: alignment.$,
  } satisfies Picture
}

const TITLES: Readonly<Record<Way, string>> = { 'one-way': 'inks to each other', 'two-way': 'out to back' }

type Channel = { readonly channel: string; readonly deviation: number }

function channelsOf(setup: Setup, way: Way): readonly Channel[] {
  const found = landingOf(setup).picks[way]
  return found?.ok ? found.value.channels : []
}

function pointOf(setup: Setup, way: Way, { channel, deviation }: Channel, x: number): Point {
  const found = landingOf(setup).picks[way]
  const apart = found?.ok === true && found.value.apart.some((one) => one.channel === channel)
  const says = plainText(pickText(setup, way, channel) ?? '')
  const shapes = way === 'one-way' ? (['dot', 'triangle'] as const) : (['ring', 'diamond'] as const)
  return {
    row: String(x + 1),
    x,
    y: deviation * 1e6,
    shape: shapes[apart ? 1 : 0],
    kind: `${TITLES[way]}${apart ? ', stands apart' : ''}`,
    name: `${channel}, ${TITLES[way]}: ${says}`,
  }
}
