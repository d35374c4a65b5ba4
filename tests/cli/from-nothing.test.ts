// From an empty folder to the first feed correction by commands alone: on disk, with every answer counted, and nothing written by hand.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { newFolder, rollbook } from './repository.ts'

/** Each command of the morning with what is answered: 60 answers at most, and no more time than it takes to read them off the machine. */
const SHOP = {
  shop: 'Alder Lane Signs',
  'length-tolerance': '0.1 %',
  'room-temperature': ['19 °C', '25 °C'],
  'room-humidity': ['40 %RH', '60 %RH'],
}
const RULE = {
  instrument: 'steel-rule-1m',
  kind: 'rule',
  division: '0.5 mm',
  length: '1 m',
  'limit-of-error': 'class-1',
  expansion: '11.5 ppm/K',
}
const STOCK = {
  stock: 'banner-440',
  family: 'banner-pvc',
  thickness: '440 µm',
  'max-web-temperature': '55 °C',
  widths: ['1372 mm', '1600 mm'],
  wound: 'in',
  lot: 'K-201',
  received: '2026-11-20',
}
const PRINTER = {
  printer: 'door-side',
  mode: 'everyday',
  resolution: '720 x 720 dpi',
  passes: 8,
  'feed-entry': 'percent',
  'feed-step': '0.01 %',
  'feed-range': ['-2 %', '2 %'],
  'pattern-lengths': ['500 mm', '800 mm'],
  gaps: ['1.5 mm', '2.0 mm', '2.5 mm'],
  'bed-width': '1620 mm',
  directions: 'two-way',
  'heated-zones': ['platen', 'after'],
  'platen-range': ['25 °C', '50 °C'],
  'after-range': ['25 °C', '60 °C'],
  'nozzle-pitch': 'unknown',
  'suction-levels': { 1: '98 Pa', 2: '195 Pa' },
}
const CHECK = {
  date: '2026-11-26',
  'commanded (mm)': '800',
  'measured (mm)': '798.5',
  'applied (%)': '0',
  with: 'steel-rule-1m',
  'web (°C)': '23',
  lot: 'K-201',
}

/** What the panel shows: the correction that was keyed in, all else as the file says; a line for each setting that it gives. */
function readBack(profile: string): readonly string[] {
  const keyed =
    /^(?:slot|gap|suction| {2}(?:correction|before|platen|after|fan|pause|run-out|turn-at|strikes|tension|slack-watch|speed)):/gm
  return (profile.match(keyed) ?? []).map((key) => (key.includes('correction') ? '0.18' : '='))
}

const count = (answers: object): number =>
  Object.values(answers).flatMap((answer) => (typeof answer === 'object' ? Object.values(answer) : [answer])).length

describe('a shop from nothing', () => {
  test('to the first correction in at most 60 answers', async () => {
    const folder = newFolder()
    let answers = 0
    const make = async (kind: string, given: object): Promise<void> => {
      writeFileSync(join(folder, 'answers.json'), JSON.stringify(given))
      answers += count(given)
      const { out, err, code } = await rollbook(folder, 'new', kind, '--answers', 'answers.json', '--today', CHECK.date)
      expect([kind, code, out, err]).toEqual([kind, 0, '', expect.stringMatching(/ is (?:written|added to)/)])
    }
    await make('shop', SHOP)
    await make('instrument', RULE)
    await make('stock', STOCK)
    await make('printer', PRINTER)
    await make('profile', { stock: 'banner-440', printer: 'door-side' })
    const fresh = await rollbook(folder, 'check', '--today', CHECK.date)
    expect(fresh.out.match(/ (?:error|warning) ([a-z-]+)/g)?.sort()).toEqual([
      ' warning alignment-missing',
      ' warning feed-unproven',
    ])
    expect(fresh.out).toMatch(/4 documents checked, and not everything could be judged: 0 errors, 2 warnings/)
    expect(fresh.out).toMatch(
      /Not judged: heat and suction of 1 profile, because door-side does not give heaters\.platen\.length/,
    )

    writeFileSync(join(folder, 'checks.csv'), `${Object.keys(CHECK).join()}\n${Object.values(CHECK).join()}\n`)
    answers += count(CHECK)
    const imported = await rollbook(folder, 'import', 'checks.csv', '--into', 'banner-440-door-side', '--write')
    expect([imported.code, imported.err]).toEqual([0, ''])

    // By hand: at 23 °C the rule, marked for 20 °C (ISO 1), is 3 · 11.5 ppm long, so the strip is 798.5275 mm: 800 / 798.5275 − 1 is 0.1844 %. The panel
    // takes hundredths.
    const { out } = await rollbook(folder, 'feed', 'banner-440-door-side', '--today', CHECK.date)
    expect(out).toMatch(/key in {2,}\+0\.18 %/)
    // One print without the state it was made in is told to be no proof.
    expect(out).toContain('To be expected: +0.18 %.')
    expect(answers).toBeLessThanOrEqual(60)
    const profile = join(folder, 'profiles', 'banner-440-door-side.media.yaml')

    // The next day, from the sheet on the wall: the number is in the machine, two strips are measured, and what they were made under is written with them.
    const strip = (measured: string) => ['today', '800 mm', measured, '0.18', '', '23', '', '', 'yes']
    const written = [
      'today',
      ...readBack(readFileSync(profile, 'utf8')),
      '',
      ...strip('800.1'),
      ...strip('799.9'),
      '',
      '',
      '',
      'yes',
    ]
    writeFileSync(join(folder, 'written.txt'), `${written.join('\n')}\n`)
    const entered = await rollbook(
      folder,
      'sheet',
      'banner-440-door-side',
      '--enter',
      '--answers',
      'written.txt',
      '--today',
      '2026-11-27',
    )
    expect([entered.code, entered.out.match(/^\+ [\w.]+/gm)]).toEqual([0, ['+ keyed', '+ feed.checks', '+ feed.checks']])
    expect(readFileSync(profile, 'utf8')).toMatch(
      /measured: 799\.9 mm, applied: \+0\.18 %, with: steel-rule-1m, web: 23 °C, lot: K-201, under: \w+ \}/,
    )

    // A second machine, and the profile taken to it.
    await make('printer', { ...PRINTER, printer: 'street-side' })
    const like = await rollbook(
      folder,
      'new',
      'profile',
      '--like',
      'banner-440-door-side',
      '--printer',
      'street-side',
      '--today',
      '2026-11-27',
    )
    expect(like.err).toMatch(/banner-440-street-side\.media\.yaml is written/)
    const errors = await rollbook(folder, 'check', '--today', '2026-11-27')
    expect(errors.out).toMatch(/ 0 errors/)
    expect(readdirSync(folder, { recursive: true }).map(String).sort()).toEqual([
      '.gitattributes',
      'answers.json',
      'checks.csv',
      'printers',
      'printers/door-side.printer.yaml',
      'printers/street-side.printer.yaml',
      'profiles',
      'profiles/banner-440-door-side.media.yaml',
      'profiles/banner-440-street-side.media.yaml',
      'rollbook.yaml',
      'stocks',
      'stocks/banner-440.stock.yaml',
      'written.txt',
    ])
  })

  test('what is there is never written over, and of several files none is written where one cannot be', async () => {
    const folder = newFolder()
    writeFileSync(join(folder, '.gitlab-ci.yml'), 'mine\n')
    const first = await rollbook(folder, 'new', 'shop', '--shop', 'Alder Lane Signs', '--ci', 'gitlab')
    expect([first.code, first.err]).toEqual([
      2,
      expect.stringMatching(/There is a file .*\.gitlab-ci\.yml already; it is not written over\. Nothing is written\./),
    ])
    expect(readdirSync(folder)).toEqual(['.gitlab-ci.yml'])
    expect(readFileSync(join(folder, '.gitlab-ci.yml'), 'utf8')).toBe('mine\n')
    const second = await rollbook(folder, 'new', 'shop', '--shop', 'Alder Lane Signs', '--ci', 'github')
    expect([second.code, second.out]).toEqual([0, ''])
    expect(readdirSync(join(folder, '.github', 'workflows'))).toEqual(['profiles.yml'])
    expect((await rollbook(folder, 'new', 'shop', '--shop', 'Another')).code).toBe(2)
    expect(readFileSync(join(folder, 'rollbook.yaml'), 'utf8')).toBe('shop: Alder Lane Signs\n')
  })
})
