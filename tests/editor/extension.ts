// The built extension, copied to where no later build can change it under a running editor.
import { cpSync } from 'node:fs'
import { join } from 'node:path'

const ROOT = join(import.meta.dirname, '..', '..')

/** Copies what the manifest and the bundles are to `folder`/extension, and returns that. */
export function copyOfExtension(folder: string): string {
  const copy = join(folder, 'extension')
  for (const part of ['package.json', 'package.nls.json', 'client', 'dist'])
    cpSync(join(ROOT, part), join(copy, part), { recursive: true })
  return copy
}
