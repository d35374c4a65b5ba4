// The sheet for the wall beside a machine, as plain values: how to load one profile's stock, what to key in in the order of the panel, what to watch, what
// the evidence proves, and room for the next readings. Pure: a setup and its findings in. What is missing or not proven is marked, and never told as good.

import { feedOf } from '../../areas/feed/facts.ts'
import { nextPrintOf } from '../../areas/feed/next-print.ts'
import { asInFile, toldChance, verdictOf } from '../../areas/feed/verdict.ts'
import { chanceText, verdictSentences } from '../../areas/feed/verdict-words.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import { lackingOf, lackingText } from '../../model/lacking.ts'
import { openSettings } from '../../model/open-settings.ts'
import { retiredOf, retiredText } from '../../model/retired.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import type { Picture } from '../../picture/picture.ts'
import { picturesOf } from '../pictures.ts'
import { evidenceLines, type SheetEvidence } from './sheet-evidence.ts'
import { formsOf, type SheetForm } from './sheet-forms.ts'
import { watchLines } from './sheet-watch.ts'
import { type OnPrinter, type ToKeyItem, toKey } from './to-key.ts'
import { placeName } from './to-key-text.ts'

/** key-in: it is keyed in. has-it: the machine was seen to have it. in-doubt: not before what its note says. missing: the file gives none. */
export type SheetMark = ToKeyItem['state'] | 'missing'

export interface SheetKey {
  readonly mark: SheetMark
  /** How to reach it, in the shop's own words. */
  readonly where: string | undefined
  /** The setting as the profile names it: 'heat.platen'. */
  readonly key: string
  /** As the panel takes it; what the file says where the panel cannot hold it or it is in doubt; undefined where there is none. */
  readonly text: string | undefined
  /** What is proven of the number, where anything can be: "off, 3 %". */
  readonly word: string | undefined
  /** The number of the note that comes first, from 1. */
  readonly note: number | undefined
  /** Beside the value: what rounding left, what the machine was seen to have. */
  readonly beside: string | undefined
}

/** What is loaded: `missing` where the documents do not say. */
export interface SheetLoad {
  readonly name: string
  readonly text: string
  readonly missing?: true
}

export interface Sheet {
  readonly profile: string
  readonly title: string | undefined
  readonly shop: string | undefined
  /** "banner-510 on bay-1 in banner-4-pass". */
  readonly on: string
  /** "Slot 4". */
  readonly place: string
  /** The day it is judged on, YYYY-MM-DD. */
  readonly today: string
  /** The profile and the revision of the documents that the sheet rests on: "banner-510-bay-1 · a1b2c3d". */
  readonly mark: string
  /** What changed since its revision; empty for a sheet of today. */
  readonly old: readonly string[]
  /** What is to be put right before anything here is used. */
  readonly first: readonly string[]
  readonly load: readonly SheetLoad[]
  readonly keys: readonly SheetKey[]
  /** What comes first, by the numbers of the keys. */
  readonly notes: readonly string[]
  /** Never empty, and the same whatever rules a shop ignores. */
  readonly watch: readonly string[]
  readonly evidence: readonly SheetEvidence[]
  /** The feed's picture; undefined where there is nothing to draw. */
  readonly chart: Picture | undefined
  readonly forms: readonly SheetForm[]
}

export interface SheetRequest extends OnPrinter {
  /** What the profile rests on and could not be read, a sentence each, beyond what its setup tells. */
  readonly notRead: readonly string[]
  readonly mark: string
  readonly old: readonly string[]
}

/** The sheet of one profile. Never throws. */
export function sheetOf({ setup, findings, unsettled, notRead, mark, old }: SheetRequest): Sheet {
  const { own, profile, shop, today, printer } = setup
  // No number that is keyed in rests on a colour file.
  const [unread, colours] = [false, true].map((ofColour) =>
    lackingOf(setup).flatMap((one) => ((one.kind === 'colour-file') === ofColour ? lackingText(one, setup) : [])),
  ) as [string[], string[]]
  const lacking = [...new Set([...notRead, ...unread])]
  const named = [
    ...(profile.stock ? [] : ['The profile names no stock.']),
    ...(profile.printer ? [] : ['The profile names no printer.']),
    ...(profile.mode ? [] : ['The profile names no mode.']),
  ]
  const retired = retiredOf(setup)
  const settle = [...(unsettled === undefined ? [] : [unsettled]), ...lacking]
  // Without the printer nobody knows what its panel takes, without the stock what it stands.
  const open = [...settle, ...(profile.stock && profile.printer ? [] : named)]
  const [slot] = toKey([
    { setup, findings, unsettled: open.length > 0 ? 'Settle first what stands at the top of this sheet.' : undefined },
  ])
  const notes: string[] = []
  const noted = (text: string): number => {
    const at = notes.indexOf(text)
    return at >= 0 ? at + 1 : notes.push(text)
  }
  const keys = retired ? [] : inOrder(setup, [...slot!.items.map((item) => keyOf(setup, item, noted)), ...missingKeys(setup)])
  const on = [
    profile.stock?.value ?? 'no stock',
    `on ${profile.printer?.value ?? 'no printer'}`,
    `in ${profile.mode?.value ?? 'no mode'}`,
  ]
  const missing = keys.filter((key) => key.mark === 'missing').map(({ key }) => key)
  return {
    profile: own.profile?.value ?? 'a profile without a name',
    title: own.title?.value,
    shop: shop.document?.shop?.value,
    on: on.join(' '),
    place: placeName(slot!),
    today,
    mark,
    old,
    first: [
      ...(retired ? [`Out of use: ${retiredText(retired)}. Key nothing in from this sheet.`] : []),
      ...settle.map((sentence) => `Settle first: ${sentence}`),
      ...[...named, ...colours].map((sentence) => `Missing: ${sentence}`),
      ...(missing.length > 0 ? [`Missing: the file gives no ${missing.join(', ')}.`] : []),
    ],
    load: loadOf(setup),
    keys,
    notes,
    watch: watchLines(setup, findings, notes),
    evidence: evidenceLines(setup),
    chart: picturesOf(setup, []).pictures.find(({ id, chart }) => id === 'feed' && chart),
    forms: printer || own.feed ? formsOf(setup) : [],
  }
}

function keyOf(setup: Setup, item: ToKeyItem, noted: (text: string) => number): SheetKey {
  const { key, where, file, machine, since } = item
  const proof = key === 'feed.correction' ? feedProof(setup) : undefined
  // What runs already and waits for a print is nothing to key in; on the wall it is told all the same.
  const doubt = item.state === 'in-doubt' ? (item.note ?? 'the machine cannot be given it') : proof?.doubt()
  const had = machine && `the machine had ${machine.text}${machine.date === undefined ? '' : ` on ${machine.date}`}`
  const seen = item.state === 'has-it' && since !== undefined ? `seen ${since}` : undefined
  const beside = [item.state === 'key-in' ? item.note : undefined, had, seen].filter((text) => text !== undefined)
  return {
    mark: doubt === undefined ? item.state : 'in-doubt',
    where,
    key,
    text: item.text ?? file,
    word: proof?.word,
    note: doubt === undefined ? undefined : noted(doubt),
    beside: beside.length > 0 ? beside.join('; ') : undefined,
  }
}

const GOOD: readonly EvidenceWord[] = ['proven', 'carried']

/** What is proven of the correction in the file, and what comes first where that is not enough. */
function feedProof(setup: Setup): { readonly word: string; doubt(): string | undefined } {
  const facts = asInFile(feedOf(setup))
  const verdict = verdictOf(facts, 'aside')
  const chance = toldChance(verdict)
  return {
    word: chance === undefined ? verdict.word : `${verdict.word}, ${chanceText(chance)}`,
    doubt: () => (GOOD.includes(verdict.word) ? undefined : verdictSentences(facts, nextPrintOf(facts), 'aside').join(' ')),
  }
}

/** What the printer has and the file does not give. */
const missingKeys = ({ printer, profile }: Setup): readonly SheetKey[] =>
  (printer ? openSettings(printer, profile) : []).map((key) => ({
    mark: 'missing',
    where: printer?.panel?.items.find((item) => item.key?.value === key)?.where?.value,
    key,
    text: undefined,
    word: undefined,
    note: undefined,
    beside: undefined,
  }))

/** The panel's order; what it does not list stays behind, as it came. */
function inOrder({ printer }: Setup, keys: readonly SheetKey[]): readonly SheetKey[] {
  const panel = (printer?.panel?.items ?? []).map(({ key }) => key?.value)
  const placeOf = ({ key }: SheetKey): number => {
    const at = panel.indexOf(key)
    return at < 0 ? panel.length : at
  }
  return keys.toSorted((a, b) => placeOf(a) - placeOf(b))
}

/** What to load and how: stock and lot, sizes, sides. Which edge leads in no document says. */
function loadOf(setup: Setup): readonly SheetLoad[] {
  const { stock, profile } = setup
  const line = (name: string, text: string | undefined, without: string): SheetLoad =>
    text === undefined ? { name, text: without, missing: true } : { name, text }
  const widths = stock?.widths?.items.map(writtenText) ?? []
  const roll = stock?.roll
  const sizes = [
    roll?.core && `core ${writtenText(roll.core)}`,
    roll?.outside && `full roll ${writtenText(roll.outside)}`,
    roll?.length && writtenText(roll.length),
  ].filter((text) => text !== undefined)
  const { lot } = feedOf(setup)
  return [
    line(
      'stock',
      profile.stock && [profile.stock.value, stock?.title?.value].filter((text) => text !== undefined).join(', '),
      'not named in the file',
    ),
    line('lot', lot, 'not written down: read the label'),
    line('width', widths.length > 0 ? widths.join(', ') : undefined, 'not in the stock’s document'),
    line('roll', sizes.length > 0 ? sizes.join(', ') : undefined, 'not in the stock’s document'),
    line('print face', stock?.wound && `wound ${stock.wound.value} on the roll`, 'not in the stock’s document: look'),
    line('take-up', profile.web?.wound && `print face ${profile.web.wound.value}`, 'not in the file'),
    { name: 'edge', text: 'fed as the machine’s own instructions show; no document here tells' },
  ]
}
