// No feature throws on any text, whatever it answers lies inside the text, and every edit that is offered is safe and does what it says.
import fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { runs } from '../support/counts.ts'
import { edited, randomEdit, type Sample, samples } from '../support/texts.ts'
import { askEverything, type Bench, faultOf, openBench } from './shop.ts'

let bench: Bench
beforeAll(async () => {
  bench = await openBench()
})

const fraction = fc.double({ min: 0, max: 1, noNaN: true })
const sample = fc.constantFrom(...samples())

async function asked({ name }: Sample, text: string, at: number): Promise<void> {
  const file = await bench.put(name, text)
  const offset = Math.floor(at * text.length)
  askEverything(bench, file, offset)
  // What reads closed documents: nothing throws, and what is renamed is a name of the text.
  const found = await bench.analysis.references(file, offset, true)
  const renaming = await bench.analysis.rename(file, offset, 'another-name')
  for (const [{ text }, edits] of renaming?.ok ? renaming.edits : []) applyEdits(text, editsOf(text, edits))
  for (const { file: other, span } of found)
    if (other === file && !(0 <= span.start && span.end <= text.length)) throw new Error('a reference outside the text')
  await bench.workspace.close(file)
}

/** Every action of a text that is not as it should be. */
async function faults({ name }: Sample, text: string): Promise<readonly string[]> {
  const file = await bench.put(name, text)
  const several = bench.workspace.document(file)!.tree.problems.length > 1
  const found: string[] = []
  for (const action of bench.analysis.actions(file, { start: 0, end: text.length })) {
    const fault = await faultOf(bench, file, action)
    // Of several mistakes in one text the next may be told in the same words.
    const stays = fault?.startsWith('leaves its finding') && action.code === 'syntax' && several
    if (fault && !stays) found.push(`${name}, '${action.title}' (${action.code ?? action.kind}): ${fault}`)
  }
  await bench.workspace.close(file)
  return found
}

describe('whatever is asked is answered', () => {
  test('on every prefix of every sample', () =>
    fc.assert(
      fc.asyncProperty(sample, fraction, fraction, (s, length, at) =>
        asked(s, s.text.slice(0, Math.floor(length * s.text.length)), at),
      ),
      { numRuns: runs(400) },
    ))

  test('on every sample after random edits', () =>
    fc.assert(
      fc.asyncProperty(sample, fc.array(randomEdit, { minLength: 1, maxLength: 4 }), fraction, (s, edits, at) =>
        asked(s, edits.reduce(edited, s.text), at),
      ),
      { numRuns: runs(400) },
    ))
})

describe('every edit that is offered lies in its document, parts from the others, breaks nothing and mends its finding', () => {
  test('in every sample', async () => {
    const found: string[] = []
    for (const one of samples()) found.push(...(await faults(one, one.text)))
    expect(found).toEqual([])
  })

  test('in samples after random edits', () =>
    fc.assert(
      fc.asyncProperty(sample, randomEdit, randomEdit, async (s, one, two) => {
        expect(await faults(s, edited(edited(s.text, one), two))).toEqual([])
      }),
      { numRuns: runs(250) },
    ))
})
