// Quantities as a whole: recorded and not they are the same, none waits for itself, and one that fails is lost alone.
import { afterEach, expect, test, vi } from 'vitest'
import { QUANTITIES } from '../../server/src/areas/generated/quantities.ts'
import type { Quantity } from '../../server/src/areas/quantity.ts'
import { reckon } from '../../server/src/areas/reckon.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { profileOf, sampleWorkspace } from '../../server/tools/samples.ts'
import { allSetups } from '../support/all-setups.ts'

afterEach(() => void vi.restoreAllMocks())

test.each(['tern-quay', 'broken'])('of %s are the same whether reads are recorded or not', async (shop) => {
  const { workspace, files } = await sampleWorkspace(shop)
  const analysis = new Analysis(workspace, true)
  let count = 0
  for (const file of files) {
    const plain = workspace.setup(await profileOf(workspace, file))
    const recorded = analysis.context(file)!.setup
    // A circle among them would throw here.
    const failed = vi.fn()
    if (plain) expect(reckon(recorded!, failed), file).toEqual(reckon(plain, failed))
    expect(failed).not.toHaveBeenCalled()
    count += plain ? 1 : 0
  }
  expect(count).toBeGreaterThan(10)
})

test('one whose definition throws is lost alone, and its failure is handed on', async () => {
  const { workspace, files } = await sampleWorkspace('tern-quay')
  const setup = workspace.setup(workspace.document(files[0]!)!)!
  const before = reckon(setup)
  const all = QUANTITIES.flat().filter((one): one is Quantity => typeof one !== 'function')
  const broken = all.find(({ key }) => key === 'drying.margin')!
  vi.spyOn(broken, 'value').mockImplementation(() => {
    throw new Error('out of order')
  })
  const failed = vi.fn()
  const now = reckon(setup, failed)
  expect(failed.mock.calls.map(([key, error]) => [key, (error as Error).message])).toEqual([['drying.margin', 'out of order']])
  expect(now.filter(({ key }) => key !== 'drying.margin')).toEqual(before.filter(({ key }) => key !== 'drying.margin'))
  expect(now.find(({ key }) => key === 'drying.margin')).toMatchObject({
    value: undefined,
    problem: { reason: 'it failed inside Rollbook, and nothing is known of it' },
  })
})

test('one that is not known names the key to fill in or to mend', async () => {
  const nameless = (await allSetups(4))
    .flatMap((setup) => reckon(setup))
    .filter(({ value, problem }) => value === undefined && problem?.input === undefined)
  expect([...new Set(nameless.map(({ key, problem }) => `${key}: ${problem?.reason}`))]).toEqual([])
})

test('keys are one each', async () => {
  const { workspace, files } = await sampleWorkspace('tern-quay')
  for (const file of files) {
    const keys = reckon(workspace.setup(workspace.document(file)!)!).map(({ key }) => key)
    expect(new Set(keys).size, file).toBe(keys.length)
  }
})
