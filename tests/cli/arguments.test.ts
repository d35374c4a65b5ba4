// Commands and options: help for each, the version, and a plain sentence for everything mistyped.
import { describe, expect, test } from 'vitest'
import { explainTopics } from '../../server/src/features/explain.ts'
import { findTopics } from '../../server/src/features/find-topics.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { PRINTER, ran, run, shopWith } from './shell.ts'

describe('help', () => {
  test('the overview', async () => {
    expect(await run('--help')).toMatchInlineSnapshot(`
      "rollbook: media profiles as code, on the command line

        rollbook check [path ...]     check documents as the editor does
        rollbook due [path ...]       what is due today: test prints that have grown old, new deliveries
        rollbook review [A..B]        what a change does to prints: quantities, evidence, findings, what to key in
        rollbook feed <profile>       the reckoning of a profile's feed, step by step
        rollbook picture <profile>    a page of pictures: feed checks, the web's path, suction, alignment, settings
        rollbook reckon <profile>     every computed quantity, with formula, inputs and source
        rollbook new KIND             a new shop, instrument, stock, printer or profile, by questions
        rollbook set <document> ...   values into a document, and what follows from them
        rollbook record <document> ...   a check, a reading, a read-back, an event or a lot into its list
        rollbook work-out WHAT        a number that no data sheet tells, from what you measure
        rollbook start --stock S --printer P   a new profile, each setting with its reason
        rollbook since <profile> <setting>   since when a setting is as it is, and on what evidence
        rollbook history <profile>    how it came about, from evidence and git; --shop: which printers moved together
        rollbook answer <profile> --date D   what to answer for a print of that day: ours, theirs, cannot tell
        rollbook to-key <printer>     what has to be keyed in at a machine now, slot by slot
        rollbook sheet <profile> ...  a page for the wall beside the machine, as text, HTML or PDF
        rollbook shop                 the whole shop on one table, what is due first
        rollbook differences <stock>  one stock on several printers, and what explains the differences
        rollbook import TABLE.csv     evidence from a table into profiles: checks, readings, picks
        rollbook export [path ...]    settings, evidence or quantities as one table
        rollbook git lost|setup|...   measurements that a merge lost; git merges documents by what they say
        rollbook explain [words]      what a setting does, what a rule or a fault means
        rollbook lsp --stdio          the language server, for an editor

        rollbook <command> --help     more about a command
        rollbook --version            the version

      Rollbook advises; it never drives a machine. The machine's and the material's own safety documents come first.
      exit 0"
    `)
  })

  test.each(['check', 'review', 'feed', 'explain', 'lsp'])(
    '%s has a page of its own, however it is asked for',
    async (command) => {
      const page = await run(`${command} --help`)
      expect(page).toMatch(new RegExp(`^rollbook ${command} `))
      expect(page).toMatch(/exit 0$/)
      expect(await run(`help ${command}`)).toBe(page)
      expect(await run(`${command} -h`)).toBe(page)
    },
  )

  test('help comes before anything else that is asked', async () => {
    expect(await run('check --help no-such-path --bogus')).toMatch(/^rollbook check /)
  })

  test.each(['check', 'due', 'feed'])('every key that %s --json prints is in its help', async (command) => {
    const shop = `${shopWith('feed-correction', 'feed-stale') + PRINTER}#- a.media.yaml
profile: a
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: 0 %, with: rule-1m}
`
    const line = { check: 'check --format json', due: 'due --json --today 2026-12-01', feed: 'feed a --json' }[command]!
    const { out } = await ran(line, shop)
    // Findings are documented once.
    const help = (await run(`${command} --help`)) + (command === 'due' ? await run('check --help') : '')
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
    expect(await said('help chekc')).toMatchInlineSnapshot(
      `"rollbook has no command 'chekc'. Do you mean 'check'? See 'rollbook --help'."`,
    )
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
      `"--format does not know 'xml'. It takes text or json or sarif or junit or github or gitlab. See 'rollbook check --help'."`,
    )
    expect(await said('check --format')).toMatchInlineSnapshot(
      `"--format needs a word after it. It takes text or json or sarif or junit or github or gitlab. See 'rollbook check --help'."`,
    )
  })

  test('what a command works on', async () => {
    expect(await said('feed')).toMatchInlineSnapshot(
      `"rollbook feed takes one profile: its file or its id. See 'rollbook feed --help'."`,
    )
    expect(await said('feed a b')).toMatchInlineSnapshot(
      `"rollbook feed takes one profile: its file or its id. See 'rollbook feed --help'."`,
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

  test('a bare call: what there is, on one screen', async () => {
    expect((await ran('explain', '', { isTty: true, env: { NO_COLOR: '1' } })).out.split('\n').length).toBeLessThan(40)
    expect(await run('explain')).toMatchInlineSnapshot(`
      "# What can be explained

      Ask with the name of a setting, a rule or a fault, or with the words of the trade: \`rollbook explain suction\`, \`rollbook explain vacuum\`, \`rollbook explain ghosting\`, \`rollbook explain bands-light\`.

      - **A profile** (*.media.yaml): profile, title, base, stock, printer, mode, slot, gap, feed, alignment, heat, drying, suction, carriage, web, colour, observed, keyed, conditions, retired, replaced-by, notes
      - **A stock** (*.stock.yaml): stock, title, family, thickness, layers, grammage, modulus, yield, poisson, expansion, moisture-expansion, heat-capacity, max-web-temperature, softens-at, widths, roll, wound, curl-radius, friction, dry-touch, lots, lot-spread, datasheet, retired, replaced-by, cautions, notes
      - **A printer** (*.printer.yaml): printer, title, heads, ink, modes, carriage, feed, alignment, heaters, drying, suction, web, slots, panel, events, room, cautions, notes
      - **The shop** (rollbook.yaml): shop, units, time-zone, tolerance, recheck, climate, reference-temperature, viewing-distance, instruments, rules, notes
      - **Faults on a print:** bands-light, bands-dark, grain, double-edges, length-short, length-long, creases, slack, skew, sticking, tears, edge-lift, cockle, dimples, head-touch, wet-at-winding, overheated-web, colour-shift
      - **Families of material:** film-pvc-cast, film-pvc-calendered, film-pet, film-pp, banner-pvc, textile-woven, textile-knit, paper-coated, paper-uncoated, canvas
      - **Rules:** 189, each named behind its finding, as in \`rollbook explain feed-correction\`

      Keys below a section are named with a dot: \`feed.correction\`, \`heat.after\`. \`rollbook explain --all\` lists every one, a line each.
      exit 0"
    `)
  })

  test('--all: everything there is, in groups', async () => {
    const { out, code } = await ran('explain --all')
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

  test.each([
    ['vacuum', 'suction (profile)'],
    ['ghosting', 'double-edges'],
    ['wrinkles', 'creases'],
    ['blocking', 'sticking'],
    ['head strike', 'head-touch'],
    ['ink limit', 'colour.ink-limit (profile)'],
    ['bands light', 'bands-light'],
    ['caliper', 'thickness (stock)'],
    ['TAC', 'colour.ink-limit (profile)'],
  ])('the words of the trade: %s', async (words, title) => {
    expect(await run(`explain ${words}`)).toMatch(new RegExp(`^# ${title.replace(/[().]/g, '\\$&')}\\n[\\s\\S]*exit 0$`))
  })

  test('words that may mean several things: a list, the likeliest first', async () => {
    expect(await run('explain banding')).toMatchInlineSnapshot(`
      "# What 'banding' may mean

      - \`bands-light\` (fault): Light lines across the web at the edges of the passes: the feed is too long.
      - \`bands-dark\` (fault): Dark lines across the web at the edges of the passes: the feed is too short.

      \`rollbook explain bands-light\` shows the page of the first.
      exit 0"
    `)
    expect(await run('explain worn head')).toMatchInlineSnapshot(`
      "# What 'worn head' may mean

      - \`heads\` (printer setting): The print heads: how the nozzles lie and what they fire.
      - \`heads.nozzle-pitch\` (printer setting): Distance between neighbouring nozzles of one row, along the feed.
      - \`heads.nozzles\` (printer setting): Nozzles in one row.
      - \`heads.rows\` (printer setting): Rows of nozzles that print one colour; together they make the pitch finer.
      - \`heads.channels\` (printer setting): Inks in the order of the heads, each under the name that the alignment refers to.
      - \`heads.drop-speed\` (printer setting): Speed of the drops towards the media.
      - \`heads.drop-volume\` (printer setting): Volume of one drop of full size.
      - \`head-touch\` (fault): The heads touched the web.
      - \`gap\` (profile setting): Height of the heads above the platen.
      - \`media:alignment\` (profile setting): What the eye picked on the alignment pattern.
      - \`keyed.gap\` (profile setting): Height of the heads above the platen, read back.
      - \`conditions.gap\` (profile setting): Height of the heads above the platen then.

      and 5 more: name it more closely.

      \`rollbook explain heads\` shows the page of the first.
      exit 0"
    `)
    expect(await run('explain suction thin film')).toMatchInlineSnapshot(`
      "# What 'suction thin film' may mean

      - \`suction-dimples\` (rule): The suction draws the film into its holes so far that the pattern shows.
      - \`film-pvc-cast\` (family of material): Cast PVC film: soft, thin, follows curves, shrinks little.

      \`rollbook explain suction-dimples\` shows the page of the first.
      exit 0"
    `)
    expect(await run('explain correction')).toMatchInlineSnapshot(`
      "# What 'correction' may mean

      - \`feed.correction\` (profile setting): Share by which the feed is made longer (plus) or shorter (minus) so that prints come out at their true length.
      - \`keyed.correction\` (profile setting): Feed correction read back: per cent, or the measured length where that is keyed in.
      - \`instruments.errors\` (shop setting): What it was found to show too much or too little, and when: readings of that time are brought right by it.
      - \`feed-correction\` (rule): The feed correction differs from what the checks ask for.
      - \`feed.checks.applied\` (profile setting): Feed correction that was keyed in when the pattern was printed.
      - \`feed.fine.applied\` (profile setting): Feed correction that was keyed in when the pattern was printed.
      - \`lot-spread\` (stock setting): How far the feed correction differs from lot to lot of this stock, on one machine.
      - \`printer:feed\` (printer setting): The feed: how its correction is keyed in and which test patterns the machine prints.
      - \`feed.range\` (printer setting): Lowest and highest feed correction the machine takes.
      - \`feed.step\` (printer setting): Smallest step in which the correction can be keyed in; a length where a measured length is keyed in.
      - \`feed-changed\` (rule): Since some day the feed asks for another correction.
      - \`feed-drift\` (rule): The feed correction drifts with time.

      and 5 more: name it more closely.

      \`rollbook explain feed.correction\` shows the page of the first.
      exit 0"
    `)
  })

  test('a long list says how much it leaves out', async () => {
    expect(await run('explain print')).toMatch(/\nand \d+ more: name it more closely\.\n/)
  })

  test('what cannot be found: the nearest name', async () => {
    expect(await run('explain corection')).toMatchInlineSnapshot(`
      "! There is nothing to explain under 'corection'. Do you mean 'correction'?
      exit 2"
    `)
    expect(await run('explain xyzzy')).toMatchInlineSnapshot(`
      "! There is nothing to explain under 'xyzzy'. 'rollbook explain' tells what there is.
      exit 2"
    `)
    expect(await run('explain __proto__')).toMatchInlineSnapshot(`
      "! There is nothing to explain under '__proto__'. 'rollbook explain' tells what there is.
      exit 2"
    `)
  })

  test('each word that a topic is also called finds it', async () => {
    for (const topic of explainTopics())
      for (const word of topic.also)
        expect(findTopics(word).called, word).toContainEqual(expect.objectContaining({ topic: topic.topic }))
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
    expect(await run('check --today 2026-12-31', shop)).toContain(
      'feed-stale Print the feed pattern and add a check: the newest is 286 days old',
    )
  })

  test.each(['2026-02-30', 'tomorrow', '2026-2-3'])('%s is no day', async (day) => {
    expect(await run(`check --today ${day}`, shop)).toBe(
      `! --today takes a day of the calendar, as in 2026-11-25; '${day}' is none.\nexit 2`,
    )
  })
})
