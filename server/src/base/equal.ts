// Whether two values say the same: plain objects, arrays, maps and sets by what is in them, everything else by identity. A function is never
// equal to another one, nor is an object of a class: what holds those must keep the same ones.

export function equalValues(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  const kind = Object.getPrototypeOf(a)
  if (kind !== Object.getPrototypeOf(b)) return false
  if (Array.isArray(a)) return equalLists(a, b as readonly unknown[])
  if (a instanceof Map) return equalMaps(a, b as ReadonlyMap<unknown, unknown>)
  if (a instanceof Set) return equalLists([...a], [...(b as ReadonlySet<unknown>)])
  // Behind a class stands the class of all objects.
  const isPlain = kind === null || Object.getPrototypeOf(kind) === null
  return isPlain && equalObjects(a as Plain, b as Plain)
}

type Plain = Readonly<Record<string, unknown>>

const equalLists = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((value, i) => equalValues(value, b[i]))

/** In the same order too: lists are made of them. */
const equalMaps = (a: ReadonlyMap<unknown, unknown>, b: ReadonlyMap<unknown, unknown>): boolean =>
  a.size === b.size && equalLists([...a.keys()], [...b.keys()]) && [...a].every(([key, value]) => equalValues(value, b.get(key)))

function equalObjects(a: Plain, b: Plain): boolean {
  const keys = Object.keys(a)
  return keys.length === Object.keys(b).length && keys.every((key) => Object.hasOwn(b, key) && equalValues(a[key], b[key]))
}
