// The files of a shop as they stand in an editor: what is typed there and not saved counts, as it does for everything else that is told there.
import type { Host } from '../host/host.ts'
import { kindOfFile } from '../schema/schema.ts'

/** The files of a host, but that some have these texts, and are there even where no file is. */
export const withTexts = (host: Host, texts: ReadonlyMap<string, string>): Host => ({
  async list(folder, depth = Number.POSITIVE_INFINITY, unlisted, others) {
    const listed = await host.list(folder, depth, unlisted, others)
    const below = (file: string): number => file.slice(folder.length).split('/').length - 1
    const there = [...texts.keys()].filter((file) => file.startsWith(folder) && kindOfFile(file) && below(file) <= depth)
    return [...new Set([...listed, ...there])]
  },
  read: async (file) => texts.get(file) ?? host.read(file),
  readBytes: (file, most) => host.readBytes(file, most),
  today: () => host.today(),
  log: (level, message) => host.log(level, message),
})

/** Of these texts those that are not what the host has. A mark of the encoding at the beginning of a file is no part of its text in an editor. */
export async function otherThan(host: Host, texts: ReadonlyMap<string, string>): Promise<ReadonlyMap<string, string>> {
  const out = new Map<string, string>()
  for (const [file, text] of texts) {
    const had = await host.read(file).catch(() => undefined)
    if (had === undefined || unmarked(had) !== unmarked(text)) out.set(file, text)
  }
  return out
}

const unmarked = (text: string): string => text.replace(/^\ufeff/, '')
