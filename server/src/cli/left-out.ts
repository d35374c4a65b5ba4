// What the documents of stocks and printers leave out, so that profiles could not be judged: gathered over all that was checked, told once for each.
import type { Undescribed } from '../areas/undescribed.ts'
import { listed, plural } from '../rules/support/words.ts'

/** For machines; `file` is the path of the stock or printer that leaves `lacks` out. */
export interface LeftOutEntry {
  readonly file: string
  readonly lacks: string
  readonly areas: readonly string[]
  readonly profiles: number
}

interface Key {
  readonly lacks: string
  readonly areas: Set<string>
  readonly profiles: Set<number>
}

export class LeftOut {
  private readonly documents = new Map<string, { readonly id: string; readonly keys: Map<string, Key> }>()
  private checked = 0

  /** One profile. `shown`: a file as a person knows it. */
  take(found: readonly Undescribed[], shown: (file: string) => string): void {
    const profile = this.checked++
    for (const { area, file, id, lacks } of found) {
      const path = shown(file)
      const document = this.documents.get(path) ?? { id, keys: new Map<string, Key>() }
      this.documents.set(path, document)
      const key = document.keys.get(lacks) ?? { lacks, areas: new Set(), profiles: new Set() }
      document.keys.set(lacks, key)
      key.areas.add(area)
      key.profiles.add(profile)
    }
  }

  get entries(): readonly LeftOutEntry[] {
    return this.sorted.flatMap(([file, { keys }]) =>
      [...keys.values()].map(({ lacks, areas, profiles }) => ({ file, lacks, areas: [...areas], profiles: profiles.size })),
    )
  }

  /** `Not judged: heat and slot of 4 profiles, because bay-1 does not give heaters and slots.` */
  get lines(): readonly string[] {
    return this.sorted.map(
      ([, { id, keys }]) =>
        `Not judged: ${areasText([...keys.values()])}, because ${id} does not give ${listed([...keys.keys()])}.`,
    )
  }

  private get sorted() {
    return [...this.documents].sort(([a], [b]) => (a < b ? -1 : 1))
  }
}

/** Areas of as many profiles are told together, those of the most first. */
function areasText(keys: readonly Key[]): string {
  const profiles = new Map<string, Set<number>>()
  for (const key of keys)
    for (const area of key.areas) profiles.set(area, new Set([...(profiles.get(area) ?? []), ...key.profiles]))
  const byCount = new Map<number, string[]>()
  for (const [area, { size }] of profiles) byCount.set(size, [...(byCount.get(size) ?? []), area])
  const groups = [...byCount].sort(([a], [b]) => b - a)
  return groups.map(([count, areas]) => `${listed(areas)} of ${plural(count, 'profile')}`).join('; ')
}
