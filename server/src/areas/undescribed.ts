// What of a profile cannot be judged because the document of its printer or its stock leaves something out: told once for that document, since
// it is mended there, and so that "nothing found" is not taken for "all is well".
import type { CalcProblem } from '../base/outcome.ts'
import { DESCRIBED, isHarmless } from '../model/described.ts'
import { settingAt } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import { schemaOf } from '../schema/schema.ts'
import { heatOf } from './heat/facts.ts'
import { suctionOf } from './suction/facts.ts'
import { webOf } from './web/facts.ts'

export interface Undescribed {
  /** What is not judged: `heat`, `gap`, as `DESCRIBED` names them. */
  readonly area: string
  /** The document that leaves it out, and the id by which the profile names it. */
  readonly kind: 'printer' | 'stock'
  readonly file: string
  readonly id: string
  /** The key it leaves out. */
  readonly lacks: string
}

/** Only what its own document could tell: a profile that names no printer, or one that is not there, is told of by findings. */
export function undescribedIn(setup: Setup): readonly Undescribed[] {
  const found = new Map<string, Undescribed>()
  const add = (kind: Undescribed['kind'], area: string, lacks: string): void => {
    const file = setup[kind]?.$.file
    const id = setup.profile[kind]?.value
    if (file !== undefined && id !== undefined) found.set(`${kind} ${area} ${lacks}`, { area, kind, file, id, lacks })
  }
  const { printer, profile, stock, material } = setup
  if (printer)
    for (const { path, area, by, has } of DESCRIBED) {
      const given = has(printer) ? undefined : settingAt(profile, path.split('.'))
      if (given && !isHarmless(given.value)) add('printer', area, by)
    }
  const reckoned = (area: string, problem: CalcProblem): void => {
    const lacks = leftOut(setup, problem.input)
    if (lacks) add(lacks.kind, area, lacks.key)
  }
  const heat = heatOf(setup)
  for (const { zone, heater, set, range, web } of heat.zones) {
    if (!set || !heater) continue
    if (!range) add('printer', 'heat', `heaters.${zone}.range`)
    if (!heater.length) add('printer', 'heat', `heaters.${zone}.length`)
    else if (!web.ok) reckoned('heat', web.problem)
  }
  if (!heat.limit && heat.zones.some(({ set }) => set)) add('stock', 'heat', 'max-web-temperature')
  if (profile.gap && material.thickness === undefined) add('stock', 'gap', 'thickness')
  const { window } = suctionOf(setup)
  if (profile.suction && printer?.suction && !window.ok) reckoned('suction', window.problem)
  const { guard } = webOf(setup)
  if (profile.web?.tension && !guard.ok && !stock?.family) reckoned('tension', guard.problem)
  if (setup.own.alignment && printer && !printer.alignment) add('printer', 'alignment', 'alignment')
  return [...found.values()]
}

/** The key that a problem asks for, where it is one of the stock or the printer and really not there. */
function leftOut({ stock, printer, profile }: Setup, input: string): { kind: Undescribed['kind']; key: string } | undefined {
  if (STOCK.has(input)) return isThere(stock, input) ? undefined : { kind: 'stock', key: input }
  const key = MODE.has(input) && profile.mode ? `modes.${profile.mode.value}.${input}` : input
  if (!PRINTER.has(key.split('.')[0]!) || key === 'modes') return undefined
  return isThere(printer, key) ? undefined : { kind: 'printer', key }
}

const STOCK: ReadonlySet<string> = new Set(schemaOf('stock').properties.keys())
const PRINTER: ReadonlySet<string> = new Set(schemaOf('printer').properties.keys())
const MODE: ReadonlySet<string> = new Set(['carriage-speed', 'directions'])

function isThere(document: unknown, key: string): boolean {
  let at = document
  for (const name of key.split('.'))
    at =
      at instanceof Object && 'entries' in at && at.entries instanceof Map
        ? at.entries.get(name)
        : (at as Readonly<Record<string, unknown>> | undefined)?.[name]
  return at !== undefined
}
