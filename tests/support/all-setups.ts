// Setups of every sort there is: all profiles of the sample shop and of the broken samples, and those of the rules' examples.
import type { Setup } from '../../server/src/model/setup.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { sampleSetups } from '../../server/tools/samples.ts'
import { some } from './counts.ts'
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

/** With a number, a seeded part of them: what is left out is not even read. */
export async function allSetups(part = 1): Promise<readonly Setup[]> {
  const shops = await Promise.all(['tern-quay', 'broken'].map(sampleSetups))
  const examples = RULES.filter(({ kinds }) => kinds.includes('media')).flatMap((rule) => rule.examples)
  const ofExamples = await Promise.all(
    some([...examples.map(({ text }) => text), ...OTHERS], part).map(async (text) => {
      const fixture = parseFixture(text)
      const { workspace } = await openFixture(fixture)
      const document = workspace.document(fixture.file)
      return document && workspace.setup(document)
    }),
  )
  return [...some(shops.flat(), part), ...ofExamples.filter((setup) => setup !== undefined)]
}
