// What is mended without asking: how a text is written, all over a document, and nothing that it says.
import { expect, test } from 'vitest'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import { saysTheSame } from '../../server/src/features/fix-all.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'

async function mended(source: string): Promise<{ title: string | undefined; before: string; after: string; file: string }> {
  const { file, text } = parseFixture(source)
  const all = (await openFixture(parseFixture(source))).fixAll(file)
  return { title: all?.title, before: text, after: applyEdits(text, all?.edits ?? []), file }
}

const FORM = RULES.flatMap(({ code, examples }) =>
  examples.flatMap(({ name, text, fixes }) =>
    fixes?.some((fix) => fix.includes('[form]') && fix.includes('[preferred]')) ? [{ code, name, text }] : [],
  ),
)

test.each(FORM)('$code, $name: mended, and it says what it said', async ({ text }) => {
  const { title, before, after, file } = await mended(text)
  expect(title).toMatch(/^Mend the form of the text: /)
  expect(after).not.toBe(before)
  expect(saysTheSame(kindOfFile(file)!, before, after)).toBe(true)
})

test.each(['profile: example\ngap: 1.5 mm\n', 'profile: example\ngap: 1.5\nfeed: { correction: 0.12 }\n'])(
  "%j: a unit that is missing is a person's to say, and nothing is offered",
  async (text) => {
    expect(await mended(text)).toMatchObject({ title: undefined, after: text })
  },
)
