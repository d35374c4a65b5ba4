// Loaded into every measured process (`node --require`): answers over the IPC channel what the process has cost so far, and profiles it.
// A process without a channel tells its CPU time on descriptor 3 when it ends. Plain CommonJS: it must cost next to nothing itself.
const { writeSync } = require('node:fs')

const cpu = () => {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1000
}

if (process.send) {
  let session
  process.on('message', (message) => {
    if (message.ask === 'cpu') process.send({ id: message.id, cpu: cpu() })
    if (message.ask === 'memory') {
      for (let i = 0; i < 3; i++) globalThis.gc?.()
      const { rss, heapUsed } = process.memoryUsage()
      process.send({ id: message.id, rss, heapUsed })
    }
    if (message.ask === 'profile') {
      session = new (require('node:inspector').Session)()
      session.connect()
      session.post('Profiler.enable')
      session.post('Profiler.setSamplingInterval', { interval: 200 })
      session.post('Profiler.start', () => process.send({ id: message.id }))
    }
    if (message.ask === 'profiled') session.post('Profiler.stop', (_, { profile }) => process.send({ id: message.id, profile }))
    if (message.ask === 'parses') process.send({ id: message.id, parses: globalThis.rollbookParses ?? 0 })
  })
  process.channel.unref()
} else {
  process.on('exit', () => {
    try {
      writeSync(3, String(cpu()))
    } catch {
      // Nobody listens.
    }
  })
}
