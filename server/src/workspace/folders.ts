// Files and the folders they lie in, by name alone: names are URIs or paths with '/' between folders, and a folder's ends in '/'.

/** The folder a file lies in; of a folder's own name, itself. */
export const folderOf = (file: string): string => file.slice(0, file.lastIndexOf('/') + 1)

/** The folder of a file, and every one it lies in, from the inside out: `file:///shop/profiles/`, `file:///shop/`, `file:///`. */
export function foldersAbove(file: string): readonly string[] {
  const found: string[] = []
  for (let at = folderOf(file); at !== '' && !NO_FOLDER.test(at); at = folderOf(at.slice(0, -1))) found.push(at)
  return found
}

/** What is left of a URI when all of its path is gone. */
const NO_FOLDER = /^[\w+.-]*:?\/{0,2}$/

/** Which shop a file belongs to: that of the nearest rollbook.yaml, else of the opened folder, else of its own folder. Asked of every document, known by folder. */
export class Territories {
  private readonly shops = new Set<string>()
  private readonly opened = new Set<string>()
  private readonly known = new Map<string, string>()

  /** The folder of the shop, ending in '/'. */
  of(file: string): string {
    const folder = folderOf(file)
    let found = this.known.get(folder)
    if (found === undefined) {
      const above = foldersAbove(file)
      found = above.find((at) => this.shops.has(at)) ?? above.find((at) => this.opened.has(at)) ?? folder
      this.known.set(folder, found)
    }
    return found
  }

  hasShop(folder: string): boolean {
    return this.shops.has(folder)
  }

  addShop(folder: string): void {
    this.shops.add(folder)
    this.known.clear()
  }

  /** False where there was none. */
  removeShop(folder: string): boolean {
    this.known.clear()
    return this.shops.delete(folder)
  }

  isOpened(folder: string): boolean {
    return this.opened.has(folder)
  }

  open(folder: string): void {
    this.opened.add(folder)
    this.known.clear()
  }

  shut(folder: string): void {
    this.opened.delete(folder)
    this.known.clear()
  }
}
