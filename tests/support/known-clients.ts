// What a client was found to declare, beside what is recorded of it; with UPDATE=1 it is recorded anew.
import { writeFileSync } from 'node:fs'
import { expect } from 'vitest'
import { CLIENTS, declaredIn } from '../../server/tools/clients.ts'

const FILE = new URL('../../server/tools/clients.json', import.meta.url)

/** `capabilities` are those of the client's `initialize`. */
export function expectRecorded(client: string, version: string, capabilities: object): void {
  const declares = declaredIn(capabilities)
  if (process.env.UPDATE) {
    const fresh = { version, recorded: new Date().toISOString().slice(0, 10), declares }
    writeFileSync(FILE, `${JSON.stringify(Object.assign(CLIENTS, { [client]: fresh }), null, 2)}\n`)
  }
  const { recorded: _, ...known } = CLIENTS[client]!
  expect({ version, declares }).toEqual(known)
}
