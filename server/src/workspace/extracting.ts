// The profiles that a base is made of: those that print the same stock, or on the same printer, as the one at hand and are based on nothing yet.
import { startOfLine } from '../base/lines.ts'
import { type CommonBase, commonBase, isWhole } from '../features/common-base.ts'
import type { Action } from '../features/context.ts'
import type { RollDocument } from '../model/document.ts'
import { type Facts, isOutOfUse } from '../model/facts.ts'
import type { Shelf } from '../model/shelf.ts'
import type { Analysis } from './analysis.ts'
import { folderOf } from './folders.ts'
import { freeId } from './free-id.ts'

/** Where more profiles than these are alike, they are not one thing: all of them are read for it. */
const MOST = 60

/** On the line of a profile's name: what it has in common with others, as a base, by stock, by printer and by both. */
export async function extractBases(analysis: Analysis, file: string, { start }: { start: number }): Promise<readonly Action[]> {
  const { workspace } = analysis
  const context = analysis.context(file)
  const own = [...(context?.shelf.all('media') ?? [])].find((facts) => facts.file === file)?.values
  if (!context || !own?.profile || !own.stock || !own.printer) return []
  const { text } = context.document
  if (startOfLine(text, start) !== startOfLine(text, own.profile.start)) return []
  await workspace.settled()
  const { shelf, today } = context
  const found = new Map<string, Action>()
  for (const keys of [['stock', 'printer'], ['stock'], ['printer']] as const) {
    const alike = (facts: Facts): boolean =>
      facts.file !== file &&
      !facts.values.base &&
      !isOutOfUse(facts, today) &&
      keys.every((key) => facts.values[key]?.text === own[key]!.text)
    const others = [...shelf.all('media')].filter(alike)
    const which = others.map((one) => one.file).join()
    if (others.length === 0 || others.length >= MOST || found.has(which)) continue
    const documents: RollDocument<'media'>[] = []
    for (const at of [file, ...others.map((one) => one.file)]) {
      const document = (await workspace.load(at)) as RollDocument<'media'> | undefined
      if (document && isWhole(document)) documents.push(document)
    }
    if (documents[0]?.file !== file || documents.length < 2) continue
    const name = keys.map((key) => own[key]!.text).join('-')
    const action = actionOf(documents, name, shelf)
    if (action) found.set(which, action)
  }
  return [...found.values()]
}

function actionOf(documents: readonly RollDocument<'media'>[], name: string, shelf: Shelf): Action | undefined {
  const [first] = documents
  const folder = folderOf(first!.file)
  const id = freeId(shelf, [`${name}-base`])
  // A path to a colour file counts from the document that it stands in.
  const isTogether = documents.every(({ file }) => folderOf(file) === folder)
  const base: CommonBase | undefined = commonBase(documents, id, isTogether ? undefined : /^(?:feed|colour)\./)
  if (!base) return undefined
  const [[, edits = []] = [], ...others] = base.edits
  return {
    title: `Put ${base.count} settings that ${documents.length} profiles share into a base, ${id}`,
    kind: 'extract',
    file: first!.file,
    edits,
    others: new Map(others.map(([{ file }, own]) => [file, own])),
    makes: { file: `${folder}${id}.media.yaml`, text: base.text },
  }
}
