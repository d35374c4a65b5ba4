// The rules of the house, held by a test: what may import what, how files begin and are named, and that the core runs in a browser.
import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { basename, join, posix } from 'node:path'
import { createContext, runInContext } from 'node:vm'
import { build } from 'esbuild'
import { describe, expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '..')

/** Files that git knows or would take, as they stand: a new file is held before it is added. */
const FILES = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { cwd: ROOT, encoding: 'utf8' })
  .split('\n')
  .filter((file) => file !== '' && existsSync(join(ROOT, file)))

const read = (file: string): string => readFileSync(join(ROOT, file), 'utf8')

/** The rows of the table headed 'folder | may import'; `main-*` stands for the files beside the folders. */
function layerRows(guide: string): [folder: string, allowed: readonly string[]][] {
  const [, table = ''] = /^\| folder \| may import \|.*\n\|.*\n((?:\|.*\n)+)/m.exec(guide) ?? []
  return [...table.matchAll(/^\| (\S+) \| ([^|]*) \|/gm)].map(([, folder = '', cell = '']) => [
    folder === 'main-*' ? '.' : folder,
    cell
      .split(', ')
      .map((name) => name.trim())
      .filter((name) => name !== 'nothing'),
  ])
}

const SOURCES = FILES.filter((file) => /\.ts$/.test(file) && !/\/generated\/|\.d\.ts$/.test(file))
const SERVER = SOURCES.filter((file) => file.startsWith('server/src/'))

test('the client asks Node for nothing but where there is one: in files that are loaded late', () => {
  const LATE = /\/(?:disk|fork)\.ts$/
  const client = SOURCES.filter((file) => file.startsWith('client/src/'))
  const asks = client.filter((file) => /^import (?!type )[^']*'(?:node:|[\w-]+\/node')/m.test(read(file)))
  expect(asks.filter((file) => !LATE.test(file))).toEqual([])
  const early = client.filter((file) => /^import (?!type )[^']*'\.\/(?:disk|fork)\.ts'/m.test(read(file)))
  expect(early).toEqual([])
})

describe('imports', () => {
  /**
   * What each folder of server/src may import, beside itself: the table of DEVELOPERS.md itself, so that guide and test cannot differ.
   * Everything not named there is absent on purpose.
   */
  const LAYERS: Readonly<Record<string, readonly string[]>> = Object.fromEntries(layerRows(read('DEVELOPERS.md')))

  /** Names of types alone leave nothing behind when the program runs; these folders may look up for them. */
  const TYPES: Readonly<Record<string, readonly string[]>> = {
    assists: ['features'],
    lsp: ['model', 'rules'],
    cli: ['calc'],
  }

  /** Packages, and the only places that may know them. */
  const PACKAGES: Readonly<Record<string, RegExp>> = {
    yaml: /^syntax\/compose\.ts$/,
    'csv-parse': /^cli\/csv\.ts$/,
    'vscode-jsonrpc': /^(?:lsp\/|main-(?:node|worker)\.ts$)/,
    psychrolib: /^calc\/room\.ts$/,
    'vscode-languageserver-textdocument': /^lsp\//,
  }

  /** Packages of which types alone are used: of the protocol's library the server needs what it says, not what it does. */
  const TYPE_PACKAGES: Readonly<Record<string, RegExp>> = { 'vscode-languageserver': /^lsp\// }

  const NODE = /^(?:host\/node(?:-git)?\.ts|cli\/.*|main-[^/]*)$/

  interface Import {
    readonly file: string
    readonly target: string
    readonly typesOnly: boolean
  }

  const imports: readonly Import[] = SERVER.flatMap((path) => {
    const file = path.slice('server/src/'.length)
    const statements = [...read(path).matchAll(/^(?:import|export)\s+(type\s+)?(?:([^'"();]*?)\s*from\s+)?'([^']+)'/gm)]
    const dynamic = [...read(path).matchAll(/\bimport\(\s*'([^']+)'/g)]
    return [
      ...statements.map(([, type, names = '', target = '']) => ({
        file,
        target,
        typesOnly: type !== undefined || onlyTypes(names),
      })),
      ...dynamic.map(([, target = '']) => ({ file, target, typesOnly: false })),
    ]
  })

  function onlyTypes(names: string): boolean {
    const inner = /^\{([\s\S]*)\}$/.exec(names.trim())?.[1]
    return (inner ?? 'none').split(',').every((name) => name.trim() === '' || name.trim().startsWith('type '))
  }

  const folderOf = (file: string): string => (file.includes('/') ? file.slice(0, file.indexOf('/')) : '.')

  function fault({ file, target, typesOnly }: Import): string | undefined {
    if (target.startsWith('node:')) return NODE.test(file) ? undefined : `${file} imports ${target}`
    if (!target.startsWith('.')) {
      const name = target
        .split('/')
        .slice(0, target.startsWith('@') ? 2 : 1)
        .join('/')
      const known = PACKAGES[name] ?? (typesOnly ? TYPE_PACKAGES[name] : undefined)
      return known?.test(file) ? undefined : `${file} imports ${target}`
    }
    const to = posix.join(posix.dirname(file), target)
    if (to.startsWith('..')) return /^\.\.\/\.\.\/schemas\/[\w-]+\.json$/.test(to) ? undefined : `${file} imports ${to}`
    const [from, folder] = [folderOf(file), folderOf(to)]
    const allowed = [...(LAYERS[from] ?? []), ...(typesOnly ? (TYPES[from] ?? []) : [])]
    return from === folder || allowed.includes(folder) || allowed.includes(to) ? undefined : `${file} imports ${to}`
  }

  test('the table of layers names each folder, and only folders and files that are there', () => {
    const folders = new Set(SERVER.map((path) => folderOf(path.slice('server/src/'.length))))
    expect(Object.keys(LAYERS).sort()).toEqual([...folders].sort())
    const gone = Object.values(LAYERS)
      .flat()
      .filter((name) => !folders.has(name) && !existsSync(join(ROOT, 'server', 'src', name)))
    expect(gone).toEqual([])
  })

  test('stay within the layers', () => {
    expect(imports.length).toBeGreaterThan(300)
    expect(imports.map(fault).filter((f) => f !== undefined)).toEqual([])
  })

  test('an import that breaks a layer would be seen', () => {
    expect(fault({ file: 'model/read.ts', target: '../rules/run.ts', typesOnly: false })).toBeDefined()
    expect(fault({ file: 'assists/x.ts', target: '../features/hover.ts', typesOnly: false })).toBeDefined()
    expect(fault({ file: 'rules/x.ts', target: 'yaml', typesOnly: true })).toBeDefined()
    expect(fault({ file: 'lsp/x.ts', target: 'vscode-languageserver', typesOnly: false })).toBeDefined()
    expect(fault({ file: 'features/x.ts', target: 'node:fs', typesOnly: false })).toBeDefined()
    expect(fault({ file: 'cli/run.ts', target: '../lsp/server.ts', typesOnly: false })).toBeDefined()
    expect(onlyTypes('{ type A, B }')).toBe(false)
  })

  test('of what areas reckon reach no text: what is read of documents comes by the setup', () => {
    const reckoning = /^areas\/\w+\/(?:facts|quantities|words|path|advance|tension|head-room|evidence|fine-state|held|drift)\.ts$/
    const reader = /^(?:syntax\/|model\/(?:document|read|facts|edit)\.ts$|workspace\/)/
    const reach = imports
      .filter(({ file }) => reckoning.test(file))
      .map(({ file, target }) => ({ file, to: posix.join(posix.dirname(file), target) }))
    expect(reach.length).toBeGreaterThan(100)
    expect(reach.filter(({ to }) => reader.test(to))).toEqual([])
  })

  /** General rooms that speak of one area, and why: to be fewer, never more. */
  const SPEAK_OF_AN_AREA: Readonly<Record<string, RegExp>> = {
    'the feed, which has a command, a hint and an assist of its own':
      /^(?:cli\/feed(?:-json)?|features\/hints|assists\/set-correction|lsp\/extras)\.ts$/,
    'what looks back, over a feed, an alignment, a heat and a complaint':
      /^cli\/(?:answer-for|history|setting-since|shop-history)\.ts$/,
    'a new profile: test prints, neighbours and whether stock and printer go together':
      /^report\/start\/(?:prints|nearest|pairing|like)\.ts$/,
    'the whole shop: what is proven of lengths, what is to be keyed in, and how one stock prints on several machines':
      /^report\/fleet\/[\w-]+\.ts$/,
  }

  test('of general rooms name no area', () => {
    const named = imports.filter(
      ({ file, target }) =>
        !file.startsWith('areas/') &&
        /^areas\/(?!generated\/)\w[\w-]*\//.test(posix.join(posix.dirname(file), target)) &&
        !file.endsWith('generated/index.ts') &&
        !Object.values(SPEAK_OF_AN_AREA).some((known) => known.test(file)),
    )
    expect(named.map(({ file, target }) => `${file} imports ${target}`)).toEqual([])
  })

  test('name the file, with its ending', () => {
    expect(imports.filter(({ target }) => target.startsWith('.') && !/\.(?:ts|js|json)$/.test(target))).toEqual([])
  })
})

describe('files', () => {
  const without = (files: readonly string[], wanted: (text: string, file: string) => boolean): readonly string[] =>
    files.filter((file) => !wanted(read(file), file))

  test('begin with a sentence that says what they are for', () => {
    expect(without(SOURCES, (text) => /^(?:#!.*\n)?\/\/ \S.{15,}/.test(text))).toEqual([])
  })

  test('of rules are named like their code', () => {
    const rules = SERVER.filter(
      (file) => /^server\/src\/(?:areas\/\w+\/)?rules\/[^/]+\.ts$/.test(file) && !/\/(?:rule|run)\.ts$/.test(file),
    )
    expect(rules.length).toBeGreaterThan(20)
    expect(without(rules, (text, file) => text.includes(`code: '${basename(file, '.ts')}'`))).toEqual([])
  })

  test('of tests run all of their tests', () => {
    const tests = SOURCES.filter((file) => file.startsWith('tests/'))
    expect(without(tests, (text) => !/\b(?:test|it|describe|suite)\s*\.\s*(?:only|skip|todo|fails)\b/.test(text))).toEqual([])
  })

  test('of the core write to no console', () => {
    const core = SERVER.filter((file) => !file.startsWith('server/src/cli/'))
    expect(without(core, (text) => !/(?<![\w.])console\./.test(text))).toEqual([])
  })

  test('name no machine and no address of one', () => {
    // Put together from halves, so that this file does not name them either.
    const local = new RegExp(['/wo' + 'rk/', '/ro' + 'ot/', '/ho' + 'me/\\w', '/Us' + 'ers/\\w', '://regis' + 'try\\.'].join('|'))
    const texts = FILES.filter((file) => !/\.(?:png|vsix|icc)$/.test(file) && file !== 'package-lock.json')
    expect(without(texts, (text) => !local.test(text))).toEqual([])
    expect(read('package-lock.json')).not.toMatch(/"resolved"/)
  })

  test('have no other default exports than configurations', () => {
    expect(without(SOURCES, (text, file) => /config\.ts$/.test(file) || !/^export default/m.test(text))).toEqual([])
  })
})

describe('calculations', () => {
  const ANSWER = 'to be asked for by an answer for one print that a customer measured'
  const DUE = 'to be asked for where many profiles are dated together; the simulation of due dates does'

  /**
   * Exports of calc/ that nothing in server/src uses outside their own file, each with the reason it stays. The list can only shrink: what is used or
   * gone must leave it. A helper needs no export; a step is tested through what uses it.
   */
  const KEPT: Readonly<Record<string, string>> = {
    'conformance.ts conformanceProbability': ANSWER,
    'conformance.ts guardBand': ANSWER,
    'due.ts RateEvidence': DUE,
    'due.ts rateEvidence': DUE,
    'uncertainty.ts combine': 'the published budgets of the GUM are checked by it',
    'roll.ts lengthSensitivity': 'to be shown: how sure the metres left are by a measured diameter',
  }

  const CALC = 'server/src/calc/'

  /** 'file name' of each export of calc/ that no other of the files imports by name; an import of all of a file counts for none of it. */
  function unused(files: ReadonlyMap<string, string>): string[] {
    const used = new Set<string>()
    for (const [path, text] of files)
      for (const [, names = '', target = ''] of text.matchAll(
        /^(?:import|export)\s+(?:type\s+)?\{([^}]*)\}\s*from\s+'(\.[^']+)'/gm,
      ))
        for (const name of names.split(',')) used.add(`${posix.join(posix.dirname(path), target)} ${originalName(name)}`)
    return [...files]
      .filter(([path]) => path.startsWith(CALC))
      .flatMap(([path, text]) => exportsOf(text).map((name) => `${path} ${name}`))
      .filter((one) => !used.has(one))
      .map((one) => one.slice(CALC.length))
      .sort()
  }

  const originalName = (name: string): string =>
    name
      .trim()
      .replace(/^type\s+/, '')
      .replace(/\s+as\s+.*$/, '')

  const exportsOf = (text: string): string[] => [
    ...[
      ...text.matchAll(
        /^export\s+(?:declare\s+|abstract\s+|async\s+)*(?:const|let|function\*?|class|enum|interface|type)\s+(\w+)/gm,
      ),
    ].map(([, name = '']) => name),
    ...[...text.matchAll(/^export\s+(?:type\s+)?\{([^}]*)\}/gm)].flatMap(([, names = '']) =>
      names.split(',').map((name) => name.trim().split(/\s+/).at(-1) ?? ''),
    ),
  ]

  const sources = FILES.filter((file) => /^server\/src\/.*(?<!\.d)\.ts$/.test(file))

  test('are used, or say why they stay', () => {
    expect(unused(new Map(sources.map((file) => [file, read(file)])))).toEqual(Object.keys(KEPT).sort())
  })

  test('that nothing uses would be seen', () => {
    const calc =
      'export const shown = 1\nexport function idle() {}\nexport interface Idle {}\nconst own = 2\nexport { own as other, own }\n'
    const model = "import {\n  type own,\n  shown as here,\n} from '../calc/a.ts'\nimport * as all from '../calc/a.ts'\n"
    const files = new Map([
      ['server/src/calc/a.ts', calc],
      ['server/src/model/b.ts', model],
    ])
    expect(unused(files)).toEqual(['a.ts Idle', 'a.ts idle', 'a.ts other'])
  })
})

test('the core runs where there is neither Node nor a disk', async () => {
  const entry = `
    import { Analysis } from './workspace/analysis.ts'
    import { Workspace } from './workspace/workspace.ts'
    import { MemoryHost } from './host/memory.ts'
    globalThis.check = async (text) => {
      const file = 'memfs:/example.media.yaml'
      const workspace = new Workspace(new MemoryHost(new Map([[file, text]]), '2026-03-31'))
      await workspace.addFolder('memfs:/')
      workspace.update(file, text)
      await workspace.prepare(file)
      const analysis = new Analysis(workspace, true)
      return JSON.stringify({ codes: analysis.findings(file).map((f) => f.code), hover: analysis.hover(file, text.indexOf('gap'))?.markdown })
    }`
  const { outputFiles, warnings } = await build({
    stdin: { contents: entry, resolveDir: join(ROOT, 'server', 'src'), loader: 'ts' },
    bundle: true,
    write: false,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    logLevel: 'silent',
  })
  expect(warnings).toEqual([])
  const scope: { check?: (text: string) => Promise<string> } = {}
  const context = createContext(scope)
  runInContext(outputFiles[0]!.text, context)
  expect(runInContext('typeof process + typeof Buffer + typeof require', context)).toBe('undefinedundefinedundefined')
  const answer = JSON.parse(await scope.check!('profile: example\ngap: 2\ntitle: "open\n')) as { codes: string[]; hover: string }
  expect(answer.codes).toEqual(expect.arrayContaining(['missing-unit', 'syntax']))
  expect(answer.hover).toContain('**gap**')
})
