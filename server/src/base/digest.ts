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
