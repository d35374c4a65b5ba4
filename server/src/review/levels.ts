// What a difference may cost, worst first, and why each level stands where it does. A setting or a quantity is known by the keys that lead to it.
import type { Level } from './change-set.ts'

export const LEVELS: readonly Level[] = ['harm', 'length', 'look', 'record']

/** The heading of a level and the one sentence that says why it comes where it does. */
export const LEVEL_WORDS: Readonly<Record<Level, readonly [heading: string, reason: string]>> = {
  harm: [
    'Where somebody or a machine may be hurt',
    "Heat, clearance of the heads, vapour and tension can burn, crash, poison or tear; the machine's and the material's own safety documents come first.",
  ],
  length: [
    'Where prints may come out too long or too short',
    'A wrong length is found when the job is mounted, and is printed again.',
  ],
  look: ['Where prints may look wrong', 'Bands, blur and colour are seen before a job leaves, and cost the print.'],
  record: ['In the record', 'No print is another one by it; whoever looks it up reads something else.'],
}

/** By the first of these that fits the keys of a setting or of a quantity. Another stock, printer or base may change all of it. */
const BY_KEY: readonly (readonly [Level, RegExp])[] = [
  ['record', /^(?:title|notes|panel|profile|slots?|shop|datasheet|observed|keyed|rules|web\.slack)\b|(?:^|\.)note$/],
  ['harm', /^(?:stock|printer|base|heat|heaters|vapour|ink|gap|cautions|carriage\.gaps)\b/],
  ['harm', /^(?:softens-at|max-web-temperature|thickness|layers|family|curl-radius|modulus|yield)\b/],
  ['harm', /^(?:suction\.(?:rise|holding|needed)|web\.(?:tension|least|guard|stress|torque|face-strain|mass))/],
  [
    'length',
    /^(?:feed|suction|web|mode|modes|advance|conditions|tolerance|recheck|instruments|reference-temperature|units|climate)\b/,
  ],
  ['length', /^(?:expansion|moisture-expansion|poisson|friction|lots|lot-spread|events|room|roll|wound)\b/],
]

/** The level of a setting or a quantity; what nobody thought of may be seen in the look of a print. */
export const levelOf = (key: string): Level => BY_KEY.find(([, pattern]) => pattern.test(key))?.[0] ?? 'look'

export const byLevel = (a: { readonly level: Level }, b: { readonly level: Level }): number =>
  LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level)
