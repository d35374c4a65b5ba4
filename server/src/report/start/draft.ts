// A profile that is being started: the settings chosen so far, and the setup they make, so that each next one is chosen with the model itself.
import { LiveDocument } from '../../model/document.ts'
import { resolveSetup, type Setup } from '../../model/setup.ts'
import type { Shelf } from '../../model/shelf.ts'
import type { Chosen } from './chosen.ts'
import { profileText } from './write.ts'

export interface Paper {
  readonly shelf: Shelf
  /** Where the profile will be. */
  readonly file: string
  /** YYYY-MM-DD. */
  readonly today: string
}

export class Draft {
  private readonly settings: Map<string, Chosen>

  /** `given` is settled already: what is chosen beside it stands on it and never replaces it. */
  constructor(
    private readonly paper: Paper,
    private readonly given: readonly Chosen[] = [],
  ) {
    this.settings = new Map(given.map((one) => [keyOf(one), one]))
  }

  get chosen(): readonly Chosen[] {
    return [...this.settings.values()]
  }

  set(...list: readonly (Chosen | undefined)[]): void {
    const settled = new Set(this.given.map(keyOf))
    for (const one of list) if (one && !settled.has(keyOf(one))) this.settings.set(keyOf(one), one)
  }

  /** The setup of what is chosen so far, and of settings tried out beside it: dotted paths with their texts. */
  setup(tried: Readonly<Record<string, string>> = {}): Setup {
    const all = new Map(this.settings)
    for (const [path, text] of Object.entries(tried)) all.set(path, { path: path.split('.'), text, why: '' })
    const text = profileText([...all.values()])
    const { shelf, file, today } = this.paper
    return resolveSetup(new LiveDocument(file, 'media', text), shelf, today)!
  }
}

const keyOf = ({ path }: Chosen): string => path.join('.')
