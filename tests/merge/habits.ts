// Two people at work on one profile: what they record, each on a branch of his own, by chance that follows from a seed. Shares are guesses of ours.
import { addDays } from '../../server/src/model/dates.ts'
import type { Chance } from '../support/chance.ts'
import { type Check, type Fields, nameOf, type Profile } from './profile.ts'

export interface Pair {
  readonly base: Profile
  readonly ours: Profile
  readonly theirs: Profile
}

const NOTES = ['strip not flat', 'read by the window', 'second roll of the day', 'measured cool', 'edge was cut askew']
const COMMENTS = ['Set up on the new lot.', 'After the summer break.', 'The proof at full length.', 'Roll changed just before.']
const HAND_NAMES = ['winter', 'summer', 'night-run', 'new-blower']
const LENGTHS = [1000, 1500, 1500, 2000]
const LOTS = ['B-4502', 'B-4517', 'B-4533']

const percent = (chance: Chance, share: number): boolean => chance.below(100) < share

export function makePair(chance: Chance): Pair {
  const recorder = new Recorder(chance)
  const base = recorder.base()
  const [ours, theirs] = recorder.branches(base)
  return percent(chance, 50) ? { base, ours, theirs } : { base, ours: theirs, theirs: ours }
}

class Recorder {
  private nextId = 1

  constructor(private readonly chance: Chance) {}

  base(): Profile {
    const { chance } = this
    const states = new Map<string, Fields>()
    const count = chance.below(7)
    while (states.size < count) {
      const state = this.state()
      states.set(percent(chance, 10) ? (HAND_NAMES.find((name) => !states.has(name)) ?? nameOf(state)) : nameOf(state), state)
    }
    const names = [...states.keys()]
    let profile: Profile = { correction: this.correction(), checks: [], states }
    const checks = chance.below(13)
    let day = addDays('2026-03-02', chance.below(60))
    while (profile.checks.length < checks) {
      const made = profile.checks.length
      // Old checks know no state; later ones stand mostly under later states.
      const known = names.length > 0 && !(made < 3 && percent(chance, 30))
      const under = known
        ? names[Math.min(names.length - 1, Math.floor((made / checks) * names.length) + chance.below(2))]
        : undefined
      profile = this.record(profile, Math.min(1 + chance.below(3), checks - made), day, under)
      day = addDays(day, 1 + chance.below(30))
    }
    return profile
  }

  branches(base: Profile): [Profile, Profile] {
    const { chance } = this
    const newest = base.checks.at(-1)?.fields.date ?? '2026-10-01'
    const day = addDays(newest, chance.below(3) === 0 ? 0 : 1 + chance.below(20))
    const otherDay = percent(chance, 50) ? day : addDays(day, 1 + chance.below(10))
    const names = this.newStates()
    let both: Profile = base
    // A measurement that came to both: the same sheet of paper typed twice over, or a commit that was picked.
    if (percent(chance, 5)) both = this.record(base, 1, day, [...base.states.keys()].at(-1))
    const common = both.checks.filter((check) => !base.checks.includes(check))
    const branch = (one: string, named: readonly [string, Fields] | undefined): Profile => {
      let profile = common.length > 0 && percent(chance, 50) ? this.record(base, 1, one, this.oldState(base)) : base
      profile = { ...profile, checks: [...profile.checks, ...common] }
      if (named) profile = { ...profile, states: new Map([...profile.states, named]) }
      const under = named && percent(chance, 80) ? named[0] : this.oldState(base)
      profile = this.record(profile, 1 + chance.below(3), one, under)
      return percent(chance, 20) ? this.record(profile, 1, addDays(one, 1), this.oldState(profile)) : profile
    }
    const branches: [Profile, Profile] = [branch(day, names[0]), branch(otherDay, names[1])]
    return this.keyIn(this.amend(branches))
  }

  /** Recorded on one day: below what is there, or among it by its date where it comes from a sheet of paper. */
  private record(profile: Profile, count: number, day: string, under: string | undefined): Profile {
    const { chance } = this
    const late = profile.checks.length > 2 && percent(chance, 8)
    const date = late ? profile.checks[chance.below(profile.checks.length)]!.fields.date! : day
    const commanded = chance.one(LENGTHS)
    const lot = percent(chance, 90) ? chance.one(LOTS) : undefined
    const climate = percent(chance, 15)
      ? `{ temperature: ${20 + chance.below(5)} °C, humidity: ${40 + chance.below(15)} %RH }`
      : undefined
    const added: Check[] = []
    for (let i = 0; i < count; i++) {
      const strip = i > 0 && percent(chance, 30)
      const fields: Record<string, string | undefined> = {
        date,
        commanded: `${commanded} mm`,
        measured: `${(commanded * 0.999 + (chance.below(21) + chance.below(21) - 20) / 10).toFixed(1)} mm`,
        applied: profile.correction,
        with: commanded > 1000 ? 'steel-rule-2m' : 'steel-rule-1m',
        web: percent(chance, 85) ? `${21 + chance.below(4)} °C` : undefined,
        climate,
        lot,
        under,
        'same-print': strip ? 'true' : undefined,
        skip: percent(chance, 4) ? chance.one(NOTES) : undefined,
        note: percent(chance, 8) ? chance.one(NOTES) : undefined,
      }
      const comment = !strip && percent(chance, 12) ? { comment: chance.one(COMMENTS) } : {}
      added.push({ id: this.nextId++, fields: defined(fields), ...comment })
    }
    const place = late ? profile.checks.findLastIndex(({ fields }) => fields.date! <= date) + 1 : profile.checks.length
    return { ...profile, checks: [...profile.checks.slice(0, place), ...added, ...profile.checks.slice(place)] }
  }

  /** The state of each branch, where it adds one: none, one of them, both the same, both another, both another under one name. */
  private newStates(): readonly (readonly [string, Fields])[] {
    const { chance } = this
    const one = this.state()
    let two = this.state()
    while (nameOf(two) === nameOf(one)) two = this.state()
    const byHand = percent(chance, 10)
    const name = byHand ? chance.one(HAND_NAMES) : nameOf(one)
    const scene = chance.below(100)
    if (scene < 30) return []
    if (scene < 55) return [[name, one]]
    if (scene < 75)
      return [
        [name, one],
        [name, one],
      ]
    return [
      [name, one],
      [byHand && percent(chance, 50) ? name : nameOf(two), two],
    ]
  }

  private oldState({ states }: Profile): string | undefined {
    const names = [...states.keys()]
    return percent(this.chance, 70) ? names.at(-1) : names[this.chance.below(names.length)]
  }

  /** A remark or a reading that is put right on one of the newest lines, on either branch or on both; old checks that are given their state. */
  private amend([one, two]: [Profile, Profile]): [Profile, Profile] {
    const { chance } = this
    const known = one.checks.filter(({ id }) => two.checks.some((check) => check.id === id)).slice(-3)
    const change = (profile: Profile): Profile => {
      const { id, fields } = chance.one(known)
      const [key, value] = chance.one([
        ...Array.from({ length: 3 }, () => ['note', chance.one(NOTES)] as const),
        ...Array.from({ length: 2 }, () => ['skip', chance.one(NOTES)] as const),
        ['measured', `${(Number.parseFloat(fields.measured!) + 1 + chance.below(9)).toFixed(1)} mm`] as const,
      ])
      return withFields(profile, (check) => check.id === id, { [key]: value })
    }
    let out: [Profile, Profile] = [one, two]
    if (known.length > 0 && percent(chance, 35)) out = [change(one), percent(chance, 15) ? change(two) : two]
    if (percent(chance, 8)) out = [out[0], giveState(out[1], this.oldState(two))]
    return out
  }

  private keyIn([one, two]: [Profile, Profile]): [Profile, Profile] {
    const { chance } = this
    const scene = chance.below(100)
    const set = (profile: Profile): Profile => ({ ...profile, correction: this.correction() })
    return scene < 30 ? [set(one), two] : scene < 40 ? [set(one), set(two)] : [one, two]
  }

  private correction(): string {
    return `+0.${String(10 + this.chance.below(15)).padStart(2, '0')} %`
  }

  private state(): Fields {
    const { chance } = this
    return {
      from: chance.one(['profile', 'read-back', 'said']),
      stock: 'banner-510',
      printer: 'bay-1',
      mode: chance.one(['banner-4-pass', 'banner-4-pass', 'banner-6-pass']),
      gap: chance.one(['1.6 mm', '2.0 mm', '2.0 mm', '2.4 mm']),
      suction: String(1 + chance.below(6)),
      'web.tension': chance.one(['15 N/m', '20 N/m', '20 N/m', '25 N/m']),
      'web.speed': chance.one(['60 mm/s', '60 mm/s', '80 mm/s']),
      'heat.before': `${36 + 2 * chance.below(4)} °C`,
      'heat.platen': `${38 + 2 * chance.below(4)} °C`,
      'heat.after': `${44 + 4 * chance.below(3)} °C`,
      'drying.pause': chance.one(['0 s', '0 s', '0.5 s']),
      'drying.run-out': chance.one(['3 min', '3 min', '5 min']),
    }
  }
}

const defined = (fields: Readonly<Record<string, string | undefined>>): Fields =>
  Object.fromEntries(Object.entries(fields).filter((entry): entry is [string, string] => entry[1] !== undefined))

const withFields = (profile: Profile, wanted: (check: Check) => boolean, fields: Fields): Profile => ({
  ...profile,
  checks: profile.checks.map((check) => (wanted(check) ? { ...check, fields: { ...check.fields, ...fields } } : check)),
})

/** The newest check without a state, with the strips of its print, is given one. */
function giveState(profile: Profile, under: string | undefined): Profile {
  const { checks } = profile
  const at = checks.findLastIndex(({ fields }) => fields.under === undefined && fields['same-print'] === undefined)
  if (at < 0 || under === undefined) return profile
  let end = at + 1
  while (checks[end]?.fields['same-print'] !== undefined) end++
  const ids = new Set(checks.slice(at, end).map(({ id }) => id))
  return withFields(profile, ({ id }) => ids.has(id), { under })
}
