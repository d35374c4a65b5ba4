// `rollbook import`: what is added and where, what is there already, what is not taken and why, and that nothing is written unasked.
import { describe, expect, test } from 'vitest'
import { EVIDENCE } from '../../server/src/model/evidence.ts'
import { type Ran, ran, run, type Shell } from './shell.ts'

const PROFILE = `profile: film-80-bay-1
stock: film-80
printer: bay-1
mode: standard

feed:
  correction: +0.12 %   # keyed in on Friday
  checks:
    # On the new lot.
    - { date: 2026-03-02, commanded: 1000 mm, measured: 998.8 mm, applied: 0 %, with: rule-1m, lot: B-4502 }
    - { date: 2026-03-20, commanded: 1000 mm, measured: 999.9 mm, applied: +0.12 %, with: rule-1m }

suction: 3
`
const FILE = 'profiles/film-80-bay-1.media.yaml'
const shop = (table: string, more = ''): string =>
  `#- rollbook.yaml\nshop: Tern Quay Print Works\n#- ${FILE}\n${PROFILE}#- t.csv\n${table}${more}`

const CHECKS = `date,commanded (mm),measured (mm),applied (%),with,web (°C)
2026-03-02,1000,998.8,0,rule-1m,
2026-03-09,1000,999.2,0.06,rule-1m,23.5
2026-03-27,1500,1500.1 ±0.3,-0.12,rule-1m,
`

/** The lines that a run has put into the profile. */
function added({ files }: Ran): readonly string[] {
  const before = PROFILE.split('\n')
  return files
    .get(FILE)!
    .split('\n')
    .filter((line) => !before.includes(line))
}

/** What is said of the rows that are not taken. */
const against = (text: string): string => /^Not taken\n([\s\S]*?)\n\n/m.exec(text)?.[1] ?? text

describe('checks from a table', () => {
  test('are shown, and not written', async () => {
    const { out, err, code, files } = await ran('import t.csv --into film-80-bay-1', shop(CHECKS))
    expect(out).toMatchInlineSnapshot(`
      "profiles/film-80-bay-1.media.yaml
        + line 3: feed.checks: { date: 2026-03-09, commanded: 1000 mm, measured: 999.2 mm, applied: +0.06 %, with: rule-1m, web: 23.5 °C }
        + line 4: feed.checks: { date: 2026-03-27, commanded: 1500 mm, measured: 1500.1 ±0.3 mm, applied: -0.12 %, with: rule-1m }
        = line 2: there already

      t.csv is read with a comma between cells and a decimal point. 2 rows to add, 1 there already, 0 rows not taken. Nothing is written yet: --write does it.
      "
    `)
    expect({ err, code, profile: files.get(FILE) }).toEqual({ err: '', code: 0, profile: PROFILE })
  })

  test('are written by their dates, and every other byte stays', async () => {
    const done = await ran(`import t.csv --into ${FILE} --write`, shop(CHECKS))
    expect(done.files.get(FILE)).toMatchInlineSnapshot(`
      "profile: film-80-bay-1
      stock: film-80
      printer: bay-1
      mode: standard

      feed:
        correction: +0.12 %   # keyed in on Friday
        checks:
          # On the new lot.
          - { date: 2026-03-02, commanded: 1000 mm, measured: 998.8 mm, applied: 0 %, with: rule-1m, lot: B-4502 }
          - { date: 2026-03-09, commanded: 1000 mm, measured: 999.2 mm, applied: +0.06 %, with: rule-1m, web: 23.5 °C }
          - { date: 2026-03-20, commanded: 1000 mm, measured: 999.9 mm, applied: +0.12 %, with: rule-1m }
          - { date: 2026-03-27, commanded: 1500 mm, measured: 1500.1 ±0.3 mm, applied: -0.12 %, with: rule-1m }

      suction: 3
      "
    `)
    expect(done.out).toContain('2 rows added, 1 there already, 0 rows not taken.')
    const again = await ran(`import t.csv --into ${FILE} --write`, shop(CHECKS).replace(PROFILE, done.files.get(FILE)!))
    expect(again.out).toContain('0 rows added, 3 there already, 0 rows not taken.')
    expect(again.files.get(FILE)).toBe(done.files.get(FILE))
  })

  test('run as their list runs: newest first, or behind all where it is in no order', async () => {
    const list = (...days: readonly string[]): string =>
      `${PROFILE}observed:\n${days.map((day) => `  - { date: 2026-03-${day}, fault: grain }\n`).join('')}`
    const days = async (before: string): Promise<readonly string[]> => {
      const table = 'date,fault\n2026-03-04,slack\n2026-03-12,slack\n'
      const { files } = await ran(`import t.csv --into ${FILE} --write`, shop(table).replace(PROFILE, before))
      return [
        ...files
          .get(FILE)!
          .slice(PROFILE.length)
          .matchAll(/-(\d\d),/g),
      ].map(([, day]) => day!)
    }
    expect(await days(list('20', '10', '01'))).toEqual(['20', '12', '10', '04', '01'])
    expect(await days(list('10', '20', '01'))).toEqual(['10', '20', '01', '04', '12'])
  })

  test('from standard input, for the profiles that the table names', async () => {
    const table = `profile,${CHECKS.replaceAll('\n2026', '\nfilm-80-bay-1,2026')}film-81-bay-1,2026-03-28,1000,999,0,,\n,2026-03-29,1000,999,0,,\n`
    const { out, code } = await ran('import -', shop(''), { stdin: table })
    expect(against(out)).toMatchInlineSnapshot(`
      "  ! line 5: There is no profile 'film-81-bay-1' here, and no such file. Do you mean 'film-80-bay-1'?
        ! line 6: it does not say whose it is, and --into names no profile"
    `)
    expect([out.includes('2 rows to add'), code]).toEqual([true, 1])
  })
})

describe('each row that is not taken is listed with its reason, and the others are taken', () => {
  const rows = async (body: string, options = ''): Promise<string> =>
    against(
      (await ran(`import t.csv --into ${FILE} ${options}`, shop(`date,commanded (mm),measured (mm),applied (%),with\n${body}`)))
        .out,
    )

  test('what cannot be read', async () => {
    const bad = [
      '2026-03-21,1000,,0,',
      '2026-03-21,1000,998 mm,0,',
      '2026-03-21,1000,"998,5",0,',
      '21.03.2026,1000,998,0,',
      '2026-02-30,1000,998,0,',
      '2026-03-21,1000,998,0,Steel Rule',
      '2026-03-21,1000,998,0,rule-1m,5',
      '2026-03-21,0,998,0,',
      '2026-03-21,1000,998,90,',
      '2026-03-21,1e3,998,0,',
      '2026-03-22,1000,998,0,',
    ]
    const { code, out } = await ran(
      `import t.csv --into ${FILE}`,
      shop(`date,commanded (mm),measured (mm),applied (%),with\n${bad.join('\n')}`),
    )
    expect(against(out)).toMatchInlineSnapshot(`
      "  ! line 2: measured is missing
        ! line 3: measured: '998 mm' is no number alone; its unit stands in the header
        ! line 4: measured: '998,5' has a decimal comma; write a decimal point, '998.5 mm'
        ! line 5: date: '21.03.2026' is no day of the calendar written as 2026-03-14
        ! line 6: date: '2026-02-30' is no day of the calendar written as 2026-03-14
        ! line 7: with: 'Steel Rule' is no name: lower-case words joined by hyphens are
        ! line 8: it has more cells than there are columns
        ! line 9: commanded: it is always above 0 mm
        ! line 10: applied: it is at most 50 %
        ! line 11: commanded: '1e3' has an exponent; write the number out, '1000 mm'"
    `)
    expect([out.includes('1 row to add'), code]).toEqual([true, 1])
  })

  test('what is there in part', async () => {
    expect(await rows('2026-03-02,1000,998.8,0.12,rule-1m\n2026-03-02,1000 ±0.5,998.8,0,')).toMatchInlineSnapshot(`
      "  ! line 2: it is there already, otherwise: applied is 0 % there and 0.12 % here; if it was measured again, --repeats takes it
        ! line 3: it is there already, otherwise: commanded ± is not given there; if it was measured again, --repeats takes it"
    `)
  })

  test('what another row says', async () => {
    const twice = '2026-03-21,1000,998,0,rule-1m\n2026-03-21,1000,998,0,rule-1m\n'
    expect(await rows(twice)).toMatchInlineSnapshot(
      `"  ! line 3: it says what line 2 says; if it was measured again, --repeats takes it"`,
    )
    expect(await rows(twice, '--repeats')).toContain('2 rows to add')
  })

  test('what a profile holds once, or cannot take', async () => {
    const two = 'date,applied (%),picks.1,picks.2\n2026-03-21,0.12,0,1\n2026-03-22,0.12,0,1\n2026-03-22,0.12,,1\n'
    expect(against((await ran(`import t.csv --into ${FILE}`, shop(two))).out)).toMatchInlineSnapshot(`
      "  ! line 3: line 2 gives it already, and there is one of it: date is 2026-03-21 there and 2026-03-22 here. Take the other out first
        ! line 4: picks.1 is missing: what comes after it would move up"
    `)
    expect(await rows('2026-03-01,1000,998,0,\n')).toMatchInlineSnapshot(
      `"  ! line 2: A comment stands above the first item, and may be meant for the whole list; add what comes before it by hand"`,
    )
  })

  test('a profile that is not whole takes nothing', async () => {
    const broken = shop(CHECKS).replace('suction: 3', '<<<<<<< ours\nsuction: 3\n=======\nsuction: 2\n>>>>>>> theirs')
    const { err, code, out, files } = await ran(`import t.csv --into ${FILE} --write`, broken)
    expect([err, code]).toMatchInlineSnapshot(`
      [
        "profiles/film-80-bay-1.media.yaml is read in part: in line 13 a merge conflict is not settled, and its lower version is not read.
      ",
        2,
      ]
    `)
    expect(out).toContain('3 rows not taken')
    expect(files.get(FILE)).not.toContain('2026-03-09')
  })
})

describe('a table that is not understood is refused whole', () => {
  const said = async (table: string, options = ''): Promise<string> => {
    const { err, code, out } = await ran(`import t.csv --into ${FILE} --write ${options}`, shop(table))
    expect([out, code]).toEqual(['', 2])
    return err.trimEnd()
  }

  test('units', async () => {
    expect(await said('date,commanded (mm),measured,applied (%)\n2026-03-21,1000,998,0\n')).toMatchInlineSnapshot(
      `"t.csv: 'measured' needs its unit beside its name, as in 'measured (mm)'."`,
    )
    expect(await said('date,commanded (mm),measured (kg),applied (%)\n2026-03-21,1000,998,0\n')).toMatchInlineSnapshot(
      `"t.csv: 'measured (kg)' is not given in kg: measured is a length (mm, m, µm or in)."`,
    )
    expect(await said('date (d),commanded (mm),measured (mm),applied (%)\n2026-03-21,1000,998,0\n')).toMatchInlineSnapshot(
      `"t.csv: 'date (d)' needs no unit: date has none."`,
    )
  })

  test('columns', async () => {
    expect(await said('date,commanded (mm),found,applied (%)\n2026-03-21,1000,998,0\n')).toMatchInlineSnapshot(
      `"A column of t.csv is not known: 'found'. Say what each is, as in --column 'found=KEY (unit)', or --column 'found=-' to leave it out; --write keeps it in .rollbook-columns.yaml."`,
    )
    expect(await said('date,measured (mm),measured (mm)\n2026-03-21,1000,998\n')).toMatchInlineSnapshot(
      `"Two columns of t.csv are 'measured (mm)': 'measured (mm)' and 'measured (mm)'. Leave one out."`,
    )
    expect(await said('date\n2026-03-21\n')).toMatchInlineSnapshot(
      `"What the rows of t.csv are is not clear: say --as with one of alignment, keyed."`,
    )
    expect(await said('date,web (°C)\n2026-03-21,22\n', '--as observed')).toMatchInlineSnapshot(`"t.csv: observed has no web."`)
  })

  test('signs', async () => {
    expect(await said('date;commanded (mm);measured (mm),x\n')).toMatchInlineSnapshot(
      `"What separates the columns of t.csv is not clear: comma or semicolon. Say --delimiter comma."`,
    )
    expect(await said('date;commanded (mm);measured (mm);applied (%)\n2026-03-21;1,000;1,002;0\n')).toMatchInlineSnapshot(
      `"Whether '1,000' in t.csv has a decimal sign or thousands set apart is not clear. Say --decimal point or --decimal comma."`,
    )
    expect(await said('date;commanded (mm);measured (mm);applied (%)\n2026-03-21;1.000;998,5;0\n')).toMatchInlineSnapshot(
      `"Whether '998,5' in t.csv has a decimal sign or thousands set apart is not clear. Say --decimal point or --decimal comma."`,
    )
    expect(await said('date,"commanded (mm)\n')).toMatchInlineSnapshot(
      `"t.csv cannot be read as a table: a quotation mark is opened and never closed, in or before line 1."`,
    )
    expect(await said('')).toMatchInlineSnapshot(`"t.csv holds no table: its first line has to name the columns."`)
  })

  test('what is no text', async () => {
    const shell: Shell = { bytes: { 'l.csv': new Uint8Array([0x64, 0xe4, 0x0a]) } }
    expect(await run(`import l.csv --into ${FILE}`, shop(''), shell)).toMatchInlineSnapshot(`
      "! l.csv is not UTF-8 text. Save it from the spreadsheet as "CSV UTF-8".
      exit 2"
    `)
    expect(await run(`import none.csv --into ${FILE}`, shop(''))).toMatchInlineSnapshot(`
      "! /shop/none.csv cannot be read: there is no such file.
      exit 2"
    `)
  })

  test('whose it is', async () => {
    expect(await run('import t.csv', shop(CHECKS))).toMatchInlineSnapshot(`
      "! Say which profile it is for: --into PROFILE, or a column 'profile' with ids. See 'rollbook import --help'.
      exit 2"
    `)
    expect(await run('import', shop(CHECKS))).toMatchInlineSnapshot(`
      "! rollbook import takes one table: a CSV file, or - for standard input. See 'rollbook import --help'.
      exit 2"
    `)
  })
})

describe('tables as other programs write them', () => {
  const OWN = 'Datum;Soll mm;Ist mm;Korrektur;Bemerkung\n21.03.2026;1000;998,5;0,12;krumm\n'
  const NAMES = ['Datum=date', 'Soll mm=commanded (mm)', 'Ist mm=measured (mm)', 'Korrektur=applied (%)', 'Bemerkung=-']
  const words = ['import', 't.csv', '--into', FILE, '--dates', 'day-first']

  test('semicolons, decimal commas, days in another order, columns of other names', async () => {
    const done = await ran([...words, ...NAMES.flatMap((name) => ['--column', name]), '--write'], shop(OWN))
    expect(added(done)).toEqual(['    - { date: 2026-03-21, commanded: 1000 mm, measured: 998.5 mm, applied: +0.12 % }'])
    expect(done.err).toBe('What the columns are is kept in /shop/.rollbook-columns.yaml.\n')
    const kept = done.created.get('/shop/.rollbook-columns.yaml')!
    expect(kept).toMatchInlineSnapshot(`
      "# How our tables name what Rollbook takes: 'header of the column: key (unit)', or '-' for a column that is left out.
      Datum: date
      Soll mm: commanded (mm)
      Ist mm: measured (mm)
      Korrektur: applied (%)
      Bemerkung: '-'
      "
    `)
    const again = await ran(words, shop(OWN, `#- .rollbook-columns.yaml\n${kept}`))
    expect(again.out).toContain('1 row to add')
    expect(again.out).toContain('with a semicolon between cells and a decimal comma')
  })

  test('month first, and numbers that the option makes clear', async () => {
    const table = 'date;commanded (mm);measured (mm);applied (%)\n3/4/2026;1,000;1,002;0\n'
    const { files } = await ran(`import t.csv --into ${FILE} --write --dates month-first --decimal comma`, shop(table))
    expect(files.get(FILE)).toContain('{ date: 2026-03-04, commanded: 1.000 mm, measured: 1.002 mm, applied: 0 % }')
  })

  test('what a spreadsheet was kept from running comes in without its apostrophe', async () => {
    const done = await ran(`import t.csv --into ${FILE} --write`, shop("date,fault,note\n2026-03-21,grain,'=see 12:30\n"))
    expect(added(done)).toEqual(['observed:', "  - { date: 2026-03-21, fault: grain, note: '=see 12:30' }"])
  })

  test('read-backs are added to those there are, by their dates', async () => {
    const table = `evidence,date,correction (%),platen (°C),by\nkeyed,2026-03-21,0.12,41,sensor\nkeyed,2026-03-05,0,,\n`
    const keyed =
      'keyed:\n  - { date: 2026-03-02, correction: 0 % } # on the new lot\n  - { date: 2026-03-09, correction: +0.06 % }\n'
    const into = `#- rollbook.yaml\nshop: Tern Quay Print Works\n#- ${FILE}\n${PROFILE}${keyed}#- t.csv\n${table}`
    const done = await ran(`import t.csv --into ${FILE} --write`, into)
    expect(done.files.get(FILE)!.split('keyed:\n')[1]).toMatchInlineSnapshot(`
      "  - { date: 2026-03-02, correction: 0 % } # on the new lot
        - { date: 2026-03-05, correction: 0 % }
        - { date: 2026-03-09, correction: +0.06 % }
        - { date: 2026-03-21, by: sensor, correction: +0.12 %, platen: 41 °C }
      "
    `)
    // One of before, which is no list: it is left alone, and so is the file.
    const before = into.replace(keyed, 'keyed:\n  date: 2026-03-02\n  correction: 0 %\n')
    const refused = await ran(`import t.csv --into ${FILE} --write`, before)
    expect(against(refused.out)).toMatchInlineSnapshot(`
      "  ! line 2: What stands under keyed is no list, or one that is empty
        ! line 3: What stands under keyed is no list, or one that is empty"
    `)
    expect(refused.files.get(FILE)).toContain('keyed:\n  date: 2026-03-02\n  correction: 0 %\n')
  })

  test('a section is written a key a line, a list entry by entry', async () => {
    const table = `evidence,date,applied (%),picks.1,picks.2,one-way.cyan,file
feed.fine,2026-03-21,0.12,-0.5,0,,
alignment,2026-03-21,,,,2,
colour.measured,2026-03-21,,,,,colour/2026-03.txt
dreams,2026-03-21,,,,,
`
    const done = await ran(`import t.csv --into ${FILE} --write`, shop(table))
    expect(done.files.get(FILE)!.slice(PROFILE.indexOf('    - { date: 2026-03-20'))).toMatchInlineSnapshot(`
      "    - { date: 2026-03-20, commanded: 1000 mm, measured: 999.9 mm, applied: +0.12 %, with: rule-1m }
        fine:
          date: 2026-03-21
          applied: +0.12 %
          picks: [-0.5, 0]

      alignment:
        date: 2026-03-21
        one-way: { cyan: 2 }

      suction: 3

      colour:
        measured:
          - { file: colour/2026-03.txt, date: 2026-03-21 }
      "
    `)
    expect(against(done.out)).toMatchInlineSnapshot(`"  ! line 5: 'dreams' is no evidence that a profile holds"`)
  })
})

test('the help names every list that there is', async () => {
  const { out } = await ran('import --help')
  expect(EVIDENCE.map(({ name }) => name).filter((name) => !out.includes(name))).toEqual([])
})
