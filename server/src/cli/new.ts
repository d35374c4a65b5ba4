// `rollbook new`: a shop, a stock, a printer, an instrument or a profile from answers, by options, by a file of answers or at a terminal. Nothing is ever
// written over, and what is written has no error in it.
import { dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { nearest } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import { answersIn } from '../report/new/given.ts'
import { NEW_KINDS, type NewKind } from '../report/new/question.ts'
import { DOCUMENT_OF, QUESTIONS, shown } from '../report/new/questions.ts'
import type { RawAnswers } from '../report/new/read.ts'
import { kindOfFile } from '../schema/schema.ts'
import { type Fault, type NewAnswer, newDocument, nextQuestions } from '../workspace/beginning.ts'
import { askAll } from './asking.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { CI, CI_FILE, CI_TEXT, type Ci, PACKAGE } from './ci-files.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type OptionSpecs, type Options, seeHelp } from './options.ts'
import { type StartWish, startProfile, wishIn } from './start.ts'
import { printable, styleOf } from './terminal.ts'

const ALL_KEYS: readonly string[] = [...new Set(NEW_KINDS.flatMap((kind) => QUESTIONS[kind].map(({ key }) => key)))]

/** Each question is an option. */
export const NEW_OPTIONS: OptionSpecs = {
  ...Object.fromEntries(ALL_KEYS.map((key) => [key, 'text' as const])),
  answers: 'text',
  questions: 'flag',
  into: 'text',
  like: 'text',
  out: 'text',
  ci: CI,
  today: 'text',
}

type Made = Extract<NewAnswer, { readonly ok: true }>

export async function makeNew(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const kind = kindOf(options)
  if (options.has('questions')) {
    cli.out(`${JSON.stringify({ kind, questions: QUESTIONS[kind].map((question) => shown(kind, question)) }, null, 2)}\n`)
    return EXIT.clean
  }
  demandSense(kind, options)
  // What is carried from another profile is asked of nobody.
  if (options.has('like')) {
    if (!options.has('printer')) throw new CannotRun(`A profile like another one needs a printer: --printer P.${seeHelp('new')}`)
    return startProfile(cli, wishIn(options), at)
  }
  at('reading the answers')
  const given = await givenIn(cli, kind, options)
  at('looking for the shop')
  const bench = openBench(cli)
  const [into, out] = [options.word('into'), options.word('out')]
  const path = out === undefined || out === '-' ? undefined : resolve(cli.cwd, out)
  const folder = await (path === undefined ? bench.addShopsOf(cli.cwd, 'folder') : bench.addShopsOf(path, 'file'))
  // A new shop is where one stands, or where it is said to be.
  const place = fileUri(`${kind === 'shop' ? (path === undefined ? cli.cwd : dirname(path)) : folder}/rollbook.yaml`)
  at('asking')
  const talk = options.has('answers') ? undefined : cli.talk()
  const ask = (answers: RawAnswers) => nextQuestions(bench.workspace, place, { kind, given: answers, into })
  const answers = talk ? await askAll(talk, styleOf(cli), given, ask).finally(() => talk.end()) : given
  at(`making a new ${kind}`)
  const file = path === undefined ? undefined : fileUri(path)
  if (kind === 'profile') {
    const { faults, questions } = await ask(answers)
    const missing = questions.filter(({ must }) => must).map(({ key, ask: reason }) => ({ key, reason }))
    if (faults.length + missing.length > 0) throw new CannotRun(refusalText(kind, { faults: [...faults, ...missing] }))
    return startProfile(cli, { ...wishOf(answers), out }, at)
  }
  const made = await newDocument(bench.workspace, place, { kind, given: answers, into, file })
  if (!made.ok) throw new CannotRun(refusalText(kind, made))
  if (out === '-') cli.out(made.text)
  else await write(cli, bench, kind, made, options.word('ci') as Ci | undefined)
  tellOpen(cli, kind, made, out !== '-' && into === undefined)
  tellTroubles(cli, bench)
  return bench.troubles.length > 0 || bench.workspace.unread(place).length > 0 ? EXIT.findings : EXIT.clean
}

function kindOf({ positionals }: Options): NewKind {
  const [word, ...others] = positionals
  const list = `${NEW_KINDS.slice(0, -1).join(', ')} or ${NEW_KINDS.at(-1)}`
  if (word === undefined) throw new CannotRun(`rollbook new takes what is to be made: ${list}.${seeHelp('new')}`)
  const meant = nearest(word, NEW_KINDS)
  if (!NEW_KINDS.includes(word as NewKind))
    throw new CannotRun(
      `rollbook new makes no '${word}'.${meant === undefined ? ` It makes a ${list}.` : ` Do you mean '${meant}'?`}${seeHelp('new')}`,
    )
  if (others.length > 0)
    throw new CannotRun(`rollbook new makes one thing at a time; answers are given as options.${seeHelp('new')}`)
  return word as NewKind
}

/** Throws `CannotRun` for options that mean nothing together. */
function demandSense(kind: NewKind, options: Options): void {
  const own = QUESTIONS[kind].map(({ key }) => key)
  const strange = ALL_KEYS.find((key) => options.has(key) && !own.includes(key))
  if (strange !== undefined) throw new CannotRun(`A new ${kind} is not asked for --${strange}.${seeHelp('new')}`)
  if (options.has('ci') && kind !== 'shop') throw new CannotRun(`--ci goes with a new shop.${seeHelp('new')}`)
  if (options.has('like') && (kind !== 'profile' || options.has('answers')))
    throw new CannotRun(`--like goes with a new profile, without --answers.${seeHelp('new')}`)
  if (options.has('into') && kind !== 'stock' && kind !== 'printer')
    throw new CannotRun(`--into names a stock or a printer that answers are added to.${seeHelp('new')}`)
  const out = options.word('out')
  if (out === undefined) return
  if (kind === 'instrument' || options.has('into'))
    throw new CannotRun(`--out names a new file, and here a document that is there is added to.${seeHelp('new')}`)
  if (out !== '-' && kindOfFile(out) !== DOCUMENT_OF[kind])
    throw new CannotRun(
      `'${out}' is no name for a ${kind}: ${kind === 'shop' ? 'its document is named rollbook.yaml' : `these are named *.${DOCUMENT_OF[kind]}.yaml`}.`,
    )
}

/** What the file of answers says, and the options, which win. */
async function givenIn(cli: CliHost, kind: NewKind, options: Options): Promise<RawAnswers> {
  const keys = QUESTIONS[kind].map(({ key }) => key)
  const name = options.word('answers')
  const answers = new Map<string, string | readonly string[]>()
  if (name !== undefined) {
    const text = await (name === '-' ? cli.stdin() : cli.host.read(fileUri(resolve(cli.cwd, name))))
    const read = answersIn(text, keys)
    if (read.problems.length > 0) throw new CannotRun(read.problems.join(' '))
    for (const [key, answer] of read.answers) answers.set(key, answer)
  }
  for (const key of keys) {
    const words = options.words(key)
    if (words.length > 0) answers.set(key, words.length === 1 ? words[0]! : words)
  }
  return answers
}

function refusalText(
  kind: NewKind,
  { refused, faults }: { readonly refused?: string; readonly faults: readonly Fault[] },
): string {
  const told = faults.map(({ key, reason }) => ` ${key}: ${reason}`)
  return `No ${kind} is made.${refused === undefined ? '' : ` ${refused}`}${told.join('')}${faults.length > 0 ? ` 'rollbook new ${kind} --questions' lists all that is asked.` : ''}`
}

function wishOf(answers: RawAnswers): Omit<StartWish, 'out'> {
  const one = (key: string): string | undefined => {
    const answer = answers.get(key)
    const text = typeof answer === 'string' ? answer.trim() : answer?.[0]
    return text === '' || text === 'unknown' ? undefined : text
  }
  return { stock: one('stock')!, printers: [one('printer')!], mode: one('mode'), id: one('id') }
}

async function write(cli: CliHost, bench: Bench, kind: NewKind, { file, before, text }: Made, ci: Ci | undefined): Promise<void> {
  if (before !== undefined) {
    await cli.rewrite(file, before, text)
    return cli.err(`${printable(`${bench.shown(file)} is added to; nothing else in it has changed.`)}\n`)
  }
  const path = fileURLToPath(file)
  const files = new Map([[path, text]])
  if (kind === 'shop') {
    const attributes = join(dirname(path), '.gitattributes')
    if ((await cli.look(attributes)) === undefined) files.set(attributes, ATTRIBUTES)
    else cli.err(`.gitattributes is there already and left as it is; see that it says '${ATTRIBUTE}'.\n`)
    if (ci !== undefined) files.set(join(await repositoryOf(cli, dirname(path)), CI_FILE[ci]), CI_TEXT[ci])
  }
  await cli.createAll(files)
  for (const made of files.keys()) cli.err(`${printable(`${bench.shown(fileUri(made))} is written.`)}\n`)
  if (ci !== undefined) cli.err(`The build takes Rollbook from ${PACKAGE}: put the package there, as README.md says.\n`)
}

/** Documents are text on every machine, so that one that edits on Windows does not change every line. */
const ATTRIBUTE = '*.yaml text'

const ATTRIBUTES = `# Line ends are kept as one kind, whatever machine a document was edited on: a change is then the lines that changed.
${ATTRIBUTE}
`

/** The folder that is a git repository, where a build looks for its workflow; the shop's own where there is none. */
async function repositoryOf(cli: CliHost, folder: string): Promise<string> {
  for (let at = folder; ; at = dirname(at)) {
    if ((await cli.look(join(at, '.git')).catch(() => undefined)) !== undefined) return at
    if (dirname(at) === at) return folder
  }
}

/** What follows on a new document. */
const NEXT: Readonly<Partial<Record<NewKind, string>>> = {
  shop: "Next: 'rollbook new instrument' for the rule you measure with, then a stock and a printer.",
  stock: "Next: 'rollbook new printer' where there is none yet, then 'rollbook new profile'.",
  printer: "Next: 'rollbook new profile' joins it with a stock, and lists the test prints to make first.",
}

function tellOpen(cli: CliHost, kind: NewKind, { remarks, open }: Made, goesOn: boolean): void {
  for (const remark of remarks) cli.err(`${printable(remark)}\n`)
  const lacking = open.filter(({ open: text }) => text?.startsWith('Unknown'))
  if (lacking.length > 0) {
    const later = kind === 'stock' || kind === 'printer' ? ` 'rollbook new ${kind} --into' adds them when they are known.` : ''
    cli.err(`Left open, so not judged: ${lacking.map(({ key }) => key).join(', ')}.${later}\n`)
  }
  if (goesOn && NEXT[kind] !== undefined) cli.err(`${NEXT[kind]}\n`)
}
