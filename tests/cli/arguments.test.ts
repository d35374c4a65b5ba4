// Commands and options: help for each, the version, and a plain sentence for everything mistyped.
import { describe, expect, test } from 'vitest'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { PRINTER, ran, run, shopWith } from './shell.ts'

describe('help', () => {
  test('the overview', async () => {
    expect(await run('--help')).toMatchInlineSnapshot(`
      "rollbook: media profiles as code, on the command line

        rollbook check [path ...]     check documents as the editor does
        rollbook feed <profile>       the reckoning of a profile's feed, step by step
        rollbook reckon <profile>     every computed quantity, with formula, inputs and source
        rollbook start --stock S --printer P   a new profile, each setting with its reason
        rollbook explain [topic]      what a setting does, what a rule or a fault means
        rollbook lsp --stdio          the language server, for an editor

        rollbook <command> --help     more about a command
        rollbook --version            the version

      Rollbook advises; it never drives a machine. The machine's and the material's own safety documents come first.
      exit 0"
    `)
  })

  test.each(['check', 'feed', 'explain', 'lsp'])('%s has a page of its own, however it is asked for', async (command) => {
    const page = await run(`${command} --help`)
    expect(page).toMatch(new RegExp(`^rollbook ${command} `))
    expect(page).toMatch(/exit 0$/)
    expect(await run(`help ${command}`)).toBe(page)
    expect(await run(`${command} -h`)).toBe(page)
  })

  test('help comes before anything else that is asked', async () => {
    expect(await run('check --help no-such-path --bogus')).toMatch(/^rollbook check /)
  })

  test.each(['check', 'feed'])('every key that %s --json prints is in its help', async (command) => {
    const shop = `${shopWith('feed-correction') + PRINTER}#- a.media.yaml
profile: a
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: 0 %, with: rule-1m}
`
    const { out } = await ran(command === 'check' ? 'check --format json' : 'feed a --json', shop)
    const help = await run(`${command} --help`)
    const missing = [...keysIn(JSON.parse(out))].filter((key) => !help.includes(`"${key}"`))
    expect(missing).toEqual([])
  })
})

function keysIn(value: unknown, into = new Set<string>()): Set<string> {
  if (typeof value !== 'object' || value === null) return into
  for (const [key, inner] of Object.entries(value)) {
    if (!Array.isArray(value)) into.add(key)
    keysIn(inner, into)
  }
  return into
}

test('the version', async () => {
  expect(await run('--version')).toBe('rollbook 0.0.0-dev\nexit 0')
})

describe('mistyped', () => {
  const said = async (line: string): Promise<string> => {
    const { out, err, code } = await ran(line)
    expect([line, out, code]).toEqual([line, '', 2])
    return err.trimEnd()
  }

  test('no command at all: the overview, on standard error', async () => {
    expect(await said('')).toBe((await ran('--help')).out.trimEnd())
  })

  test('a command', async () => {
    expect(await said('chekc')).toMatchInlineSnapshot(
      `"rollbook has no command 'chekc'. Do you mean 'check'? See 'rollbook --help'."`,
    )
    expect(await said('print')).toMatchInlineSnapshot(`"rollbook has no command 'print'. See 'rollbook --help'."`)
    expect(await said('constructor')).toMatchInlineSnapshot(`"rollbook has no command 'constructor'. See 'rollbook --help'."`)
    expect(await said('--verbose')).toMatchInlineSnapshot(`"rollbook has no option --verbose. See 'rollbook --help'."`)
  })

  test('an option', async () => {
    expect(await said('check --formt json')).toMatchInlineSnapshot(
      `"rollbook check has no option --formt. Do you mean --format? See 'rollbook check --help'."`,
    )
    expect(await said('check -x')).toMatchInlineSnapshot(`"rollbook check has no option -x. See 'rollbook check --help'."`)
    expect(await said('check --constructor')).toMatchInlineSnapshot(
      `"rollbook check has no option --constructor. See 'rollbook check --help'."`,
    )
    expect(await said('check --quiet=1')).toMatchInlineSnapshot(
      `"--quiet is either given or not: it takes no '1'. See 'rollbook check --help'."`,
    )
  })

  test('the word of an option', async () => {
    expect(await said('check --format jsn')).toMatchInlineSnapshot(
      `"--format does not know 'jsn'. Do you mean json? See 'rollbook check --help'."`,
    )
    expect(await said('check --format xml')).toMatchInlineSnapshot(
      `"--format does not know 'xml'. It takes human or json. See 'rollbook check --help'."`,
    )
    expect(await said('check --format')).toMatchInlineSnapshot(
      `"--format needs a word after it. It takes human or json. See 'rollbook check --help'."`,
    )
  })

  test('what a command works on', async () => {
    expect(await said('feed')).toMatchInlineSnapshot(
      `"rollbook feed takes one profile: its file or its id. See 'rollbook feed --help'."`,
    )
    expect(await said('feed a b')).toMatchInlineSnapshot(
      `"rollbook feed takes one profile: its file or its id. See 'rollbook feed --help'."`,
    )
    expect(await said('explain a b')).toMatchInlineSnapshot(
      `"rollbook explain takes one topic at a time. See 'rollbook explain --help'."`,
    )
    expect(await said('lsp')).toMatchInlineSnapshot(
      `"The language server talks over standard input and output: start it with 'rollbook lsp --stdio'. See 'rollbook lsp --help'."`,
    )
  })
})

describe('lsp', () => {
  test('starts the server, whatever a client adds to the command line', async () => {
    expect(await run('lsp --stdio --clientProcessId=123')).toBe('the server runs\nexit 0')
  })
})

describe('a defect of ours', () => {
  test('is told without a stack, and says what was being done', async () => {
    expect(await run('check', PRINTER, { defect: 'boom' })).toMatchInlineSnapshot(`
      "! This went wrong inside Rollbook while looking for the documents: boom
      ! ROLLBOOK_DEBUG=1 shows where. Please report it.
      exit 2"
    `)
  })

  test('shows where with ROLLBOOK_DEBUG', async () => {
    expect(await run('check', PRINTER, { defect: 'boom', env: { ROLLBOOK_DEBUG: '1' } })).toMatch(/! TypeError: boom\n! +at /)
  })
})

describe('explain', () => {
  test('a setting, as Markdown for a file or another program', async () => {
    expect(await run('explain feed.correction')).toMatch(
      /^# feed\.correction \(profile\)\n\n[\s\S]*\*\*Raise when:\*\*[\s\S]*exit 0$/,
    )
  })

  test('on a terminal without the marks, in colour, long lines broken between words', async () => {
    const { out } = await ran('explain feed.correction', '', { isTty: true })
    expect(out).toContain('\u001b[1mfeed.correction (profile)\u001b[22m')
    expect(out).toContain('\u001b[1mRaise when:\u001b[22m')
    expect(out).not.toMatch(/\*\*|^#/m)
    const plain = (await ran('explain feed.correction', '', { isTty: true, env: { NO_COLOR: '1' } })).out
    expect(Math.max(...plain.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100)
  })

  test.each(RULES.map((rule) => rule.code))('rule %s has a page', async (code) => {
    expect(await run(`explain ${code}`)).toMatch(new RegExp(`^# ${code}\\n[\\s\\S]*exit 0$`))
  })

  test('a fault and a family', async () => {
    expect(await run('explain bands-dark')).toMatch(/^# bands-dark\n[\s\S]*exit 0$/)
    expect(await run('explain banner-pvc')).toMatch(/^# banner-pvc\n[\s\S]*exit 0$/)
  })

  test('everything there is, in groups', async () => {
    const { out, code } = await ran('explain')
    expect(code).toBe(0)
    expect(out.split('\n').filter((line) => line !== '' && !line.startsWith(' '))).toMatchInlineSnapshot(`
      [
        "Settings of a profile (*.media.yaml)",
        "Settings of a stock (*.stock.yaml)",
        "Settings of a printer (*.printer.yaml)",
        "Settings of the shop (rollbook.yaml)",
        "Rules",
        "Faults",
        "Families of material",
      ]
    `)
    expect(out).toMatch(/^ {2}feed\.correction {2,}\S/m)
  })

  test('an unknown topic: the nearest ones', async () => {
    expect(await run('explain corection')).toMatchInlineSnapshot(`
      "! There is nothing to explain under 'corection'. Do you mean 'feed.correction', 'keyed.correction'?
      exit 2"
    `)
    expect(await run('explain bands')).toMatchInlineSnapshot(`
      "! There is nothing to explain under 'bands'. Do you mean 'bands-light', 'bands-dark'?
      exit 2"
    `)
    expect(await run('explain xyzzy')).toMatchInlineSnapshot(`
      "! There is nothing to explain under 'xyzzy'. 'rollbook explain' lists what there is.
      exit 2"
    `)
    expect(await run('explain __proto__')).toMatchInlineSnapshot(`
      "! There is nothing to explain under '__proto__'. 'rollbook explain' lists what there is.
      exit 2"
    `)
  })
})

describe('--today', () => {
  const shop = `${shopWith('feed-stale') + PRINTER}#- a.media.yaml
profile: a
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 1000 mm, applied: 0 %}
`

  test('what is fresh on one day is old on another', async () => {
    expect(await run('check --today 2026-03-31', shop)).not.toContain('feed-stale')
    expect(await run('check --today 2026-12-31', shop)).toContain('feed-stale The newest feed check is 286 days old')
  })

  test.each(['2026-02-30', 'tomorrow', '2026-2-3'])('%s is no day', async (day) => {
    expect(await run(`check --today ${day}`, shop)).toBe(
      `! --today takes a day of the calendar, as in 2026-11-25; '${day}' is none.\nexit 2`,
    )
  })
})
