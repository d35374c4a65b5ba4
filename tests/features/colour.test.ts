// Colour through the documents: what hovers say of the files that a profile names, what is reckoned, and that a file that changes is read again.
import { describe, expect, test } from 'vitest'
import { quantities } from '../../server/src/areas/colour/quantities.ts'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { OUTSIDE } from '../../server/src/model/attached.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { findings, numbersAt } from '../support/render.ts'
import { setupFrom } from '../support/setups.ts'

const strip = (rows: string, extra = ''): string =>
  `CGATS.17\nDESCRIPTOR "An invented strip"\nCREATED "2026-11-17"\n${extra}BEGIN_DATA_FORMAT\nSAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n${rows}END_DATA\n`

// Pairs 1, 25 and 33 of Sharma, Wu and Dalal 2005, Table 1: 2.0425, 1.2644 and 0.6377. Their mean is 1.3149.
const AIM = strip('1 blue 50 2.6772 -79.7751\n2 green 60.2574 -34.0099 36.2677\n3 black 6.7747 -0.2908 -2.4247\n')
const FOUND = strip('3 black 5.8714 -0.0985 -2.2286\n1 blue 50 0 -82.7485\n2 green 60.4626 -34.1751 39.4387\n')
const SHOP = '#- rollbook.yaml\nshop: s\ntolerance: {colour: {mean: 1.5, percentile: 3, max: 2}}\n'
const FILES = `#- colour/aim.txt\n${AIM}#- colour/found.txt\n${FOUND}`
const PROFILE = `profile: e
colour:
  icc: film.icc
  reference: colour/aim.txt
  measured: [{file: colour/found.txt, date: 2026-03-20}]
`

const told = (markdown: string): string => markdown.replaceAll('\n\n', '\n')

describe('hover', () => {
  test('of an ICC profile: class, space, connection space, version, day, name', async () => {
    const at = PROFILE.replace('film.icc', '$0film.icc')
    expect(told(await numbersAt(`${at}#- film.icc\nICC profile of class prtr, space CMYK\n${FILES}${SHOP}`))).toContain(
      '**An output profile** for CMYK (4 channels), connection space Lab, ICC version 4.4.0, made on 2025-10-02, 3 tags.\nIt calls itself "Made up for a test".',
    )
  })

  test('of one that is not there, or is something else', async () => {
    const at = PROFILE.replace('film.icc', '$0film.icc')
    expect(await numbersAt(`${at}${FILES}`)).toContain('**Not read: there is no such file.**')
    expect(await numbersAt(`${at}#- film.icc\n%PDF-1.7\n`)).toContain('It is a PDF file.')
    expect(await numbersAt(`${at}#- film.icc\nICC profile of class prtr, cut after 180 bytes\n`)).toContain(
      '**Broken:** it ends after 180 bytes',
    )
  })

  test('of the colours aimed at: how many patches', async () => {
    expect(await numbersAt(`${PROFILE.replace('colour/aim', '$0colour/aim')}${FILES}`)).toContain(
      '**3 patches** with L\\*, a\\* and b\\*, made on 2026-11-17.\n\nIt calls itself "An invented strip".',
    )
  })

  test('of a measurement: mean, 95th percentile, maximum and the worst patches, as published', async () => {
    expect(await numbersAt(`${PROFILE.replace('file: colour/found', 'file: $0colour/found')}${FILES}${SHOP}`)).toContain(
      "**ΔE00** against 'aim.txt': mean 1.31 (the shop allows 1.5), 95th percentile 2.04 (the shop allows 3), maximum 2.04 (the shop allows 2), over 3 patches.\n\n" +
        'Worst: blue 2.04, green 1.26, black 0.64.',
    )
  })

  test('of a measurement that cannot be compared says why', async () => {
    const at = PROFILE.replace('file: colour/found', 'file: $0colour/found')
    expect(await numbersAt(`${at}#- colour/found.txt\n${FOUND}`)).toContain(
      'No colour difference: the file of the colours aimed at is not read.',
    )
    expect(await numbersAt(`${at}#- colour/aim.txt\n${AIM}#- colour/found.txt\n${FOUND.replace('50 0 ', '50,0 0 ')}`)).toContain(
      "**Not compared:** line 9: LAB\\_L is '50,0', which is no number with a decimal point.",
    )
  })

  test('of a measurement with spectra says that they are not used', async () => {
    const spectral = FOUND.replace('LAB_B\n', 'LAB_B SPECTRAL_NM400 SPECTRAL_NM410\n').replace(/^(\d .*)$/gm, '$1 0.5 0.6')
    expect(
      await numbersAt(
        `${PROFILE.replace('file: colour/found', 'file: $0colour/found')}#- colour/aim.txt\n${AIM}#- colour/found.txt\n${spectral}`,
      ),
    ).toContain('2 spectral columns are kept and not used.')
  })

  test('of all measurements: a line each', async () => {
    const two = PROFILE.replace('measured: [', '$0measured: [{file: gone.txt, date: 2026-03-19}, ')
    expect(await numbersAt(`${two}${FILES}`)).toContain(
      "- 'gone.txt': not read\n- 'found.txt': ΔE00 mean 1.31, 95th percentile 2.04, maximum 2.04, over 3 patches",
    )
  })
})

describe('reckoned', () => {
  test('are mean, 95th percentile and maximum, with what is beyond the tolerance', async () => {
    const rows = reckonArea(quantities, await setupFrom(`${PROFILE}${FILES}${SHOP}`))
    expect(rows.map(({ key, value }) => [key, (value as number).toFixed(4)])).toEqual([
      ['colour.mean', '1.3149'],
      ['colour.percentile', '2.0425'],
      ['colour.max', '2.0425'],
    ])
    expect(rows.map(({ problem }) => problem?.reason)).toEqual([
      undefined,
      undefined,
      '2.04 is beyond the 2 that the shop allows',
    ])
  })

  test('say what was left out, and why there is nothing', async () => {
    const fewer = await setupFrom(`${PROFILE}#- colour/aim.txt\n${AIM}#- colour/found.txt\n${FOUND.replace(/^1 blue.*\n/m, '')}`)
    expect(reckonArea(quantities, fewer)[0]!.problem?.reason).toBe('1 patch of the two files could not be compared')
    const gone = reckonArea(quantities, await setupFrom(`${PROFILE}#- colour/found.txt\n${FOUND}`))
    expect(gone.map(({ value, problem }) => [value, problem?.reason])).toEqual(
      new Array(3).fill([undefined, 'the file of the colours aimed at is not read']),
    )
    expect(reckonArea(quantities, await setupFrom('profile: e\ncolour: {ink-limit: 200 %}\n'))).toEqual([])
  })

  test('are judged as they are told: nobody hears of 2.04 above 2.04', async () => {
    const close = SHOP.replace('max: 2', 'max: 2.04')
    expect(await findings(`${PROFILE.replace('  icc: film.icc\n', '')}${FILES}${close}`)).not.toContain('colour-beyond-tolerance')
  })
})

describe('files', () => {
  test('of a base are looked for beside the base', async () => {
    const setup = await setupFrom(
      `#- profiles/e.media.yaml\nprofile: e\nbase: b\n#- bases/b.media.yaml\nprofile: b\ncolour: {reference: aim.txt}\n#- bases/aim.txt\n${AIM}#- rollbook.yaml\nshop: s\n`,
    )
    expect(setup.colourFiles.reference?.attached).toMatchObject({ state: 'read', file: { format: 'cgats' } })
  })

  test('outside of the shop are never asked for', async () => {
    const fixture = parseFixture(
      'colour: {icc: ../x.icc, reference: /etc/passwd, measured: [{file: "https://example.org/a.txt"}]}\n#- rollbook.yaml\nshop: s\n',
    )
    const analysis = await openFixture(fixture)
    expect([...analysis.workspace.attachedFiles()]).toEqual([])
    expect(analysis.context(fixture.file)?.setup?.colourFiles.icc?.attached).toBe(OUTSIDE)
  })

  test('are read again when they come, change and go', async () => {
    const fixture = parseFixture(`${PROFILE.replace('  icc: film.icc\n', '')}#- colour/aim.txt\n${AIM}${SHOP}`)
    const analysis = await openFixture(fixture)
    const { workspace } = analysis
    const { files } = workspace.host as MemoryHost
    const codes = async (): Promise<string[]> => {
      await workspace.prepare(fixture.file)
      return analysis.findings(fixture.file).flatMap(({ code }) => (/^(?:colour|cgats|patches)/.test(code) ? [code] : []))
    }
    const found = `${ROOT}colour/found.txt`
    expect(await codes()).toEqual(['colour-file-missing'])
    for (const [text, expected] of [
      [FOUND, ['colour-beyond-tolerance']],
      [AIM, []],
      [FOUND.slice(0, 150), ['cgats-broken']],
      ['half a te', ['colour-file-kind']],
      [undefined, ['colour-file-missing']],
    ] as const) {
      if (text === undefined) files.delete(found)
      else files.set(found, text)
      await workspace.changedOnDisk(found)
      expect(await codes()).toEqual(expected)
    }
  })

  test('that change while they are read are read once more', async () => {
    const files = new Map([
      [`${ROOT}e.media.yaml`, 'colour: {reference: aim.txt}\n'],
      [`${ROOT}aim.txt`, 'half a te'],
    ])
    const host = new MemoryHost(files)
    const workspace = new Workspace(host)
    const read = host.readBytes.bind(host)
    let times = 0
    host.readBytes = async (file, most) => {
      const bytes = await read(file, most)
      if (++times === 1) {
        files.set(file, AIM)
        await workspace.changedOnDisk(file)
      }
      return bytes
    }
    await workspace.addFolder(ROOT)
    workspace.update(`${ROOT}e.media.yaml`, files.get(`${ROOT}e.media.yaml`)!)
    await workspace.prepare(`${ROOT}e.media.yaml`)
    expect(times).toBe(2)
    expect(new Analysis(workspace, true).context(`${ROOT}e.media.yaml`)?.setup?.colourFiles.reference?.attached).toMatchObject({
      file: { format: 'cgats' },
    })
  })

  test('of many profiles do not gather, and a profile always has its own', async () => {
    const names = Array.from({ length: 150 }, (_, i) => `m${i}.txt`)
    const files = new Map(names.map((name) => [ROOT + name, FOUND]))
    const workspace = new Workspace(new MemoryHost(files))
    await workspace.addFolder(ROOT)
    const analysis = new Analysis(workspace, true)
    for (const name of names) {
      const file = `${ROOT}${name}.media.yaml`
      workspace.update(file, `colour: {measured: [{file: ${name}}]}\n`)
      await workspace.prepare(file)
      expect(analysis.context(file)?.setup?.colourFiles.measured[0]?.attached?.state).toBe('read')
    }
    expect([...workspace.attachedFiles()].length).toBeLessThanOrEqual(101)
    // One that was let go is read again when it is asked for.
    await workspace.prepare(`${ROOT}m0.txt.media.yaml`)
    expect(analysis.context(`${ROOT}m0.txt.media.yaml`)?.setup?.colourFiles.measured[0]?.attached?.state).toBe('read')
  })
})
