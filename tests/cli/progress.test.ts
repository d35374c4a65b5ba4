// What a person sees while long work goes on: nothing for two seconds, then one line that is written over and taken away.
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { Progress } from '../../server/src/cli/progress.ts'

let now = 0
beforeEach(() => {
  now = 1000
  vi.spyOn(performance, 'now').mockImplementation(() => now)
})
afterEach(() => vi.restoreAllMocks())

function watched(isWatched: boolean): { readonly told: string[]; readonly progress: Progress } {
  const told: string[] = []
  return { told, progress: new Progress({ isWatched, err: (text) => told.push(text) }, 300) }
}

test('after two seconds, five times a second, and gone in the end', () => {
  const { told, progress } = watched(true)
  for (let done = 1; done <= 300; done++) {
    progress.tell(done)
    now += 10
  }
  progress.clear()
  progress.clear()
  expect(told).toEqual([201, 221, 241, 261, 281].map((done) => `\r\u001b[K${done} of 300 documents checked`).concat('\r\u001b[K'))
})

test('nothing where nobody looks, and nothing of short work', () => {
  const { told, progress } = watched(false)
  now += 10_000
  progress.tell(5)
  progress.clear()
  expect(told).toEqual([])
  const short = watched(true)
  now += 1999
  short.progress.tell(5)
  short.progress.clear()
  expect(short.told).toEqual([])
})
