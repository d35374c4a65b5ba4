// Lines of ours in a file of somebody else's: put in once, and taken out so that every other byte is as it was.
import { digest } from '../base/digest.ts'

/** How the block came in, so that taking it out leaves what was there: into no file, behind a line without its break, or behind whole lines. */
type Place = 'new file' | 'line ended' | 'appended'

const PLACES: readonly Place[] = ['new file', 'line ended', 'appended']

export type Held =
  | { readonly is: 'absent' }
  /** `without`: the file as it would be without; undefined for none at all. */
  | { readonly is: 'own'; readonly lines: string; readonly without: string | undefined }
  /** Somebody wrote into it. */
  | { readonly is: 'changed' }

/** The text with our lines at its end. They are whole, and there is no such block in it yet. */
export function withBlock(text: string | undefined, lines: string): string {
  const place: Place = text === undefined ? 'new file' : text !== '' && !text.endsWith('\n') ? 'line ended' : 'appended'
  return `${text ?? ''}${place === 'line ended' ? '\n' : ''}${begin(lines, place)}${lines}${END}`
}

export function blockIn(text: string | undefined): Held {
  const at = text?.search(/^# rollbook: begin /m) ?? -1
  if (text === undefined || at < 0) return { is: 'absent' }
  const first = text.indexOf('\n', at) + 1
  const end = text.indexOf(END, first)
  if (first === 0 || end < 0) return { is: 'changed' }
  const lines = text.slice(first, end)
  const place = PLACES.find((one) => text.slice(at, first) === begin(lines, one))
  if (!place) return { is: 'changed' }
  const before = text.slice(0, place === 'line ended' ? at - 1 : at)
  const without = before + text.slice(end + END.length)
  return { is: 'own', lines, without: place === 'new file' && without === '' ? undefined : without }
}

const begin = (lines: string, place: Place): string =>
  `# rollbook: begin ${digest(lines)}, ${place}. Written by 'rollbook git setup'; 'rollbook git remove' takes it out.\n`

const END = '# rollbook: end\n'
