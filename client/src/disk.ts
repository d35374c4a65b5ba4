// The disk of the machine that the extension runs on. Loaded only where there is one.
import { mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A new folder of our own. */
export const temporaryFolder = (): Promise<string> => mkdtemp(join(tmpdir(), 'rollbook-'))
