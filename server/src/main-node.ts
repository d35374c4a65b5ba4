// The language server on Node: over standard input and output, or over the channel an editor gives.
import { NodeHost } from './host/node.ts'
import { overStreams } from './lsp/framing.ts'
import { MessageType } from './lsp/protocol.ts'
import { serve } from './lsp/server.ts'
import { type Channel, Talk } from './lsp/talk.ts'
import { VERSION } from './version.ts'

let shut = false
/** Where what comes in ends, or cannot be followed any further, the talk is over. */
const end = (): never => process.exit(shut ? 0 : 1)
const channel = process.argv.includes('--stdio') ? overStdio() : overIpc()
if (channel === undefined) {
  process.stderr.write('rollbook: The language server talks over standard input and output: start it with --stdio.\n')
  process.exit(1)
}
const talk = new Talk(channel)
const host = new NodeHost((level, message) =>
  talk.tell('window/logMessage', { type: level === 'error' ? MessageType.Error : MessageType.Info, message }),
)
serve(talk, host, VERSION, {
  greeted: watchClient,
  shut() {
    shut = true
  },
  exit: end,
})

function overStdio(): Channel {
  process.stdin.on('end', end).on('close', end)
  // A client that is gone takes nothing more.
  process.stdout.on('error', end)
  return overStreams(process.stdin, process.stdout, (error) => {
    const body = error instanceof SyntaxError
    const what = body ? 'A message that is not JSON is left out' : 'A message cannot be told from the next, and the server ends'
    process.stderr.write(`rollbook: ${what}: ${error.message.split('\n', 1)[0]}\n`)
    if (!body) process.exit(1)
  })
}

/** The channel of a process that an editor forked. */
function overIpc(): Channel | undefined {
  if (process.send === undefined) return undefined
  process.on('disconnect', end)
  return {
    // Where nobody listens any more, `disconnect` says so.
    send: (message) => void process.send?.(message, undefined, undefined, () => undefined),
    listen: (take) => void process.on('message', take),
  }
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
