// Mutants that no test can tell from the code, each with the reason. One is known by its file's name and its lines, wherever they stand.

export interface Equivalent {
  readonly file: string
  readonly was: string
  readonly now: string
  readonly why: string
}

export const EQUIVALENT: readonly Equivalent[] = []
