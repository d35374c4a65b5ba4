// The `yaml` package reads only what our own reader hands on, and is loaded with the first such text: making all of its parts ready is a fifth
// of what loading the engine costs.
import type { Plugin } from 'esbuild'
import * as yaml from 'yaml'

/** Each name stands for the one in the package, which is looked up when it is called. */
const names = Object.entries(yaml).flatMap(([name, value]) => (typeof value === 'function' ? [name] : []))

const STANDIN = `let library
const late = (name) =>
  function (...args) {
    const found = (library ??= require('yaml'))[name]
    return new.target ? new found(...args) : found(...args)
  }
${names.map((name) => `export const ${name} = /* @__PURE__ */ late('${name}')`).join('\n')}
`

export const yamlLate: Plugin = {
  name: 'yaml-late',
  setup({ onLoad, onResolve, initialOptions: { absWorkingDir: resolveDir = '.' } }) {
    onResolve({ filter: /^yaml$/ }, ({ kind }) => (kind === 'import-statement' ? { path: 'yaml', namespace: 'late' } : undefined))
    onLoad({ filter: /.*/, namespace: 'late' }, () => ({ contents: STANDIN, resolveDir, loader: 'js' }))
  },
}
