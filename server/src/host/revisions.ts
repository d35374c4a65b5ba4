// The history that documents are kept in, as an effect of its own: what changed since a revision, and the documents as they were. Files are
// named by the same strings as a `Host` has them.
import type { Host } from './host.ts'

export interface Revisions {
  /** The history that a folder's documents are kept in. Rejects with `NoHistory` where there is none that can be read whole. */
  of(folder: string): Promise<History>
  /**
   * The whole of that history: also the documents that lie outside the folder, where those in it may have lain
   * before. Days are told in a time zone (Europe/Lisbon), or in that of this computer where none is given. Rejects with `NoHistory` for a zone that is none.
   */
  whole(folder: string, zone: string | undefined): Promise<Line>
  /** The repository that a folder's files are in. Rejects with `NoHistory` where there is none with a working tree. */
  repository(folder: string): Promise<Repository>
  /** What git's merge by lines makes of three texts; undefined where it leaves a conflict, or cannot be done. */
  mergedByLine(texts: { readonly base: string; readonly ours: string; readonly theirs: string }): Promise<string | undefined>
  /** The files in and below a folder of which git has a merge that nobody has settled yet; none where there is no git. Never rejects. */
  unmerged(folder: string): Promise<readonly string[]>
}

/** A commit of a history. */
export interface Commit {
  readonly id: string
  /** As git shortens it. */
  readonly short: string
  /** The day it was made on, YYYY-MM-DD, in the time zone that was asked for. */
  readonly day: string
  readonly subject: string
  /** The commit before it on its line: its first parent. Undefined for the first. */
  readonly parent: string | undefined
}

/** A history along one line: a commit, its first parent, and so on. What was merged counts from the day it was merged. */
export interface Line {
  /** All documents of a commit; `today` is the day to judge them on. */
  hostAt(commit: string, today: string): Promise<Host>
  /** A commit by any name that git knows for it. Rejects with `NoHistory`. */
  commit(revision: string): Promise<Commit>
  /** The newest commit of what is checked out that was made on a day or before it. Rejects with `NoHistory` where there is none. */
  on(day: string): Promise<Commit>
  /** The newest commit at or before one that changed any of these files; undefined where none did. */
  changing(commit: string, files: readonly string[]): Promise<Commit | undefined>
  /** The commit at or before one that brought a file; undefined where it was never there. */
  bringing(commit: string, file: string): Promise<Commit | undefined>
  /** What a file that came with a commit was called before it, by its content; undefined where it is new. */
  nameBefore(commit: Commit, file: string): Promise<string | undefined>
}

/** A repository as far as it can be told how to merge. */
export interface Repository {
  /** The top of the working tree, and the file of the repository's own configuration: absolute paths. */
  readonly top: string
  readonly config: string
  /** Whether git knows a driver named rollbook, from whatever configuration. */
  configured(): Promise<boolean>
  /** What else the attributes `merge` and `diff` of files at the top are set to than to rollbook: "merge of any.media.yaml is union"; the first. */
  attributeOf(names: readonly string[]): Promise<string | undefined>
}

export interface History {
  /** Whether anything is committed yet. */
  begun(): Promise<boolean>
  /** The commit that a revision stands for. Rejects with `NoHistory`. Before the first commit HEAD stands for nothing at all, from which everything differs. */
  commit(revision: string): Promise<string>
  /** The newest commit that changed one of these files, by its short name; undefined where none did. */
  newest(files: readonly string[]): Promise<string | undefined>
  /** The main branch, by what the clone knows of where it comes from, else by its usual names. Rejects with `NoHistory` where there is none. */
  mainBranch(): Promise<string>
  /**
   * The commit at which another one, the current one where not given, parted from a revision: the revision itself where it is an ancestor. Rejects with
   * `NoHistory`.
   */
  parting(revision: string, other?: string): Promise<string>
  /** The files in and below the folder that differ between two commits: changed, new or gone. */
  changedBetween(commit: string, other: string): Promise<readonly string[]>
  /**
   * The files in and below the folder that differ from a commit: changed, new or gone, on disk (there also documents that git is told to ignore) or
   * among what is staged.
   */
  changedSince(commit: string, among: 'disk' | 'staged'): Promise<readonly string[]>
  /**
   * The documents in and below the folder as they were, and the files they name; `today` is the day to judge them on. Where `among` is given, all
   * documents are listed, and only these can be read.
   */
  hostAt(commit: string, today: string, among?: ReadonlySet<string>): Promise<Host>
  /** The merge commits of a range of revisions ('main', 'v1..main'), the newest first. Rejects with `NoHistory`. */
  merges(range: string): Promise<Merges>
  /** The texts of blobs by their ids; undefined for one that is no UTF-8 text, or that git has not got. */
  texts(ids: readonly string[]): Promise<ReadonlyMap<string, string | undefined>>
  /** The documents in and below the folder as they are staged: what the next commit will hold. */
  staged(today: string): Promise<Host>
}

export interface Merges {
  readonly commits: readonly MergeCommit[]
  /** The commit that the range leads to. */
  readonly tip: string
  /** The ids of the profiles' texts at a commit, by path from the top of the working tree. */
  at(commit: string): Promise<ReadonlyMap<string, string>>
}

export interface MergeCommit {
  readonly commit: string
  readonly parents: readonly string[]
  /** Of the commit: YYYY-MM-DD. */
  readonly date: string
  readonly subject: string
  /** The profiles in and below the folder that are not the same in all of them. */
  readonly files: readonly MergedFile[]
}

/** Ids of texts; undefined where there is no such file. */
export interface MergedFile {
  /** From the top of the working tree. */
  readonly path: string
  readonly merged: string | undefined
  readonly parents: readonly (string | undefined)[]
  /** Where the parents parted; several where they parted more than once, none where they have nothing in common. */
  readonly bases: readonly (string | undefined)[]
}

/** A history that cannot be read, or not whole: the message is a sentence for a person. */
export class NoHistory extends Error {}
