// Documents that have no file yet: the editor says only that they are ours, so which of the four they are is read off their keys.
import { lastPart, normalUri, UNSAVED_FOLDER } from '../base/uri.ts'
import { type DocumentKind, kindOfFile } from '../schema/schema.ts'

/** The language that an editor gives our documents; one without a file has nothing else to be known by. */
const LANGUAGE = 'rollbook'

export class UnsavedDocuments {
  /** The name each has among the files of the workspace, by its URI. */
  private readonly names = new Map<string, string>()

  /** `home` gives the folder whose shop such a document belongs to, if a folder is open. */
  constructor(private readonly home: () => string | undefined) {}

  /** The one name of a document here. */
  fileOf(uri: string): string {
    return this.names.get(uri) ?? normalUri(uri)
  }

  /**
   * The name of a document with this text; `left` is the one it had as long as it seemed to be of another kind. A document that has a file, or
   * whose name tells its kind, or that is not ours, keeps its own.
   */
  place(uri: string, text: string, languageId?: string): { readonly file: string; readonly left?: string } {
    const before = this.names.get(uri)
    const own = normalUri(uri)
    const isOurs =
      before !== undefined || (languageId === LANGUAGE && own.startsWith('untitled:') && kindOfFile(own) === undefined)
    if (!isOurs) return { file: own }
    const file = this.nameFor(own, kindOf(text))
    this.names.set(uri, file)
    return before === undefined || before === file ? { file } : { file, left: before }
  }

  forget(uri: string): void {
    this.names.delete(uri)
  }

  private nameFor(own: string, kind: DocumentKind): string {
    const name = lastPart(own).replace(/^untitled:/, '')
    const folder = `${this.home() ?? 'untitled:'}/${UNSAVED_FOLDER}`
    // A shop's document has one name only, and it makes its folder a shop.
    return kind === 'shop' ? `${folder}/${name}/rollbook.yaml` : `${folder}/${name}.${kind}.yaml`
  }
}

/** The kind whose own key stands in the text. A profile names a stock and a printer as well; one that is empty is most often to be a profile. */
function kindOf(text: string): DocumentKind {
  const has = (key: string): boolean => new RegExp(`^${key}\\s*:`, 'm').test(text)
  if (has('profile') || (has('stock') && has('printer'))) return 'media'
  if (has('stock')) return 'stock'
  if (has('printer')) return 'printer'
  return has('shop') ? 'shop' : 'media'
}
