// One spelling for one file: clients encode URIs differently (`file:///c%3A/x`, `file:///C:/x`), and the index needs them equal.

/** The one spelling of a URI's path; scheme, host, query and fragment stay as they are. What is no URI stays as it is. */
export function normalUri(uri: string): string {
  const match = /^([a-zA-Z][\w+.-]*:(?:\/\/[^/?#]*)?)([^?#]*)(.*)$/s.exec(uri)
  if (!match) return uri
  const [, head, path, rest] = match
  const segments = path!.split('/').map(normalSegment)
  // Drives are spelled in capitals by some, in small letters by others.
  if (/^[A-Z]:$/.test(segments[1] ?? '')) segments[1] = segments[1]!.toLowerCase()
  return head + segments.join('/') + rest
}

function normalSegment(segment: string): string {
  try {
    return encodeURIComponent(decodeURIComponent(segment)).replace(/%(?:3A|40|2B|24|26|2C|3B|3D)/g, (code) =>
      decodeURIComponent(code),
    )
  } catch {
    return segment // A stray % or half a character: the name is taken as it was given.
  }
}

/** The last part of a file's name or URI, behind its folders. */
export const lastPart = (file: string): string => file.slice(file.lastIndexOf('/') + 1)

/** Documents without a file go by names in such a folder: none that is scanned, so that no file is taken for one of them. */
export const UNSAVED_FOLDER = '.unsaved'

/** Whether a document has no file yet. */
export const isUnsaved = (file: string): boolean => file.includes(`/${UNSAVED_FOLDER}/`)

/**
 * The file that a path leads to from the folder of another file. Undefined for a path that does not begin there: one from the root or of a
 * drive, an address, and one that climbs above the root.
 */
export function uriBeside(file: string, path: string): string | undefined {
  if (/^(?:[\\/]|[a-zA-Z][\w+.-]*:)/.test(path)) return undefined
  let folder = file.slice(0, file.lastIndexOf('/') + 1)
  const steps = path.split(/[\\/]/)
  const name = steps.pop() ?? ''
  for (const step of steps) {
    if (step === '' || step === '.') continue
    if (step !== '..') folder += `${encoded(step)}/`
    else if (ROOT.test(folder)) return undefined
    else folder = folder.slice(0, folder.lastIndexOf('/', folder.length - 2) + 1)
  }
  return name === '' || name === '.' || name === '..' ? undefined : normalUri(folder + encoded(name))
}

/** What is left of a URI when all folders of its path are gone. */
const ROOT = /^(?:[\w+.-]*:)?(?:\/\/[^/]*)?\/?$/

function encoded(step: string): string {
  try {
    return encodeURIComponent(step)
  } catch {
    return step // Half a character: no file is named so.
  }
}
