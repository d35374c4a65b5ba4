// Samples typed anew into an empty document of their name, with their shop around them, over the protocol.
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Client } from '../protocol/client.ts'
import { ROOT } from './fixture.ts'
import { type Sample, samples } from './texts.ts'
import { type Enter, Typist } from './typist.ts'

/** A day on which the samples' checks are fresh. */
const TODAY = '2026-11-25'

export interface Replayed {
  readonly documents: number
  readonly keys: number
  readonly asked: number
  /** Each document that came out otherwise: its name, the first line that did, and what became of it. */
  readonly otherwise: readonly string[]
}

export interface Replay {
  /** The folder of samples/. */
  readonly folder: string
  readonly enter: Enter
  /** Which lines of a document are typed key by key; the others are pasted. */
  readonly isTyped?: (line: number) => boolean
  readonly isWanted?: (sample: Sample) => boolean
}

export async function replay({ folder, enter, isWanted = () => true, isTyped }: Replay): Promise<Replayed> {
  const all = samples().filter(({ name }) => name.startsWith(`${folder}/`))
  const files = new Map(all.map(({ name, text }) => [ROOT + name, text]))
  const { client, answer } = await Client.start('', { host: new MemoryHost(files, TODAY) })
  const otherwise: string[] = []
  let [keys, asked] = [0, 0]
  const wanted = all.filter(isWanted)
  for (const sample of wanted) {
    const typist = await Typist.at(client, answer, sample.name, '', enter)
    await typist.write(sample.text, isTyped)
    keys += typist.keys
    asked += typist.asked
    if (typist.text !== sample.text) otherwise.push(differenceIn(sample, typist.text))
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: ROOT + sample.name } })
  }
  await client.stop()
  return { documents: wanted.length, keys, asked, otherwise }
}

function differenceIn({ name, text }: Sample, typed: string): string {
  const [wanted, came] = [text.split('\n'), typed.split('\n')]
  const n = wanted.findIndex((line, i) => line !== came[i])
  return `${name}: ${JSON.stringify(wanted[n])} came out as ${JSON.stringify(came[n])}`
}
