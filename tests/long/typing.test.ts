// Typing a document leaves that document: every line of every sample, key by key, where Enter makes a line and where it takes the first of a list.
import { expect, test } from 'vitest'
import { replay } from '../support/replay.ts'
import { told } from './told.ts'

/** A number without its unit is no whole value: there Enter takes the unit, where a person lets it, and the mistake does not come about. */
const MENDED = 'broken/missing-unit.media.yaml'

for (const folder of ['saltmarsh', 'tern-quay', 'broken'])
  for (const enter of ['makes a line', 'takes the first'] as const)
    test(`the samples of ${folder}, where Enter ${enter}`, async () => {
      const { otherwise, documents, keys, asked } = await replay({
        folder,
        enter,
        isWanted: ({ name }) => enter === 'makes a line' || name !== MENDED,
      })
      told(
        `${documents} samples of ${folder} typed where Enter ${enter}: ${keys} keys, ${asked} lists asked for, ${otherwise.length} otherwise`,
      )
      expect(otherwise).toEqual([])
    })
