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
