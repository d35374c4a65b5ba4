// Run as a process of its own: how long the extension's own code takes to load and to activate, where no document of ours is open. The editor is an object
// that lets everything be done to it. Argument: the extension's bundle.
import Module from 'node:module'

const anything: unknown = new Proxy(class {}, {
  get: (_, key) =>
    key === Symbol.toPrimitive ? () => '' : key === 'then' ? undefined : key === Symbol.iterator ? [][Symbol.iterator] : anything,
  set: () => true,
  apply: () => anything,
  construct: () => anything as object,
})

/** What is taken from a module is looked up in its prototype too. */
const vscode: unknown = Object.create(anything as object)

const { _load } = Module as unknown as { _load: (name: string, ...rest: unknown[]) => unknown }
Object.assign(Module, { _load: (name: string, ...rest: unknown[]) => (name === 'vscode' ? vscode : _load(name, ...rest)) })

const context = {
  subscriptions: [],
  extensionUri: anything,
  globalState: anything,
  workspaceState: anything,
  extension: anything,
}
const start = performance.now()
const before = process.cpuUsage()
const extension = Module.createRequire(process.argv[2]!)(process.argv[2]!) as { activate: (context: unknown) => void }
extension.activate(context)
const { user, system } = process.cpuUsage(before)
const cpu = (user + system) / 1000
// Whatever it began to wait for is not waited for here.
process.stdout.write(JSON.stringify({ cpu, wall: performance.now() - start }), () => process.exit())
