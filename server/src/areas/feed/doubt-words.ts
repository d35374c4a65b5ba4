// Why a check proves nothing of today, and what brings another one here, in the words of a shop.
import { rangeText, strainWords } from '../../model/range-words.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import type { Difference } from '../../model/states.ts'
import type { Carry, CarryLaw, Stopped } from './carry.ts'
import type { Doubt } from './evidence.ts'
import { perLength } from './words.ts'

/** As the end of a sentence: "it was made before the feed roller was cleaned on 2026-11-02". */
export function doubtText(doubt: Doubt, setup: Setup): string {
  switch (doubt.why) {
    case 'no-state':
      return 'it does not say what the machine was set to (under)'
    case 'no-such-state':
      return `conditions does not have its state ${doubt.state}`
    case 'state-differs':
      return `state ${doubt.state} no longer says what its name stands for`
    case 'event':
      return `it was made before ${eventText(doubt.opening.what)} on ${doubt.opening.date}`
    case 'other-lot':
      return doubt.lot === undefined
        ? `it does not say on which lot it was made, and lot ${doubt.now} is printed now`
        : `it was made on lot ${doubt.lot}, lot ${doubt.now} is printed now, and the stock does not say how far its lots differ (lot-spread)`
    case 'no-such-instrument':
      return `the shop has no instrument ${doubt.instrument}, so nobody knows how wrong it may be`
    case 'stopped':
      return stoppedText(doubt.stopped, setup)
  }
}

function stoppedText({ why, difference, reason, carry }: Stopped, setup: Setup): string {
  const name = difference ? settingName(difference.key) : ''
  switch (why) {
    case 'stock':
    case 'printer':
      return `it was printed on ${difference?.then ? writtenText(difference.then) : `a ${why} that nobody wrote down`}`
    case 'mode':
      return `it was printed in ${difference?.then ? writtenText(difference.then) : 'another mode'}, which moves the web otherwise`
    case 'not-known':
      return difference?.then ? `the profile does not say today's ${name}` : `nobody wrote down the ${name} then`
    case 'gone':
      return `the printer no longer has ${name} ${difference?.then ? writtenText(difference.then) : ''}`
    case 'unreckonable':
      return `what ${changeOf(difference)} does to the length cannot be reckoned: ${reason}`
    case 'too-wide':
      return `${carry ? carryText(carry, setup) : changeOf(difference)}, and that is known to no better than ${perLength(setup, 1.96 * (carry?.u ?? 0))}, with a tolerance of ${perLength(setup, setup.shop.tolerance.length.value)}`
  }
}

/** "suction 3 → 5". */
function changeOf(difference: Difference | undefined): string {
  if (!difference) return 'the change'
  const { key, then, now } = difference
  return `${settingName(key)} ${then ? writtenText(then) : '?'} → ${now ? writtenText(now) : '?'}`
}

/** "suction 3 → 5: +0.034 mm/m (0.006 to 0.062)". */
export function carryText(carry: Carry, { shop }: Setup): string {
  const { range, differences, law } = carry
  const changes = differences.length > 0 ? differences.map(changeOf).join(', ') : LAW_WORDS[law]
  const text = rangeText(range, 'relative', { ...strainWords(shop.units), least: 1e-7 })
  return `${changes}: ${range.typical > 0 ? '+' : ''}${text}`
}

/** What changed, where it is no setting. */
export const LAW_WORDS: Readonly<Record<CarryLaw, string>> = {
  suction: 'suction',
  tension: 'tension',
  heat: 'heat',
  humidity: 'humidity of the room',
}

const NAMES: Readonly<Record<string, string>> = {
  'web.tension': 'tension',
  'web.speed': 'web speed',
  'heat.before': 'heat before',
  'heat.platen': 'heat of the platen',
  'heat.after': 'heat after',
  'drying.pause': 'pause',
  'drying.run-out': 'run-out',
}

/** What a setting is called in a sentence. */
export const settingName = (key: string): string => NAMES[key] ?? key

const EVENTS: Readonly<Record<string, string>> = {
  'head-changed': 'a head was changed',
  'head-cleaned': 'a head was cleaned',
  'feed-roller-changed': 'the feed roller was changed',
  'feed-roller-cleaned': 'the feed roller was cleaned',
  'belt-changed': 'the belt was changed',
  'ink-changed': 'the ink was changed',
  'heater-replaced': 'a heater was replaced',
  'sensor-replaced': 'a sensor was replaced',
  'blower-changed': 'the blower was changed',
  'levels-changed': 'the levels got another meaning',
  'mode-changed': 'a mode got another meaning',
  levelled: 'the machine was levelled',
  moved: 'the machine was moved',
  serviced: 'the machine was serviced',
}

/** "the feed roller was cleaned". */
export const eventText = (what: string): string => EVENTS[what] ?? what
