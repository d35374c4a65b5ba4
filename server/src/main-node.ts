// The language server on Node: over standard input and output, or over the channel an editor gives. `main-server.ts` calls it.
import {
  createMessageConnection,
  IPCMessageReader,
  IPCMessageWriter,
  type MessageReader,
  type MessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node'
import { NodeHost } from './host/node.ts'
import { GitRevisions } from './host/node-git.ts'
import { MessageType } from './lsp/protocol.ts'
import { serve } from './lsp/server.ts'
import { VERSION } from './version.ts'

let shut = false
/** Where what comes in ends, or cannot be followed any further, the talk is over. */
const end = (): never => process.exit(shut ? 0 : 1)

export function serveOnNode(): void {
  const [reader, writer] = transport()
  reader.onClose(end)
  reader.onError(damaged)
  // A client that is gone takes nothing more.
  writer.onError(end)
  const connection = createMessageConnection(reader, writer, { error: complain, warn: complain, info: complain, log: complain })
  const host = new NodeHost((level, message) => {
    const type = level === 'error' ? MessageType.Error : MessageType.Info
    connection.sendNotification('window/logMessage', { type, message }).catch(end)
  })
  const life = {
    greeted: watchClient,
    shut() {
      shut = true
    },
    exit: end,
  }
  serve(connection, host, VERSION, life, new GitRevisions())
}

function transport(): [MessageReader, MessageWriter] {
  if (process.argv.includes('--stdio')) {
    process.stdin.on('end', end)
    return [new StreamMessageReader(process.stdin), new StreamMessageWriter(process.stdout)]
  }
  if (process.send === undefined) {
    complain('The language server talks over standard input and output: start it with --stdio.')
    process.exit(1)
  }
  // An editor has forked this process.
  process.on('disconnect', end)
  return [new IPCMessageReader(process), new IPCMessageWriter(process)]
}

/** One message that cannot be read costs no more than itself, unless it hides where the next one begins: then the library throws a plain error. */
function damaged(error: Error): void {
  const alone = error instanceof SyntaxError || error instanceof TypeError
  complain(`${alone ? 'A message is left out' : 'A message cannot be told from the next, and the server ends'}: ${error.message}`)
  if (!alone) process.exit(1)
}

/** What is wrong with the talk itself is told beside it. */
function complain(message: string): void {
  process.stderr.write(`rollbook: ${message.split('\n', 1)[0]}\n`)
}

/** A client that dies leaves its end of the channel to whoever inherited it; then nobody is left to say so. */
function watchClient(id: unknown): void {
  if (typeof id !== 'number') return
  setInterval(() => {
    try {
      process.kill(id, 0)
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ESRCH') end()
    }
  }, 3000).unref()
}
