// Files that are no documents by their names and look like some: told, since nobody else will say that they are not read.
import { lastPart } from '../base/uri.ts'
import { type DocumentKind, nameMeant } from '../schema/schema.ts'
import { type Bench, DOCUMENT_NAMES } from './bench.ts'

/** So many files of other names are looked into. */
const MOST_READ = 200

export class PassedOver {
  private readonly others: string[] = []

  constructor(private readonly bench: Bench) {}

  readonly take = (file: string): void => void this.others.push(file)

  /** One that is named almost like a document was meant to be one: what it says is not judged, and that is a trouble. */
  tellNames(): void {
    for (const file of this.others) {
      const meant = nameMeant(file)
      if (meant !== undefined)
        this.bench.trouble(`${this.bench.shown(file)} is not read: documents are named ${DOCUMENT_NAMES}. Rename it to ${meant}.`)
    }
  }

  /** One of any other name that reads like a document may be one, or a draft, or answers: a remark. */
  async remarks(): Promise<readonly string[]> {
    const found: string[] = []
    for (const file of this.others.filter((one) => nameMeant(one) === undefined).slice(0, MOST_READ)) {
      const kind = kindIn(await this.bench.workspace.host.read(file).catch(() => ''))
      const name = lastPart(file).replace(/\.ya?ml$/i, '')
      if (kind !== undefined)
        found.push(
          `${this.bench.shown(file)} reads like a ${kind === 'media' ? 'profile' : kind} and is not checked: as a document it would be named ${nameFor(kind, name)}.`,
        )
    }
    return found
  }
}

/** The kind of a text that has the keys no other file is likely to have together. */
function kindIn(text: string): DocumentKind | undefined {
  const has = (...keys: readonly string[]): boolean => keys.some((key) => new RegExp(`^${key}\\s*:`, 'm').test(text))
  if (has('profile') && has('stock', 'printer', 'base')) return 'media'
  if (has('stock') && has('family') && has('thickness')) return 'stock'
  if (has('printer') && has('modes') && has('feed')) return 'printer'
  return has('shop') && has('tolerance', 'instruments', 'recheck', 'climate') ? 'shop' : undefined
}

const nameFor = (kind: DocumentKind, name: string): string => (kind === 'shop' ? 'rollbook.yaml' : `${name}.${kind}.yaml`)
