// The language server on Node: over stdio, or over the channel an editor gives.
import { Writable } from 'node:stream'
import { setFlagsFromString } from 'node:v8'
import { createConnection, ProposedFeatures, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node'
import { NodeHost } from './host/node.ts'
import { serve } from './lsp/server.ts'
import { VERSION } from './version.ts'

compileLess()
let shut = false
const connection = process.argv.includes('--stdio')
  ? createConnection(ProposedFeatures.all, input(), new StreamMessageWriter(joined(process.stdout)))
  : createConnection(ProposedFeatures.all)
serve(
  connection,
  new NodeHost((level, message) => (level === 'error' ? connection.console.error(message) : connection.console.info(message))),
  VERSION,
  () => {
    shut = true
  },
)

/** What comes in. Where it ends, or cannot be followed any further, the talk is over. */
function input(): StreamMessageReader {
  const end = (): void => process.exit(shut ? 0 : 1)
  process.stdin.on('end', end).on('close', end)
  // A client that is gone takes nothing more.
  process.stdout.on('error', end)
  const reader = new StreamMessageReader(process.stdin)
  reader.onError((error) => {
    const body = error instanceof SyntaxError
    const what = body ? 'A message that is not JSON is left out' : 'A message cannot be told from the next, and the server ends'
    process.stderr.write(`rollbook: ${what}: ${error.message.split('\n', 1)[0]}\n`)
    if (!body) process.exit(1)
  })
  return reader
}

/** The protocol writes each message's header and body by themselves. Handed on together they cost one system call, and at a keystroke those add up. */
function joined(out: NodeJS.WritableStream): Writable {
  let header: Buffer | undefined
  return new Writable({
    write(chunk: Buffer, _encoding, done) {
      if (!header && chunk.length < 200 && chunk.toString('latin1').startsWith('Content-Length:')) {
        header = chunk
        done()
        return
      }
      const whole = header ? Buffer.concat([header, chunk]) : chunk
      header = undefined
      out.write(whole, done)
    },
  })
}

/**
 * The engine of Node 20 compiles code again and again while a document is first worked on, on other threads but on the same battery: a third
 * of all that a keystroke costs. Compiled later and in smaller parts it costs less from the first keystroke on (`npm run bench -- --only server`).
 * Newer engines do so by themselves.
 */
function compileLess(): void {
  if (!process.versions.v8.startsWith('11.')) return
  setFlagsFromString('--interrupt-budget=200000')
  setFlagsFromString('--max-inlined-bytecode-size-cumulative=200')
}
