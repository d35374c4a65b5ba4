// Every place in a shop that is called by one name, in open documents and in closed ones. The index says which documents may hold it; their
// texts are read for it and let go again.
import { lastPart } from '../base/uri.ts'
import { doubtOf, givesItself, ownerInState, type Subject, type Use, type Uses } from '../features/rename.ts'
import { LiveDocument, type RollDocument } from '../model/document.ts'
import type { Facts } from '../model/facts.ts'
import { type Mention, mentionsIn, NAME_WORDS, OWNER } from '../model/names.ts'
import type { Shelf } from '../model/shelf.ts'
import { inherited } from '../report/start/pairing.ts'
import { schemaAt } from '../schema/schema.ts'
import type { Workspace } from './workspace.ts'

export async function usesOf(workspace: Workspace, file: string, subject: Subject): Promise<Uses> {
  await workspace.settled()
  const shelf = workspace.shelf(file)
  const search = new Search(shelf, subject, file)
  const giving = search.giving()
  const calling = search.calling()
  const heirs = calling.flatMap((facts) => search.heirsOf(facts))
  const texts = await workspace.texts([...giving, ...calling, ...heirs].map((facts) => facts.file))
  const read = new Map<string, LiveDocument>()
  const documentOf = (facts: Facts): LiveDocument | undefined => {
    const text = texts.get(facts.file)
    const known = read.get(facts.file) ?? workspace.document(facts.file)
    if (text === undefined) return undefined
    const document = known?.text === text ? known : new LiveDocument(facts.file, facts.kind, text)
    read.set(facts.file, document)
    return document
  }
  const givers = giving.flatMap((facts) => documentOf(facts) ?? [])
  const all: Use[] = []
  let doubt = unreadDoubt(workspace, file)
  for (const facts of new Set([...giving, ...calling])) {
    if (!texts.get(facts.file)?.includes(subject.name)) continue
    const document = documentOf(facts)!
    doubt ??= doubtOf(document)
    for (const mention of mentionsIn(document.kind, document.tree.root, subject)) {
      const means =
        mention.role === 'gives' || OWNER[subject.of] === undefined || OWNER[subject.of] === facts.kind
          ? 'this'
          : search.meaning(facts, mention, document, documentOf)
      if (means === 'another') continue
      if (means !== 'this') doubt ??= means.doubt
      all.push({ document, mention })
    }
    // What was read for this alone is let go: thousands of trees would be moved about in memory again and again.
    if (document !== workspace.document(facts.file)) document.rest()
  }
  return { all, givers, doubt }
}

/** What cannot be read may be called by the name as well. */
function unreadDoubt(workspace: Workspace, file: string): string | undefined {
  const [unread] = workspace.unread(file)
  return (
    unread &&
    `${lastPart(unread.place.replace(/\/$/, ''))} cannot be read (${unread.reason}), so not every place that names it is known.`
  )
}

class Search {
  private heirs: Map<string, Facts[]> | undefined

  constructor(
    private readonly shelf: Shelf,
    private readonly subject: Subject,
    private readonly file: string,
  ) {}

  /** The documents that give a name of this kind, to this owner's things. */
  giving(): readonly Facts[] {
    const { of, name, owner } = this.subject
    if (of === 'instrument') return [...this.shelf.all('shop')]
    if (of === 'state') return this.itself()
    if (of === 'media' || of === 'stock' || of === 'printer') return this.shelf.withId(of, name)
    return owner === undefined ? [] : this.shelf.withId(OWNER[of]!, owner)
  }

  /** The profiles that may be called by it. */
  calling(): readonly Facts[] {
    const { of, name, owner } = this.subject
    const all = [...this.shelf.all('media')]
    if (of === 'state') return this.itself()
    if (of === 'media') return all.filter(({ values }) => values.base?.text === name)
    if (of === 'lot' || of === 'channel') return owner === undefined ? [] : all.filter((facts) => this.ownersOf(facts).has(owner))
    // Every profile may name it in a state that it was in, whatever it prints on now.
    return all
  }

  /** A state is of the one profile that it stands in. */
  private itself(): readonly Facts[] {
    return [...this.shelf.all('media')].filter(({ file }) => file === this.file)
  }

  /** The printers or stocks that a profile is for: its own, and those of the profiles that are based on it. */
  private ownersOf(facts: Facts): ReadonlySet<string> {
    const owners = [facts, ...this.heirsOf(facts)].map((one) => this.ownerOf(one))
    return new Set(owners.filter((owner) => owner !== undefined))
  }

  private ownerOf(facts: Facts): string | undefined {
    const kind = OWNER[this.subject.of]
    return kind && inherited(this.shelf, facts, kind)
  }

  /** The profiles that are based on one, directly or through others. */
  heirsOf(facts: Facts): readonly Facts[] {
    if (OWNER[this.subject.of] === undefined) return []
    this.heirs ??= byBase(this.shelf.all('media'))
    const found = new Set<Facts>()
    const waiting = [facts]
    for (let at = waiting.pop(); at; at = waiting.pop())
      for (const heir of this.heirs.get(at.values.profile?.text ?? '') ?? [])
        if (heir !== facts && !found.has(heir)) {
          found.add(heir)
          waiting.push(heir)
        }
    return [...found]
  }

  /** Whether a name in a profile is one of this owner's things. One that others inherit may be that of several. */
  meaning(
    facts: Facts,
    { path }: Mention,
    document: RollDocument,
    documentOf: (facts: Facts) => RollDocument | undefined,
  ): 'this' | 'another' | { readonly doubt: string } {
    const { of, name, owner } = this.subject
    if (path[0] === 'conditions') return ownerInState(document, path, OWNER[of]!) === owner ? 'this' : 'another'
    const owners = new Set([this.ownerOf(facts)])
    if (schemaAt('media', path)?.inherit)
      for (const heir of this.heirsOf(facts)) if (!givesItself(documentOf(heir), path)) owners.add(this.ownerOf(heir))
    owners.delete(undefined)
    if (!owners.has(owner)) return 'another'
    if (owners.size === 1) return 'this'
    const doubt = `${lastPart(facts.file)} gives '${name}' to profiles on ${[...owners].sort().join(' and ')}, so it is the ${NAME_WORDS[of]} of each of them.`
    return { doubt }
  }
}

function byBase(profiles: Iterable<Facts>): Map<string, Facts[]> {
  const heirs = new Map<string, Facts[]>()
  for (const facts of profiles) {
    const base = facts.values.base?.text
    if (base !== undefined) heirs.set(base, [...(heirs.get(base) ?? []), facts])
  }
  return heirs
}
