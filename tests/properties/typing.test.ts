// A person types every document of the sample shop, key by key, in an editor that opens the list at every key it may and takes its first
// item on Enter: the worst there is. What is a whole line stays as it was typed, and so does every number.
import { expect, test } from 'vitest'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import type { Completion } from '../../server/src/features/context.ts'
import { runs, some } from '../support/counts.ts'
import { samples } from '../support/texts.ts'
import { type Bench, openBench } from './shop.ts'

test('no list takes Enter or a digit from whoever types', async () => {
  const bench = await openBench()
  const taken: string[] = []
  let asked = 0
  for (const { name, text } of some(
    samples().filter(({ name }) => name.startsWith('tern-quay/')),
    4,
  )) {
    for (let at = 1; at <= text.length; at++) {
      const line = text.slice(text.lastIndexOf('\n', at - 1) + 1, at)
      const isWhole = at === text.length || text[at] === '\n'
      // A list opens behind a word or a space, and may stay open behind a sign; a colon, a comma or a bracket calls for none.
      if (!(isWhole ? /[^:,{}[\]]$/ : /\d$/).test(line)) continue
      const typed = text.slice(0, at)
      asked++
      for (const item of await offered(bench, name, typed, isWhole)) {
        const after = applyEdits(typed, [item.edit])
        if (isWhole ? after !== typed : !keepsNumber(typed, item)) taken.push(`${name}: ${line}⏎ gives ${item.edit.newText}`)
      }
    }
  }
  expect(taken).toEqual([])
  expect(asked).toBeGreaterThan(runs(4000))
})

/** What is offered at the end of a text: the list's first item, or all that a person may step to. */
async function offered({ put, analysis }: Bench, name: string, text: string, first: boolean): Promise<readonly Completion[]> {
  const file = await put(name, text)
  const items = analysis
    .completions(file, text.length)
    .filter(({ edit, filter, label }) => matches(text.slice(edit.start), filter ?? label))
    .sort((a, b) => ((a.sort ?? a.label) < (b.sort ?? b.label) ? -1 : 1))
  return first ? items.slice(0, 1) : items
}

/** Whether an editor shows an item for what is typed: most take the letters in their order, wherever they stand. */
function matches(typed: string, label: string): boolean {
  const letters = [...typed.trim().toLowerCase()].map((letter) => letter.replace(/\W/, '\\$&'))
  return new RegExp(letters.join('.*'), 's').test(label.toLowerCase())
}

/** Whether the number before the cursor is what an item would write, or the item only names what exists. */
function keepsNumber(text: string, { edit, kind }: Completion): boolean {
  const typed = text.slice(edit.start)
  return (
    !/^[-+]?\d/.test(typed) ||
    kind === 'key' ||
    edit.newText.trim() === typed ||
    (Number.parseFloat(edit.newText) === Number.parseFloat(typed) && kind !== 'date')
  )
}
