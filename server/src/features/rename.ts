// Renames whatever has a name of the shop's own, wherever it is called by that name. All places are edited or none: a name that is changed in
// some of them only would be worse than an old one.
import type { Span } from '../base/span.ts'
import type { TextEdit } from '../base/text-edit.ts'
import { isUnsaved, lastPart } from '../base/uri.ts'
import type { RollDocument } from '../model/document.ts'
import { type Edit, replaceKey, replaceValue } from '../model/edit.ts'
import { type Mention, mentionsIn, NAME_WORDS, type NameKind, namingAt, OWNER } from '../model/names.ts'
import { isLevelName } from '../model/read.ts'
import { isMadeName } from '../model/states.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { isId } from '../schema/structure.ts'
import { locate } from '../syntax/locate.ts'
import { nodeAt, resolveAlias } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'
import { restated } from './restate.ts'

/** What the name under a cursor stands for. */
export interface Subject {
  readonly of: NameKind
  readonly name: string
  /** The id of the printer or stock whose name it is; undefined for the shop's own, and where a profile does not say which one it means. */
  readonly owner: string | undefined
  /** The name alone, without its quotes. */
  readonly span: Span
}

/** A name where it is used, in its document. */
export interface Use {
  readonly document: RollDocument
  readonly mention: Mention
}

/** Every place that is called by one name. */
export interface Uses {
  readonly all: readonly Use[]
  /** The documents that may give such names: their own other names must not be taken. */
  readonly givers: readonly RollDocument[]
  /** Why some place may have been missed, or may mean something else as well; in words for a person. */
  readonly doubt: string | undefined
}

export type Renaming =
  | { readonly ok: true; readonly edits: ReadonlyMap<RollDocument, readonly TextEdit[]>; readonly file: FileRenaming | undefined }
  | { readonly ok: false; readonly refused: string }

/** A document that is named as its file is. */
export interface FileRenaming {
  readonly from: string
  readonly to: string
}

export function subjectAt({ document, setup }: FeatureContext, offset: number): Subject | undefined {
  const at = locate(document.tree.root, offset)
  const node = resolveAlias(at?.node)
  if (!at || node?.kind !== 'scalar') return undefined
  const naming = namingAt(document.kind, at.path, at.on, node.text)
  if (!naming || node.text === '') return undefined
  const of = OWNER[naming.of]
  const own = of === document.kind ? (document as RollDocument<'stock' | 'printer'>).content?.[of as never] : undefined
  const owner = of && ((own ?? setup?.profile[of]) as { value: string } | undefined)?.value
  const quoted = at.node.kind === 'scalar' && (at.node.style === 'single' || at.node.style === 'double') ? 1 : 0
  const span = { start: at.node.start + quoted, end: at.node.end - quoted }
  return { of: naming.of, name: node.text, owner, span }
}

/** Why a name cannot be renamed at all, as far as the document tells that it stands in. */
export function unnameable({ document }: FeatureContext, subject: Subject): string | undefined {
  const { of, owner, name } = subject
  const kind = OWNER[of]
  if (kind && owner === undefined)
    return `This document names no ${kind}, so whose ${NAME_WORDS[of]} '${name}' is cannot be told.`
  return doubtOf(document)
}

/** A text with mistakes may hold a name where none is seen. */
export function doubtOf({ tree, file }: RollDocument): string | undefined {
  if (tree.conflicts.length > 0) return `There is an open conflict in ${lastPart(file)}: settle it first.`
  return tree.problems.length > 0
    ? `The text of ${lastPart(file)} has mistakes, so not every name in it is seen: mend it first.`
    : undefined
}

/** Whether a profile has a setting of its own where it could take that of its base. */
export const givesItself = (document: RollDocument | undefined, path: Mention['path']): boolean =>
  nodeAt(document?.tree.root, path) !== undefined

/** The printer or stock that a state names beside one of its values. */
export function ownerInState({ tree }: RollDocument, path: Mention['path'], kind: 'stock' | 'printer'): string | undefined {
  const node = resolveAlias(nodeAt(tree.root, [...path.slice(0, 2), kind]))
  return node?.kind === 'scalar' ? node.text : undefined
}

/** All edits that give a thing another name. */
export function renameAll(context: FeatureContext, subject: Subject, name: string, uses: Uses): Renaming {
  const refused =
    badName(subject, name) ?? uses.doubt ?? ungiven(subject, uses) ?? named(subject, uses) ?? taken(context, subject, name, uses)
  if (refused !== undefined) return { ok: false, refused }
  const edits = new Map<RollDocument, TextEdit[]>()
  if (name === subject.name) return { ok: true, edits, file: undefined }
  for (const { document, mention } of uses.all) {
    const edit = editOf(document, mention, name)
    if (!edit.ok) return { ok: false, refused: `In ${lastPart(document.file)}: ${edit.refused}` }
    edits.set(document, [...(edits.get(document) ?? []), ...edit.edits])
  }
  // What no state says anew keeps each of them its name.
  const stating = new Set(uses.all.filter(({ mention }) => mention.path[0] === 'conditions').map(({ document }) => document))
  for (const [document, made] of [...edits]) {
    const others = subject.of === 'state' || !stating.has(document) ? undefined : restated(context, document, made)
    if (others?.ok === false) return { ok: false, refused: others.refused }
    for (const [{ mention }, now] of others?.uses ?? []) {
      const edit = editOf(document, mention, now)
      if (!edit.ok) return { ok: false, refused: `In ${lastPart(document.file)}: ${edit.refused}` }
      edits.set(document, [...edits.get(document)!, ...edit.edits])
    }
  }
  return { ok: true, edits, file: fileRenaming(subject.of, subject.name, name, uses.givers) }
}

function editOf(document: RollDocument, { on, node, aliased, path }: Mention, name: string): Edit {
  if (on === 'value') return replaceValue({ file: document.file, node, aliased }, name)
  if (node.kind === 'alias' || aliased || node.shared)
    return {
      ok: false,
      refused: `'${node.kind === 'scalar' ? node.text : node.name}' is shared through an anchor (&) and an alias (*). Write it out first.`,
    }
  const table = resolveAlias(nodeAt(document.tree.root, path.slice(0, -1)))
  if (table?.kind === 'map' && table.pair(name)) return { ok: false, refused: `'${name}' stands beside '${node.text}' already.` }
  return replaceKey(node, name)
}

/** Why a text can be no such name. */
function badName({ of, name: was }: Subject, name: string): string | undefined {
  const word = NAME_WORDS[of]
  if (isLevel(of) && /^\d/.test(was))
    return /^(?:0|[1-9]\d{0,4})$/.test(name) ? undefined : `'${name}' is no ${word}: a whole number is.`
  if (of === 'lot')
    return /^\S(?:[^\p{C}]*\S)?$/u.test(name) && name.length <= 200
      ? undefined
      : `'${name}' is no ${word}: a few words or a number are.`
  if (of === 'state' && isMadeName(name))
    return `'${name}' looks like a name that the tool makes of what a state says: a name of your own is made of words.`
  return (isLevel(of) ? isLevelName : isId)(name)
    ? undefined
    : `'${name}' is no name for a ${word}: lower-case words joined by hyphens are.`
}

const isLevel = (of: NameKind): boolean => of === 'suction-level' || of === 'tension-level'

/** The name of a level stands for its number in states as well, whose own names are made of the number. */
function named({ of, name }: Subject, { all }: Uses): string | undefined {
  const use = isLevel(of) && all.find(({ document, mention }) => document.kind === 'printer' && mention.role === 'calls')
  return use
    ? `The ${NAME_WORDS[of]} ${name} is called '${use.mention.path.at(-1)}', and states may give it so: take that name out first.`
    : undefined
}

function ungiven({ of, name, owner }: Subject, { all }: Uses): string | undefined {
  const givers = all.filter(({ mention }) => mention.role === 'gives')
  if (givers.length === 1) return undefined
  const what = `the ${NAME_WORDS[of]} '${name}'`
  if (givers.length === 0 && of === 'state') return `This profile has no state '${name}', so there is nothing to rename.`
  if (givers.length === 0)
    return `Nothing in this shop is ${what}${owner === undefined ? '' : ` of ${owner}`}, so there is nothing to rename.`
  const files = [...new Set(givers.map(({ document }) => lastPart(document.file)))]
  return files.length === 1
    ? `${files[0]} gives ${what} twice: give one of them a name of its own by hand first.`
    : `${files.join(' and ')} are both ${what}: give one of them a name of its own by hand first.`
}

/** Whether another thing of the kind has the new name, or another file the new file's. */
function taken({ shelf }: FeatureContext, { of, name }: Subject, wanted: string, { givers }: Uses): string | undefined {
  if (wanted === name) return undefined
  if (!isDocument(of)) {
    const other = givers.find(({ kind, tree }) =>
      mentionsIn(kind, tree.root).some((m) => m.of === of && m.role === 'gives' && m.name === wanted),
    )
    return other && `${lastPart(other.file)} has the ${NAME_WORDS[of]} '${wanted}' already.`
  }
  const [other] = shelf.withId(of, wanted)
  if (other) return `${lastPart(other.file)} is the ${NAME_WORDS[of]} '${wanted}' already.`
  const to = fileRenaming(of, name, wanted, givers)?.to
  return to !== undefined && [...shelf.all(of)].some(({ file }) => file === to)
    ? `There is a file ${lastPart(to)} already.`
    : undefined
}

const isDocument = (of: NameKind): of is DocumentKind & NameKind => of === 'media' || of === 'stock' || of === 'printer'

/** A file that is named as its document is goes on to be so. */
function fileRenaming(of: NameKind, name: string, wanted: string, givers: readonly RollDocument[]): FileRenaming | undefined {
  const [giver] = givers
  if (!isDocument(of) || giver?.baseName !== name || isUnsaved(giver.file)) return undefined
  const from = giver.file
  const folder = from.slice(0, from.length - lastPart(from).length)
  return { from, to: `${folder}${wanted}${lastPart(from).slice(name.length)}` }
}
