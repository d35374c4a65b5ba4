// The history that documents are kept in, as an effect of its own: what changed since a revision, and the documents as they were. Files are
// named by the same strings as a `Host` has them.
import type { Host } from './host.ts'

export interface Revisions {
  /** The history that a folder's documents are kept in. Rejects with `NoHistory` where there is none that can be read whole. */
  of(folder: string): Promise<History>
}

export interface History {
  /** The commit that a revision stands for. Rejects with `NoHistory`. Before the first commit HEAD stands for nothing at all, from which everything differs. */
  commit(revision: string): Promise<string>
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
  /** The documents in and below the folder as they are staged: what the next commit will hold. */
  staged(today: string): Promise<Host>
}

/** A history that cannot be read, or not whole: the message is a sentence for a person. */
export class NoHistory extends Error {}
