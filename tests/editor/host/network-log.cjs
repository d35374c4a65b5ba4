// Loaded into a Node.js process (require, or NODE_OPTIONS=--require=...): writes down each connection that is not to this machine.
// Each process also writes that it is watched, so that a test can tell silence from absence.
const { appendFileSync } = require('node:fs')
const net = require('node:net')
const dns = require('node:dns')

const file = process.env.EDITOR_HOST_NETWORK_LOG
const write = (entry) =>
  appendFileSync(file, `${JSON.stringify({ process: process.argv.slice(1).join(' '), pid: process.pid, ...entry })}\n`)
const isHere = (host) => !host || /^(localhost|127\.|::1$|::ffff:127\.)/.test(host)

if (file) {
  write({ watched: true })
  const { connect } = net.Socket.prototype
  net.Socket.prototype.connect = function (...args) {
    // Both calling forms arrive here: connect(options) and, from net.connect, connect([options, listener]).
    const [options] = Array.isArray(args[0]) ? args[0] : args
    const host = typeof options === 'object' ? options?.host : typeof args[1] === 'string' ? args[1] : undefined
    if (!isHere(host)) write({ connected: host })
    return connect.apply(this, args)
  }
  const { lookup } = dns
  dns.lookup = function (name, ...rest) {
    if (!isHere(name)) write({ lookedUp: name })
    return lookup.call(this, name, ...rest)
  }
}
