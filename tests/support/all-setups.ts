// Setups of every sort there is: all profiles of the sample shop and of the broken samples, and those of the rules' examples.
import type { Setup } from '../../server/src/model/setup.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { sampleSetups } from '../../server/tools/samples.ts'
import { openFixture, parseFixture } from './fixture.ts'

/** What neither has. */
const OTHERS: readonly string[] = [
  // An ink that light sets: none of it evaporates, whatever else is not known.
  `#- e.media.yaml
profile: e
printer: p
mode: m
#- p.printer.yaml
printer: p
ink: {base: uv}
modes:
  m: {resolution: 720 x 360 dpi, passes: 4}
`,
]

export async function allSetups(): Promise<readonly Setup[]> {
  const shops = await Promise.all(['tern-quay', 'broken'].map(sampleSetups))
  const examples = RULES.filter(({ kinds }) => kinds.includes('media')).flatMap((rule) => rule.examples)
  const ofExamples = await Promise.all(
    [...examples.map(({ text }) => text), ...OTHERS].map(async (text) => {
      const fixture = parseFixture(text)
      const { workspace } = await openFixture(fixture)
      const document = workspace.document(fixture.file)
      return document && workspace.setup(document)
    }),
  )
  return [...shops.flat(), ...ofExamples.filter((setup) => setup !== undefined)]
}
