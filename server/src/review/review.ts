// Two versions of a shop compared by what they mean for a print: one change set for every face. Reads the documents that changed and those that rest on
// them, and no others; everything is judged as on one day.
import { STANDINGS } from '../areas/generated/standings.ts'
import type { Host } from '../host/host.ts'
import type { RollDocument } from '../model/document.ts'
import { type Facts, ID_KEY } from '../model/facts.ts'
import { lackingOf, lackingText } from '../model/lacking.ts'
import { calledLevelsByNode } from '../model/level-names.ts'
import { settingAt } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import { documentName } from '../rules/support/fingerprint.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { affectedBy } from '../workspace/dependents.ts'
import { Workspace } from '../workspace/workspace.ts'
import type {
  Cause,
  Change,
  ChangeSet,
  DocumentChange,
  DocumentRef,
  KeyIn,
  ProfileReview,
  Standing,
  ToldFinding,
  Word,
} from './change-set.ts'
import { type Difference, differenceOf } from './diff.ts'
import { consequencesOf, type Version } from './follow.ts'
import { inheritedOf, type Origin } from './inherited.ts'
import { keyInOf } from './key-in.ts'
import { byLevel } from './levels.ts'
import { realText, statesMoved } from './states.ts'
import { courseOf, findingsIn } from './told-findings.ts'

/** One version of a shop: its documents below a folder. */
export interface Side {
  /** What a person calls it: 'main', 'the work tree'. */
  readonly name: string
  /** The folder, ending in '/'. */
  readonly root: string
  readonly analysis: Analysis
  /** What failed inside while it was judged, a sentence each. */
  readonly failures: string[]
}

/** Another version of the same folder, and the files that differ from it, so that nothing is read of both. */
export interface Like {
  readonly side: Side
  readonly differing: ReadonlySet<string>
  /** Whether nobody types in the other version: then documents that are the same are parsed once. */
  readonly stands?: true
}

/** Indexes the documents below a folder of a host. Of files that are `unmerged` git waits for somebody to settle a merge. */
export async function sideOf(
  name: string,
  host: Host,
  root: string,
  like?: Like,
  unmerged: readonly string[] = [],
): Promise<Side> {
  const workspace = new Workspace(host)
  for (const file of unmerged) workspace.unmerged.add(file)
  if (like?.stands)
    workspace.same = (file) => (like.differing.has(file) ? undefined : like.side.analysis.workspace.document(file))
  await workspace.addFolder(root, like && sameFacts(like))
  const failures: string[] = []
  const failed = (file: string, code: string, error: unknown): void => {
    failures.push(`${pathIn(root, file)} is not judged by the rule ${code}, which failed inside Rollbook: ${messageOf(error)}`)
  }
  return { name, root, analysis: new Analysis(workspace, false, failed, 'once'), failures }
}

function sameFacts({ side, differing }: Like): ReadonlyMap<string, Facts> {
  const { workspace } = side.analysis
  const unread = new Set(workspace.unread().map(({ place }) => place))
  const same = workspace.everything().filter(({ file }) => !differing.has(file) && !unread.has(file))
  return new Map(same.map((facts) => [facts.file, facts]))
}

export interface Compared {
  readonly before: Side
  readonly after: Side
  /** The files that differ, as paths from the folders, also such as are no documents; where not given, all texts are compared. */
  readonly changed?: readonly string[]
  /** Where given, only these documents are told of. */
  readonly only?: ReadonlySet<string>
  /** YYYY-MM-DD. */
  readonly date: string
}

export const review = (compared: Compared): Promise<ChangeSet> => new Review(compared).run()

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

/** The documents of a version by their path from its folder. */
export const filesOf = ({ root, analysis }: Side): ReadonlyMap<string, string> =>
  new Map(analysis.workspace.everything().flatMap(({ file }) => (file.startsWith(root) ? [[pathIn(root, file), file]] : [])))

const pathIn = (root: string, file: string): string => {
  const path = file.startsWith(root) ? file.slice(root.length) : file
  try {
    return decodeURIComponent(path)
  } catch {
    return path
  }
}

/** One document in both versions, as far as it is there. */
interface Pair {
  readonly before: Facts | undefined
  readonly after: Facts | undefined
}

const SIDES = ['before', 'after'] as const
type Which = (typeof SIDES)[number]

class Review {
  private readonly notCompared = new Set<string>()
  private readonly facts: Readonly<Record<Which, ReadonlyMap<string, Facts>>>
  /** Of each document that changed what it says otherwise, by its file in either version. */
  private readonly differences: Readonly<Record<Which, Map<string, { ref: DocumentRef; difference: Difference }>>> = {
    before: new Map(),
    after: new Map(),
  }
  /** Documents that a file which is none has to do with: a colour file that changed. */
  private readonly withFiles = new Set<string>()
  private readonly reaches = new Map<string, Set<string>>()

  constructor(private readonly compared: Compared) {
    this.facts = { before: this.factsOf('before'), after: this.factsOf('after') }
  }

  private side(which: Which): Side {
    return this.compared[which]
  }

  private workspace(which: Which): Workspace {
    return this.side(which).analysis.workspace
  }

  /** The documents of a version by their path. */
  private factsOf(which: Which): ReadonlyMap<string, Facts> {
    const { root, analysis } = this.compared[which]
    const all = analysis.workspace.everything().filter(({ file }) => file.startsWith(root))
    return new Map(all.map((facts) => [pathIn(root, facts.file), facts]))
  }

  async run(): Promise<ChangeSet> {
    const { compared } = this
    const changed = compared.changed ?? (await this.differing())
    const pairs = this.pairsOf(changed.filter((path) => kindOfFile(path)))
    const dependents = await this.dependentsOf(pairs, changed)
    const drafts: Omit<DocumentChange, 'reaches'>[] = []
    for (const pair of pairs) drafts.push(await this.documentChange(pair))
    drafts.sort((a, b) => (a.file < b.file ? -1 : 1))
    const profiles: ProfileReview[] = []
    const findings: ToldFinding[] = []
    const keyIn: KeyIn[] = []
    const all = [...pairs, ...dependents].sort((a, b) => (this.pathOf(a) < this.pathOf(b) ? -1 : 1))
    for (const pair of all) {
      await this.load(pair)
      findings.push(...(await this.findingsOf(pair)))
      if ((pair.after ?? pair.before)!.kind === 'media') {
        const { profile, keys } = this.profileOf(pair)
        if (profile) profiles.push(profile)
        keyIn.push(...keys)
      }
      for (const which of SIDES) if (pair[which]?.kind === 'media') this.workspace(which).release(pair[which].file)
    }
    for (const which of SIDES) this.tellUnread(which)
    const documents = drafts.map((draft) => ({ ...draft, reaches: [...(this.reaches.get(nameOf(draft.document)) ?? [])].sort() }))
    const there = [...this.facts.after.keys()].length
    return {
      before: compared.before.name,
      after: compared.after.name,
      date: compared.date,
      totals: {
        compared: all.length,
        changed: pairs.length,
        untouched: Math.max(0, there - all.filter(({ after }) => after).length),
        notCompared: this.notCompared.size,
      },
      documents,
      profiles,
      findings: findings.sort(byLevel),
      keyIn: keyIn.sort(byPlace),
      notCompared: [...this.notCompared],
    }
  }

  /** The paths whose texts are not equal. What cannot be read on a side is told at the end. */
  private async differing(): Promise<readonly string[]> {
    const texts = { before: new Map<string, string>(), after: new Map<string, string>() }
    for (const which of SIDES) {
      const found = await this.workspace(which).texts([...this.facts[which].values()].map(({ file }) => file))
      for (const [file, text] of found) texts[which].set(pathIn(this.side(which).root, file), text)
    }
    const paths = new Set([...this.facts.before.keys(), ...this.facts.after.keys()])
    return [...paths].filter((path) => texts.before.get(path) !== texts.after.get(path))
  }

  /** By path and id where both are the same; then by id, so that a file may move; then by path. */
  private pairsOf(changed: readonly string[]): readonly Pair[] {
    const { only } = this.compared
    const wanted = changed.filter((path) => !only || only.has(path))
    const left = { before: new Map<string, Facts>(), after: new Map<string, Facts>() }
    for (const which of SIDES)
      for (const path of wanted) {
        const facts = this.facts[which].get(path)
        if (facts) left[which].set(path, facts)
      }
    const pairs: Pair[] = []
    const take = (path: string, other: string): void => {
      pairs.push({ before: left.before.get(path), after: left.after.get(other) })
      left.before.delete(path)
      left.after.delete(other)
    }
    for (const [path, before] of left.before) {
      const after = left.after.get(path)
      if (after && documentName(before) === documentName(after)) take(path, path)
    }
    for (const [path, before] of left.before) {
      const found = [...left.after].find(([, after]) => before.kind !== 'shop' && documentName(before) === documentName(after))
      if (found) take(path, found[0])
    }
    for (const path of [...left.before.keys()]) if (left.after.has(path)) take(path, path)
    for (const before of left.before.values()) pairs.push({ before, after: undefined })
    for (const after of left.after.values()) pairs.push({ before: undefined, after })
    return pairs
  }

  /** The documents that did not change and rest on what did, in either version. */
  private async dependentsOf(pairs: readonly Pair[], changed: readonly string[]): Promise<readonly Pair[]> {
    const { only } = this.compared
    const facts = pairs.flatMap(({ before, after }) => [before, after]).filter((one) => one !== undefined)
    const beside = changed.filter((path) => !kindOfFile(path))
    const paths = new Set<string>()
    for (const which of SIDES) {
      const { root } = this.side(which)
      const workspace = this.workspace(which)
      const all = [...this.facts[which].values()]
      const found = facts.length > 0 ? affectedBy(facts, all, (file) => workspace.shelf(file)) : []
      for (const file of found) paths.add(pathIn(root, file))
      if (beside.length === 0) continue
      const named = await workspace.naming(
        all,
        new Set(beside.map((path) => root + encodeURI(path).replace(/[#?]/g, encodeURIComponent))),
      )
      for (const file of affectedBy(named, all, (at) => workspace.shelf(at))) {
        paths.add(pathIn(root, file))
        this.withFiles.add(file)
      }
    }
    const known = new Set(pairs.flatMap(({ before, after }) => [before, after].flatMap((one) => one?.file ?? [])))
    return [...paths].flatMap((path): readonly Pair[] => {
      const [before, after] = [this.facts.before.get(path), this.facts.after.get(path)]
      if (only && !only.has(path)) return []
      return [before, after].some((one) => one && known.has(one.file)) || (!before && !after) ? [] : [{ before, after }]
    })
  }

  private pathOf({ before, after }: Pair): string {
    return after ? pathIn(this.compared.after.root, after.file) : pathIn(this.compared.before.root, before!.file)
  }

  /** Both versions with all that they rest on. What is read only in part is told. */
  private async load(pair: Pair): Promise<void> {
    // The later one first: the earlier one takes from it what is the same.
    for (const which of ['after', 'before'] as const) {
      const facts = pair[which]
      if (!facts) continue
      await this.workspace(which).load(facts.file)
      await this.workspace(which).prepare(facts.file)
    }
    for (const which of SIDES) {
      const workspace = this.workspace(which)
      const document = this.document(which, pair[which])
      for (const part of document ? workspace.partsOf(document) : []) this.tellBroken(which, part)
    }
  }

  private tellBroken(which: Which, { file, tree, content, aliasesExceeded, unsettled }: RollDocument): void {
    const [problem] = tree.problems
    const { root, name } = this.side(which)
    const where = `${pathIn(root, file)} in ${name}`
    if (problem || (tree.root && !content))
      this.notCompared.add(`${where} is read only in part, and what the rest says is not compared: 'rollbook check' shows where.`)
    else if (aliasesExceeded) this.notCompared.add(`${where} repeats itself more often than is read, and is not compared whole.`)
    if (unsettled && tree.conflicts.length === 0)
      this.notCompared.add(
        `${where} may not be what it will be: git has a merge of it that is not settled, and it may be one side alone. Look at it, then 'git add' it.`,
      )
  }

  private tellUnread(which: Which): void {
    const { name, root, failures } = this.side(which)
    for (const { place, kind, reason } of this.workspace(which).unread())
      this.notCompared.add(
        kind === 'folder'
          ? `${pathIn(root, place)} cannot be listed in ${name}, and what is in it is not compared: ${reason}`
          : `${pathIn(root, place)} cannot be read in ${name}: ${reason}`,
      )
    for (const failure of failures) this.notCompared.add(failure)
  }

  private document(which: Which, facts: Facts | undefined): RollDocument | undefined {
    return facts && this.workspace(which).document(facts.file)
  }

  private async documentChange(pair: Pair): Promise<Omit<DocumentChange, 'reaches'>> {
    await this.load(pair)
    const { before, after } = pair
    const ref = refOf((after ?? before)!)
    const documents = [this.document('before', before), this.document('after', after)] as const
    const levels = (which: Which) => calledLevelsByNode(this.setup(which, pair[which])?.own)
    const made = differenceOf(...documents, [levels('before'), levels('after')])
    // Where one side cannot be read, nothing is known of what came or went.
    const readable = (!before || documents[0]) && (!after || documents[1])
    const difference: Difference = readable ? made : { ...made, changes: [], keys: new Set() }
    for (const which of SIDES) if (pair[which]) this.differences[which].set(pair[which].file, { ref, difference })
    const changes = this.withReal(pair, difference.changes)
    const file = this.pathOf(pair)
    const fileBefore = before && pathIn(this.compared.before.root, before.file)
    return {
      document: ref,
      how: !before ? 'added' : !after ? 'removed' : changes.length > 0 ? 'changed' : 'same',
      file,
      ...(fileBefore !== undefined && fileBefore !== file && { fileBefore }),
      changes: [...changes].sort(byLevel),
      form: difference.form,
    }
  }

  /** Of a profile's levels what they stand for at its printer. */
  private withReal(pair: Pair, changes: readonly Change[]): readonly Change[] {
    const setups = { before: this.setup('before', pair.before), after: this.setup('after', pair.after) }
    return changes.map((change) => {
      const real = (which: Which): object => {
        const setup = setups[which]
        const field =
          change[which] && setup && change.what === 'setting' ? settingAt(setup.own, change.path.split('.')) : undefined
        const text = field && realText(setup?.printer, change.path, field.value)
        return text === undefined ? {} : { [which]: { ...change[which], real: text } }
      }
      return { ...change, ...real('before'), ...real('after') }
    })
  }

  private setup(which: Which, facts: Facts | undefined): Setup | undefined {
    return facts?.kind === 'media' ? this.side(which).analysis.context(facts.file)?.setup : undefined
  }

  private async findingsOf(pair: Pair): Promise<readonly ToldFinding[]> {
    const ref = refOf((pair.after ?? pair.before)!)
    const path = this.pathOf(pair)
    const found = async (which: Which) => findingsIn(this.side(which).analysis, this.document(which, pair[which]), ref, path)
    return courseOf(await found('before'), await found('after'))
  }

  private version(which: Which, facts: Facts | undefined): Version | undefined {
    const setup = this.setup(which, facts)
    const document = this.document(which, facts)
    if (!facts || !setup || !document) return undefined
    return { document: document as RollDocument<'media'>, setup, shelf: this.workspace(which).shelf(facts.file) }
  }

  private profileOf(pair: Pair): { readonly profile?: ProfileReview; readonly keys: readonly KeyIn[] } {
    const [before, after] = [this.version('before', pair.before), this.version('after', pair.after)]
    const ref = refOf((pair.after ?? pair.before)!)
    const path = this.pathOf(pair)
    for (const [which, version] of [
      ['before', before],
      ['after', after],
    ] as const)
      for (const lacking of version ? lackingOf(version.setup) : [])
        this.notCompared.add(
          `${path} in ${this.side(which).name} is compared without what it names. ${lackingText(lacking, version!.setup)}`,
        )
    if (!before && !after) return { keys: [] }
    const changed = this.changedFor(before, after)
    if ([before, after].some((version) => version && this.withFiles.has(version.document.file)))
      changed.set('profile colour', { document: ref, path: 'colour' })
    const inherited =
      before && after
        ? inheritedOf(before, after, (version, file) => this.originOf(version === before ? 'before' : 'after', file))
        : []
    for (const { path: key, cause } of inherited) changed.set(`profile ${key}`, cause)
    const consequences =
      before && after
        ? consequencesOf(ref.id, before, after, changed, (key, error) =>
            this.notCompared.add(`${path}: ${key} is not reckoned: it failed inside Rollbook: ${messageOf(error)}`),
          )
        : []
    const standings = standingsOf(before?.setup, after?.setup)
    const states = before && after ? statesMoved(before.setup, after.setup) : []
    const causes = [...new Map([...changed.values()].map(({ document }) => [nameOf(document), { document }])).values()]
    for (const { document } of causes)
      if (nameOf(document) !== nameOf(ref)) {
        const reached = this.reaches.get(nameOf(document)) ?? new Set()
        this.reaches.set(nameOf(document), reached.add(ref.id))
      }
    const profile: ProfileReview = {
      profile: ref.id,
      file: path,
      how: !before ? 'added' : !after ? 'removed' : 'both',
      causes,
      inherited: [...inherited].sort(byLevel),
      consequences,
      standings,
      states,
    }
    const says = inherited.length + consequences.length + standings.length + states.length > 0
    return { ...(says && { profile }), keys: after ? keyInOf(ref.id, before?.setup, after.setup) : [] }
  }

  private originOf(which: Which, file: string): Origin | undefined {
    const found = this.differences[which].get(file)
    if (found) return { document: found.ref, keys: found.difference.keys }
    const facts = this.facts[which].get(pathIn(this.side(which).root, file))
    return facts && { document: refOf(facts), keys: new Set() }
  }

  /** What changed of all that a profile rests on, by the names under which it is read. */
  private changedFor(before: Version | undefined, after: Version | undefined): Map<string, Cause> {
    const out = new Map<string, Cause>()
    for (const [which, version] of [
      ['before', before],
      ['after', after],
    ] as const)
      for (const part of version ? this.workspace(which).partsOf(version.document) : []) {
        const found = this.differences[which].get(part.file)
        if (!found) continue
        const own = part.file === version!.document.file
        for (const key of found.difference.keys) {
          const cause: Cause = { document: found.ref, path: key }
          if (part.kind === 'media' && !own) continue
          for (const name of own ? ['profile', 'own'] : [part.kind])
            if (!out.has(`${name} ${key}`)) out.set(`${name} ${key}`, cause)
        }
      }
    return out
  }
}

const refOf = (facts: Facts): DocumentRef => ({
  kind: facts.kind,
  id: facts.values[ID_KEY[facts.kind]]?.text ?? facts.file.slice(facts.file.lastIndexOf('/') + 1),
})

const nameOf = ({ kind, id }: DocumentRef): string => `${kind} ${id}`

/** By printer and slot; of one slot what may hurt somebody first. */
function byPlace(a: KeyIn, b: KeyIn): number {
  const place = ({ printer, slot = '' }: KeyIn): string => `${printer} ${slot.padStart(6)}`
  return place(a) === place(b) ? byLevel(a, b) : place(a) < place(b) ? -1 : 1
}

const GOOD: readonly Word['word'][] = ['proven', 'carried']

function standingsOf(before: Setup | undefined, after: Setup | undefined): readonly Standing[] {
  return STANDINGS.flatMap((standing): readonly Standing[] => {
    const [was, is] = [before && standing(before), after && standing(after)]
    const now = is ?? was
    if (!now || (was && is && was.text === is.text && was.sentences.join() === is.sentences.join())) return []
    const word = (one: typeof was): Word | undefined => one && { word: one.word, text: one.text, sentences: one.sentences }
    const todo = is && !GOOD.includes(is.word) ? (is.sentences.length > 1 ? is.sentences.slice(1) : is.sentences) : []
    const opens = was !== undefined && GOOD.includes(was.word) && is !== undefined && !GOOD.includes(is.word)
    return [{ kind: now.kind, before: word(was), after: word(is), opens, todo }]
  })
}
