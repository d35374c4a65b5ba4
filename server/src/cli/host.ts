// Every effect of the command line in one interface, so that tests run commands in memory and compare text and exit code.
import type { Host } from '../host/host.ts'
import type { Revisions } from '../host/revisions.ts'
import type { Known, Told } from './thread.ts'

export interface CliHost {
  /** Files by URI, today's date, the log. */
  readonly host: Host
  /** The folder the command was given in: an absolute path. */
  readonly cwd: string
  readonly env: Readonly<Record<string, string | undefined>>
  /** Whether a person reads standard output on a terminal. */
  readonly isTty: boolean
  /** Whether a person reads standard error on a terminal. */
  readonly isWatched?: boolean
  out(text: string): void
  err(text: string): void
  /** What stands at an absolute path; undefined for nothing. Rejects with `CannotRun` where that cannot be told. */
  look(path: string): Promise<'file' | 'folder' | undefined>
  /** Writes a new file at an absolute path. Rejects with `CannotRun` where one stands there already, or where none can be written. */
  create(path: string, text: string): Promise<void>
  /**
   * Writes new files, by absolute path, with the folders they need: all of them whole, or none. Rejects with `CannotRun` where one stands there already,
   * or where one cannot be written.
   */
  createAll(files: ReadonlyMap<string, string>): Promise<void>
  /**
   * Writes another text into a file (by URI) that holds `before`, whole or not at all. Rejects with `CannotRun` where the file holds something
   * else by now, or cannot be written.
   */
  rewrite(file: string, before: string, after: string): Promise<void>
  /** Takes a file away (an absolute path) that holds `before`. Rejects with `CannotRun` where it holds something else by now. */
  discard(path: string, before: string): Promise<void>
  /** All that comes on standard input. Rejects with `CannotRun` where it is no text. */
  stdin(): Promise<string>
  /** Prints a page into a new PDF at an absolute path. Rejects with `CannotRun` where nothing here can, or where a file stands there already. */
  printPdf(html: string, path: string): Promise<void>
  /** Somebody who answers at a terminal, a question at a time; undefined where nobody does. */
  talk(): Talk | undefined
  /** The history that documents are kept in. */
  readonly revisions: Revisions
  /** Starts the language server on standard input and output. */
  startServer(): Promise<void>
  /** How many threads can run at the same time. */
  readonly cores?: number
  /**
   * Starts another thread that judges documents of a shop. `tell` is told of each; `ended` why there is no more to come, unless it was told to end.
   * Rejects where none can be started; not given where there are no threads.
   */
  thread?(known: Known, tell: (told: Told) => void, ended: (why: string) => void): Promise<Thread>
}

/** A thread that judges the documents it is given, one after the other. */
export interface Thread {
  judge(file: string): void
  end(): void
}

/** A talk with a person at a terminal. */
export interface Talk {
  /** What is typed behind a prompt; undefined where the talk was ended by the person. */
  ask(prompt: string): Promise<string | undefined>
  tell(text: string): void
  end(): void
}

/** The exit codes, as documented in the help of every command. */
export const EXIT = { clean: 0, findings: 1, failed: 2 } as const

/** A command that cannot be run as given: the message goes to standard error, and the exit code is 2. */
export class CannotRun extends Error {}
