// A document that nobody looks at keeps its text alone: what was said of it stays true, is said again when asked, and follows what changes.
import { expect, test } from 'vitest'
import { openFixture, parseFixture, ROOT } from '../support/fixture.ts'

const FIXTURE = parseFixture(`#- a.media.yaml
profile: a
stock: film
printer: bay-1
heat: {platen: 42 °C}
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 50 µm
max-web-temperature: 90 °C
#- bay-1.printer.yaml
printer: bay-1
heaters: {platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}}
`)

const codes = (of: readonly { readonly code: string }[]): readonly string[] => of.map(({ code }) => code)

test('rests with its text, and says the same when it is asked again', async () => {
  const analysis = await openFixture(FIXTURE)
  const before = analysis.findings(FIXTURE.file)
  const hover = analysis.hover(FIXTURE.file, FIXTURE.text.indexOf('platen'))
  const context = analysis.context(FIXTURE.file)
  analysis.rest(FIXTURE.file)
  const document = analysis.workspace.document(FIXTURE.file)!
  expect(document.wasParsed).toBe(false)
  // What was published of it still holds.
  expect(analysis.current(FIXTURE.file)).toBe(context)
  expect(document.wasParsed).toBe(false)
  expect(analysis.findings(FIXTURE.file)).toEqual(before.map((finding) => expect.objectContaining({ message: finding.message })))
  expect(analysis.hover(FIXTURE.file, FIXTURE.text.indexOf('platen'))).toEqual(hover)
})

test('is judged again where what it rests on changes', async () => {
  const analysis = await openFixture(FIXTURE)
  expect(codes(analysis.findings(FIXTURE.file))).not.toContain('web-near-limit')
  analysis.rest(FIXTURE.file)
  const stock = `${ROOT}film.stock.yaml`
  analysis.workspace.update(stock, FIXTURE.files.get(stock)!.replace('90 °C', '40 °C'))
  expect(analysis.current(FIXTURE.file)).toBeUndefined()
  expect(codes(analysis.findings(FIXTURE.file))).toContain('web-near-limit')
})
