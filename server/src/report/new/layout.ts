// Writes a new document in the layout of the samples: a section of several lines stands apart, what belongs closely together stands on one line in braces.
import type { Entry } from './entry.ts'

/** Sections that stand on one line: the keys that lead to them, with `*` for any. */
const ON_ONE_LINE: readonly RegExp[] = [/^roll$/, /^dry-touch$/, /^heaters \S+$/, /^feed repeatability$/, /^lots 0$/]

export const isOneLine = (path: readonly (string | number)[]): boolean => ON_ONE_LINE.some((one) => one.test(path.join(' ')))

type Branch = Map<string | number, Branch | string>

/** The text of a document that holds these entries and no more, in their order. */
export function layout(entries: readonly Entry[]): string {
  const root: Branch = new Map()
  for (const { path, yaml } of entries) {
    let at = root
    for (const key of path.slice(0, -1)) {
      const below = at.get(key)
      const next: Branch = below instanceof Map ? below : new Map()
      at.set(key, next)
      at = next
    }
    const last = path.at(-1)!
    if (!(at.get(last) instanceof Map)) at.set(last, yaml)
  }
  const lines: string[] = []
  let apart = false
  for (const [key, value] of root) {
    const group = linesOf([key], value, '')
    if (lines.length > 0 && (apart || group.length > 1)) lines.push('')
    apart = group.length > 1
    lines.push(...group)
  }
  return `${lines.join('\n')}\n`
}

function linesOf(path: readonly (string | number)[], value: Branch | string, indent: string): readonly string[] {
  const key = path.at(-1)!
  if (typeof value === 'string') return [`${indent}${key}: ${value}`]
  if (isOneLine(path)) return [`${indent}${key}: ${braces(value)}`]
  if (value.has(0))
    return [
      `${indent}${key}:`,
      ...[...value.values()].map((item) => `${indent}  - ${typeof item === 'string' ? item : braces(item)}`),
    ]
  return [`${indent}${key}:`, ...[...value].flatMap(([name, below]) => linesOf([...path, name], below, `${indent}  `))]
}

function braces(branch: Branch): string {
  const pairs = [...branch].map(([key, value]) => `${key}: ${typeof value === 'string' ? value : braces(value)}`)
  return `{ ${pairs.join(', ')} }`
}
