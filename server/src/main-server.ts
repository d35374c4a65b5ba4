// The language server, wherever it is started: in a worker of a browser's editor, or on Node. One bundle is shipped for both.
import { serveOnNode } from './main-node.ts'
import { serveInWorker } from './main-worker.ts'

if ('WorkerGlobalScope' in globalThis) serveInWorker()
else serveOnNode()
