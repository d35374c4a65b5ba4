// No edit that is offered removes or changes a reading, a day or what a state says: whatever states and evidence a profile has, and whatever of it is wrong.
import fc from 'fast-check'
import { beforeAll, expect, test } from 'vitest'
import { applyEdits, editsOf, withoutStops } from '../../server/src/base/text-edit.ts'
import { LiveDocument } from '../../server/src/model/document.ts'
import { evidenceIn } from '../../server/src/model/evidence.ts'
import { contentOf, valuesOf } from '../../server/src/model/states.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { runs, some } from '../support/counts.ts'
import { type Sample, samples } from '../support/texts.ts'
import { type Bench, openBench } from './shop.ts'

let bench: Bench
beforeAll(async () => {
  bench = await openBench()
})

const PROFILES = samples().filter(({ name, text }) => kindOfFile(name) === 'media' && /date: /.test(text) && text.length < 20_000)

/** What only names something, or says how an entry is taken: it may be mended. */
const NAMES = /^(?:under|with|lot|mode|zone|by|skip|note|same-print|fault|tensioned|slack-watch|entry|file|.*-way\..*)$/

/** Every reading and day, entry by entry, and what every state says: of each kind as often as it is there. */
function told(text: string): readonly string[] {
  const document = new LiveDocument('file:///a.media.yaml', 'media', text)
  const entries = evidenceIn(document).flatMap(({ kind, cells }) => {
    const kept = cells.filter(({ key }) => !NAMES.test(key)).map(({ key, part, meaning }) => `${key} ${part} ${meaning}`)
    return kept.length > 0 ? [{ kind: kind.name, kept }] : []
  })
  const states = [...(document.content?.conditions?.entries.values() ?? [])].map((state) => ({
    kind: 'state',
    kept: contentOf(valuesOf(state), state.from?.value ?? '')
      .split(';')
      .filter((part) => part !== 'from='),
  }))
  return [...entries, ...states].map(({ kind, kept }) => [kind, ...kept.sort()].join(', '))
}

/** What was told and is told no more. An entry may have gained what could not be read of it before. */
function lost(before: string, after: string): readonly string[] {
  const left = [...told(after)]
  const take = (is: (other: string) => boolean): boolean => {
    const at = left.findIndex(is)
    if (at >= 0) left.splice(at, 1)
    return at >= 0
  }
  // The same first, so that no other takes it. An entry with less in it finds its place after those with more.
  const changed = told(before).filter((one) => !take((other) => other === one))
  return changed
    .sort((a, b) => b.length - a.length)
    .filter((one) => !take((other) => one.split(', ').every((part) => other.split(', ').includes(part))))
}

async function losses({ name, text }: Sample): Promise<readonly string[]> {
  const file = await bench.put(name, text)
  const { analysis } = bench
  const offered = [
    ...analysis.actions(file, { start: 0, end: text.length }),
    ...[...text.matchAll(/\d/g)]
      .filter((_, i) => i % 20 === 0)
      .flatMap(({ index }) => analysis.actions(file, { start: index, end: index })),
  ]
  const seen = new Set<string>()
  const found = offered.flatMap((action) => {
    const key = JSON.stringify(action.edits)
    // Of two versions that a merge left, one goes: that is what is chosen, and the offer says what is lost.
    if (action.code === 'conflict-markers') return []
    // Of what a profile has once, a new print takes the place, and the one before stays above it as a comment: nothing is taken out.
    if (action.kind === 'record' && action.edits.every(({ start, end }) => start === end)) return []
    if (action.file !== file || action.refused !== undefined || seen.has(key)) return []
    seen.add(key)
    const after = applyEdits(text, editsOf(text, action.edits))
    return lost(text, action.snippet ? withoutStops(after) : after).map(
      (one) => `${name}, '${action.title}' (${action.code}): ${one}`,
    )
  })
  await bench.workspace.close(file)
  return found
}

test('in every sample', async () => {
  const found: string[] = []
  for (const one of some(PROFILES, 4)) found.push(...(await losses(one)))
  expect(found).toEqual([])
})

const NAME = fc.constantFrom('s7f2c', 's0000', 'morning', 'mornin', 'as-set', 'evening')
const VALUE = fc.constantFrom(
  'gap: 2.0 mm',
  'gap: 0.2 cm',
  'suction: 3',
  'suction: 99',
  'suction: 320 Pa',
  'web.tension: 3',
  'tension: 3',
  'web.speed: 60 mm/s',
  'heat.platen: 42 °C',
  'heat.platen: 42',
  'drying.pause: 0 s',
  'colour: red',
)
const HEAD = fc.constantFrom(
  'from: profile, stock: banner-510, printer: bay-1, mode: banner-4-pass',
  'from: said, stock: banner-510, printer: bay-2, mode: banner-4-pass',
  'from: somebody, printer: bay-1, mode: banner-4-pass',
  'from: read-back, stock: film, printer: bay-1, mode: quick',
)
const STATE = fc.tuple(NAME, HEAD, fc.uniqueArray(VALUE, { maxLength: 6 }))
const FLAW = fc.constantFrom('', ', same-print: true', ', same-print: true', ', note: read twice', ', skip: the web slipped')

test('with states and evidence of any sort', () =>
  fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...PROFILES),
      fc.array(STATE, { maxLength: 4 }),
      fc.array(fc.tuple(fc.option(NAME), FLAW), { minLength: 1, maxLength: 6 }),
      async ({ name, text }, states, unders) => {
        let n = 0
        const lines = text
          .replace(/^conditions:\n(?: .*\n?)*/m, '')
          .replace(/(, under: [a-z0-9-]+)? \}$/gm, (end, _, at: number, whole: string) => {
            const line = whole.slice(whole.lastIndexOf('\n', at) + 1, at)
            if (!/^ +- \{ date:/.test(line)) return end
            const [under, flaw] = unders[n++ % unders.length]!
            return `${under === null ? '' : `, under: ${under}`}${flaw} }`
          })
        const conditions = states.map(([id, head, values]) => `  ${id}: { ${[head, ...values].join(', ')} }\n`).join('')
        const whole = `${lines.replace(/\n*$/, '\n')}${conditions === '' ? '' : `conditions:\n${conditions}`}`
        expect(await losses({ name, text: whole })).toEqual([])
      },
    ),
    { numRuns: runs(40) },
  ))
