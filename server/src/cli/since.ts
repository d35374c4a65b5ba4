// `--changed-since` and `--new-since`: which documents a revision's changes reach, and which findings were there before. Both count from the commit
// at which the present one parted from the revision, so that what others did meanwhile is nobody's change here.
import { fileUri } from '../host/node.ts'
import { type History, NoHistory } from '../host/revisions.ts'
import type { RollDocument } from '../model/document.ts'
import { type Facts, readFacts } from '../model/facts.ts'
import { documentName, nameOfDocument } from '../rules/support/fingerprint.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { affectedBy } from '../workspace/dependents.ts'
import { folderOf } from '../workspace/folders.ts'
import { Workspace } from '../workspace/workspace.ts'
import { type Bench, shopAbove } from './bench.ts'
import { CannotRun, type CliHost } from './host.ts'
import { many } from './report/report.ts'

/** A shop's folder in its history, at the commit that it is compared with. */
interface Past {
  readonly root: string
  readonly history: History
  readonly commit: string
}

/** The folders at that commit. Throws `CannotRun` where it cannot be known. */
export async function pastOf(cli: CliHost, roots: Iterable<string>, revision: string): Promise<readonly Past[]> {
  const out: Past[] = []
  try {
    for (const root of roots) {
      const history = await cli.revisions.of(fileUri(root))
      out.push({ root, history, commit: await history.parting(revision) })
    }
  } catch (error) {
    throw plain(error)
  }
  return out
}

const plain = (error: unknown): unknown => (error instanceof NoHistory ? new CannotRun(error.message) : error)

/** The same effects on what is staged in place of what is on disk. Throws `CannotRun` where that cannot be known. */
export async function asStaged(cli: CliHost): Promise<CliHost> {
  const folder = (await shopAbove(cli, cli.cwd)) ?? cli.cwd
  try {
    const history = await cli.revisions.of(fileUri(folder))
    return Object.create(cli, { host: { value: await history.staged(cli.host.today()) } })
  } catch (error) {
    throw plain(error)
  }
}

/** Of the files asked for those that changed, and those that rest on what changed; and a sentence that counts them. */
export async function changedAmong(
  cli: CliHost,
  bench: Bench,
  files: readonly string[],
  pasts: readonly Past[],
  revision: string,
  among: 'disk' | 'staged',
): Promise<{ readonly files: readonly string[]; readonly remark: string }> {
  const { workspace } = bench
  const shelfOf = (file: string) => workspace.shelf(file)
  const all = factsOfAll(workspace, await everyFile(bench, pasts))
  const changed = new Set<string>()
  const facts: Facts[] = []
  const beside = new Set<string>()
  let everything = false
  for (const { history, commit } of pasts) {
    const differing = await history.changedSince(commit, among).catch((error) => {
      throw plain(error)
    })
    for (const file of differing) if (!kindOfFile(file)) beside.add(file)
    const names = differing.filter((file) => kindOfFile(file))
    if (names.length === 0) continue
    const before = await history.hostAt(commit, cli.host.today()).catch((error) => {
      throw plain(error)
    })
    const then = new Set(await before.list(''))
    for (const file of names) {
      const kind = kindOfFile(file)!
      changed.add(file)
      const now = all.find((f) => f.file === file)
      if (now) facts.push(now)
      // One that cannot be read at the revision has no id there.
      if (then.has(file)) facts.push(readFacts(file, kind, await before.read(file).catch(() => '')))
      // A rollbook.yaml that comes or goes parts shops or joins them.
      if (kind === 'shop' && then.has(file) !== (now !== undefined)) everything = true
    }
  }
  // Told as they were and as they are: what they name has changed, and nothing of what they use.
  const naming = beside.size === 0 ? [] : await bench.workspace.naming(all, beside)
  const affected = new Set([...affectedBy([...facts, ...naming, ...naming], all, shelfOf), ...naming.map(({ file }) => file)])
  // A shop that tells of its profiles is told anew when one of them changed.
  if (facts.some(({ kind }) => kind === 'media'))
    for (const shop of await bench.workspace.tellingOfProfiles(all))
      if ([...changed].some((file) => kindOfFile(file) === 'media' && file.startsWith(folderOf(shop)))) affected.add(shop)
  const kept = files.filter((file) => changed.has(file) || affected.has(file) || (everything && changed.size > 0))
  const own = kept.filter((file) => changed.has(file)).length
  const gone = [...changed].filter((file) => !all.some((f) => f.file === file)).length
  const remark =
    changed.size === 0 && kept.length === 0
      ? `No document has changed since ${revision}.`
      : `${many(own, 'document')} checked because of a change since ${revision}${gone > 0 ? `, with ${gone} more gone` : ''}; ${kept.length - own} more because what they rest on has changed.`
  return { files: kept, remark }
}

const everyFile = async (bench: Bench, pasts: readonly Past[]): Promise<readonly string[]> => [
  ...new Set((await Promise.all(pasts.map(({ root }) => bench.documentsBelow(root)))).flat()),
]

/** What the index knows of files. */
function factsOfAll(workspace: Workspace, files: readonly string[]): readonly Facts[] {
  const known = new Map<string, Facts>()
  for (const file of files) {
    if (known.has(file)) continue
    const shelf = workspace.shelf(file)
    for (const kind of ['shop', 'stock', 'printer', 'media'] as const)
      for (const facts of shelf.all(kind)) known.set(facts.file, facts)
  }
  return files.map((file) => known.get(file) ?? { file, kind: kindOfFile(file)!, values: {} })
}

/** The findings there were at the commit compared with, judged as on the same day. Documents are found again by their ids. */
export class Before {
  readonly remarks: string[] = []

  private constructor(
    private readonly workspaces: readonly { readonly workspace: Workspace; readonly analysis: Analysis }[],
    private readonly files: ReadonlyMap<string, readonly { readonly file: string; readonly at: number }[]>,
    private readonly left: Map<string, number>,
    private readonly bench: Bench,
    private readonly revision: string,
  ) {}

  static async at(cli: CliHost, bench: Bench, pasts: readonly Past[], revision: string): Promise<Before> {
    const workspaces: { workspace: Workspace; analysis: Analysis }[] = []
    const files = new Map<string, { file: string; at: number }[]>()
    for (const { root, history, commit } of pasts) {
      const host = await history.hostAt(commit, cli.host.today()).catch((error) => {
        throw plain(error)
      })
      const workspace = new Workspace(host)
      await workspace.addFolder(fileUri(root))
      const at = workspaces.push({ workspace, analysis: new Analysis(workspace, false, () => undefined, 'once') }) - 1
      for (const facts of factsOfAll(workspace, await host.list(''))) {
        const name = documentName(facts)
        files.set(name, [...(files.get(name) ?? []), { file: facts.file, at }])
      }
    }
    return new Before(workspaces, files, new Map(), bench, revision)
  }

  private readonly judged = new Set<string>()

  /** For a document as it is now: tells of its fingerprints, each asked once, whether they are new. */
  async newness(file: string): Promise<(fingerprint: string) => boolean> {
    const document = this.bench.workspace.document(file)
    if (document) await this.judge(document)
    return (fingerprint) => {
      const count = this.left.get(fingerprint) ?? 0
      this.left.set(fingerprint, count - 1)
      return count <= 0
    }
  }

  private async judge(now: RollDocument): Promise<void> {
    const name = nameOfDocument(now)
    if (this.judged.has(name)) return
    this.judged.add(name)
    for (const { file, at } of this.files.get(name) ?? []) {
      const { workspace, analysis } = this.workspaces[at]!
      const document = await workspace.load(file)
      if (!document) continue
      await workspace.prepare(file)
      if (document.tree.problems.length > 0)
        this.remarks.push(
          `${this.bench.shown(file)} could not be read whole at ${this.revision}: what it says now may count as new and be old.`,
        )
      for (const finding of analysis.findings(file)) {
        for (const { file: other } of finding.related ?? []) await workspace.load(other)
        const fingerprint = analysis.fingerprint(finding, document)
        this.left.set(fingerprint, (this.left.get(fingerprint) ?? 0) + 1)
      }
      workspace.release(file)
    }
  }
}
