// A short name for a text, the same on every machine and in every version: FNV-1a over its UTF-8 bytes, 64 bits, as 16 hexadecimal digits.
// Source: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash Algorithm". It keeps no secret and proves nothing.

const OFFSET_BASIS = 0xcbf29ce484222325n
const PRIME = 0x100000001b3n
const BITS = 0xffffffffffffffffn

export function digest(text: string): string {
  let hash = OFFSET_BASIS
  for (const byte of new TextEncoder().encode(text)) hash = ((hash ^ BigInt(byte)) * PRIME) & BITS
  return hash.toString(16).padStart(16, '0')
}

/**
 * A short name that tells a text from another of the same server: two 32-bit lanes of FNV-1a over its UTF-16 units, with primes that differ, and its length.
 * A hundred times quicker than `digest`; written down nowhere.
 */
export function mark(text: string): string {
  let [a, b] = [0x811c9dc5, 0x9747b28c]
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i)
    a = Math.imul(a ^ unit, 0x01000193)
    b = Math.imul(b ^ unit, 0x85ebca6b)
    b ^= b >>> 13
  }
  return `${(a >>> 0).toString(36)}.${(b >>> 0).toString(36)}.${text.length.toString(36)}`
}
