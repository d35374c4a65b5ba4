// What is kept from one version of a document to the next is never told from what is made fresh: after any edits, a document that was typed shows
// just what one that was opened shows. This is what makes keeping facts (`Setup.still`, kept nodes, kept checks) safe.

import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { hints } from '../../server/src/features/hints.ts'
import { reckon } from '../../server/src/model/reckon.ts'
import type { Analysis } from '../../server/src/workspace/analysis.ts'
import { type Fixture, openFixture, parseFixture } from '../support/fixture.ts'
import { renderFindings } from '../support/render.ts'

const TODAY = '2026-11-25'
const sample = (name: string): string => readFileSync(new URL(`../../samples/tern-quay/${name}`, import.meta.url), 'utf8')

/** Lines that matter to several areas at once: taken out, put back, or with other numbers in them. */
const CHANGES: readonly (readonly [RegExp, string])[] = [
  [/suction: \d/, 'suction: 1'],
  [/gap: [\d.]+ mm/, 'gap: 3.5 mm'],
  [/platen: \d+ °C/, 'platen: 50 °C'],
  [/after: \d+ °C/, 'after: 60 °C'],
  [/tension: \d/, 'tension: 4'],
  [/pause: \d+ s/, 'pause: 9 s'],
  [/travel: image/, 'travel: bed'],
  [/strikes: 1/, 'strikes: 2'],
  [/mode: .*/, 'mode: fine-16-pass'],
  [/correction: .*/, 'correction: +0.50 %'],
  [/measured: [\d.]+ mm/, 'measured: 990.0 mm'],
  [/\n {4}- \{ date[^\n]*/, ''],
  [/wound: \w+/, 'wound: out'],
  [/stock: .*/, 'stock: nothing'],
  [/\n\n/, '\n# a note\n'],
  [/: /, ':'],
]

test.each(['banner-510-bay-1', 'cast-film-gloss-50-bay-1', 'pp-film-180-bay-1'])('%s', async (name) => {
  const text = sample(`profiles/${name}.media.yaml`)
  const stock = /^stock: (\S+)/m.exec(text)![1]!
  const others = `#- bay-1.printer.yaml\n${sample('printers/bay-1.printer.yaml')}#- ${stock}.stock.yaml\n${sample(`stocks/${stock}.stock.yaml`)}#- rollbook.yaml\n${sample('rollbook.yaml')}`
  const fixture = parseFixture(`#- ${name}.media.yaml\n${text}${others}`)
  await fc.assert(
    fc.asyncProperty(fc.array(fc.nat(CHANGES.length * 2 - 1), { minLength: 1, maxLength: 6 }), async (choices) => {
      const typed = await openFixture(fixture, TODAY)
      let now = fixture.text
      for (const choice of choices) {
        const [pattern, by] = CHANGES[choice >> 1]!
        // Every other choice goes back to the text as it was: kept facts must follow back too.
        now = choice % 2 === 0 ? now.replace(pattern, by) : fixture.text
        typed.workspace.update(fixture.file, now)
        await typed.workspace.prepare(fixture.file)
        shown(typed, fixture.file)
      }
      const files = new Map(fixture.files).set(fixture.file, now)
      const opened = await openFixture({ ...fixture, text: now, files } satisfies Fixture, TODAY)
      expect(shown(typed, fixture.file)).toBe(shown(opened, fixture.file))
    }),
    { numRuns: 40 },
  )
})

function shown(analysis: Analysis, file: string): string {
  const context = analysis.context(file)!
  const { text } = context.document
  const beside = hints(context, { start: 0, end: text.length }).map((h) => `${h.offset} ${h.label}`)
  const numbers = context.setup ? JSON.stringify(reckon(context.setup), null, 1) : ''
  return `${renderFindings(text, context.findings())}\n${beside.join('\n')}\n${numbers}`
}
