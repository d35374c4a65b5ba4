// What a person who asks for an explanation most likely means: the findings under the cursor, then the word and the setting it stands on.
import { explainFamily, explainFault } from '../schema/explain.ts'
import { schemaAt } from '../schema/schema.ts'
import { locate } from '../syntax/locate.ts'
import type { FeatureContext } from './context.ts'

/** Topics as `explainTopic` takes them, the likeliest first. */
export function topicsAt({ document, findings }: FeatureContext, offset: number): readonly string[] {
  const codes = findings()
    .filter(({ file, span }) => file === document.file && span.start <= offset && offset <= span.end)
    .map(({ code }) => code)
  const at = locate(document.tree.root, offset)
  const schema = at && schemaAt(document.kind, at.path)
  const word = at?.on !== 'key' && at?.node.kind === 'scalar' ? at.node.text : ''
  const named = explainFault(word) || explainFamily(word) ? [word] : []
  const setting = schema && schema.path !== '' ? [`${document.kind}:${schema.path}`] : []
  return [...new Set([...codes, ...named, ...setting])]
}
