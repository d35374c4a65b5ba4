// The command line `rollbook`: picks the command, and turns everything that goes wrong into one plain sentence and an exit code.
import { nearest } from '../base/nearest.ts'
import type { Host } from '../host/host.ts'
import { EVIDENCE } from '../model/evidence.ts'
import { isDate } from '../model/read.ts'
import { answerAtOnce } from './answer.ts'
import { ANSWER_FORMATS, answer } from './answer-for.ts'
import { check, FORMATS } from './check.ts'
import { DELIMITERS } from './csv.ts'
import { differences } from './differences.ts'
import { due } from './due.ts'
import { explain } from './explain.ts'
import { exportTable, TABLE_FORMATS, WHAT } from './export.ts'
import { feed } from './feed.ts'
import { git } from './git.ts'
import { HELP } from './help.ts'
import { history } from './history.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { importTable } from './import.ts'
import { makeNew, NEW_OPTIONS } from './new.ts'
import { type OptionSpecs, type Options, readOptions, seeHelp } from './options.ts'
import { PICTURED, picture } from './picture.ts'
import { reckon } from './reckon.ts'
import { RECORD_OPTIONS, record } from './record.ts'
import { FAIL_ON } from './report/report.ts'
import { REVIEW_FAILS, REVIEW_FORMATS, review } from './review.ts'
import { SET_OPTIONS, setValues } from './set.ts'
import { since } from './setting-since.ts'
import { PAPER_SIZES, sheet } from './sheet.ts'
import { SHOP_FORMATS, shop } from './shop.ts'
import { start } from './start.ts'
import { printable } from './terminal.ts'
import { TO_KEY_FORMATS, toKey } from './to-key.ts'
import { WORK_OUT_OPTIONS, workOut } from './work-out.ts'

interface Command {
  readonly options: OptionSpecs
  /** Gives the exit code. `at` is told what is being done, in case it cannot be finished. */
  run(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> | number
}

const COMMANDS: Readonly<Record<string, Command>> = {
  check: {
    options: {
      format: FORMATS,
      quiet: 'flag',
      'fail-on': FAIL_ON,
      due: 'flag',
      'changed-since': 'text',
      'new-since': 'text',
      staged: 'flag',
      fix: 'flag',
      'stdin-name': 'text',
      cache: 'text',
      jobs: 'text',
      today: 'text',
    },
    run: check,
  },
  due: { options: { json: 'flag', 'fail-on': FAIL_ON, today: 'text' }, run: due },
  feed: { options: { json: 'flag', at: 'text', today: 'text' }, run: feed },
  since: { options: { json: 'flag', today: 'text' }, run: since },
  history: { options: { shop: 'flag', json: 'flag', today: 'text' }, run: history },
  answer: { options: { date: 'text', seen: 'text', format: ANSWER_FORMATS, today: 'text' }, run: answer },
  differences: { options: { json: 'flag', today: 'text' }, run: differences },
  shop: { options: { format: SHOP_FORMATS, today: 'text' }, run: shop },
  'to-key': { options: { format: TO_KEY_FORMATS, today: 'text' }, run: toKey },
  picture: { options: { html: 'text', svg: 'text', of: PICTURED, today: 'text' }, run: picture },
  sheet: {
    options: { html: 'text', pdf: 'text', size: PAPER_SIZES, from: 'text', enter: 'flag', answers: 'text', today: 'text' },
    run: sheet,
  },
  reckon: { options: { json: 'flag', today: 'text' }, run: reckon },
  review: {
    options: { format: REVIEW_FORMATS, 'fail-on': REVIEW_FAILS, all: 'flag', staged: 'flag', schema: 'flag', today: 'text' },
    run: review,
  },
  new: { options: NEW_OPTIONS, run: makeNew },
  start: {
    options: { stock: 'text', printer: 'text', like: 'text', mode: 'text', id: 'text', out: 'text', today: 'text' },
    run: start,
  },
  import: {
    options: {
      into: 'text',
      as: EVIDENCE.map(({ name }) => name),
      column: 'text',
      delimiter: Object.keys(DELIMITERS),
      decimal: ['point', 'comma'],
      dates: ['day-first', 'month-first'],
      repeats: 'flag',
      write: 'flag',
    },
    run: importTable,
  },
  export: { options: { what: WHAT, format: TABLE_FORMATS, bom: 'flag', today: 'text' }, run: exportTable },
  record: { options: RECORD_OPTIONS, run: record },
  set: { options: SET_OPTIONS, run: setValues },
  'work-out': { options: WORK_OUT_OPTIONS, run: workOut },
  git: { options: { json: 'flag' }, run: git },
  explain: { options: { all: 'flag', handbook: 'text' }, run: explain },
  lsp: { options: { stdio: 'flag' }, run: lsp },
}

/** Runs one command line (without the program's own name) and gives its exit code. Never rejects. */
export async function runCli(args: readonly string[], cli: CliHost): Promise<number> {
  let doing = 'reading the arguments'
  try {
    return await dispatch(args, cli, (now) => {
      doing = now
    })
  } catch (error) {
    const known = error instanceof CannotRun
    const message = error instanceof Error ? error.message : String(error)
    cli.err(`${printable(known ? message : `This went wrong inside Rollbook while ${doing}: ${message}`)}\n`)
    if (!known)
      cli.err(
        cli.env.ROLLBOOK_DEBUG ? `${(error as Error).stack ?? error}\n` : 'ROLLBOOK_DEBUG=1 shows where. Please report it.\n',
      )
    return EXIT.failed
  }
}

async function dispatch(args: readonly string[], cli: CliHost, at: (doing: string) => void): Promise<number> {
  const answer = answerAtOnce(args)
  if (answer !== undefined) {
    cli.out(answer)
    return EXIT.clean
  }
  const [name, ...rest] = args
  if (name === undefined) {
    cli.err(HELP)
    return EXIT.failed
  }
  if (name === 'help') throw unknownCommand(rest[0]!)
  if (!Object.hasOwn(COMMANDS, name)) throw unknownCommand(name)
  // Clients add options of their own to the server's command line; it takes them as they come.
  const own = name === 'lsp' ? rest.filter((arg) => arg === '--stdio') : rest
  const command = COMMANDS[name]!
  const options = readOptions(name, own, command.options)
  return command.run(asOf(cli, options.word('today')), options, at)
}

/** The same effects on another day: what is asked of old documents, or in a test of one's own, must not change with the calendar. */
function asOf(cli: CliHost, today: string | undefined): CliHost {
  if (today === undefined) return cli
  if (!isDate(today)) throw new CannotRun(`--today takes a day of the calendar, as in 2026-11-25; '${today}' is none.`)
  const then: Host = Object.create(cli.host, { today: { value: () => today } })
  return Object.create(cli, { host: { value: then } })
}

function unknownCommand(name: string): CannotRun {
  if (name.startsWith('-')) return new CannotRun(`rollbook has no option ${name}. See 'rollbook --help'.`)
  const meant = nearest(name, Object.keys(COMMANDS))
  return new CannotRun(
    `rollbook has no command '${name}'.${meant === undefined ? '' : ` Do you mean '${meant}'?`} See 'rollbook --help'.`,
  )
}

async function lsp(cli: CliHost, options: Options): Promise<number> {
  if (!options.has('stdio'))
    throw new CannotRun(
      `The language server talks over standard input and output: start it with 'rollbook lsp --stdio'.${seeHelp('lsp')}`,
    )
  await cli.startServer()
  return EXIT.clean
}
