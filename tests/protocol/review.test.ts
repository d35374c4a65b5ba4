// The review of the work at hand over the protocol, in real git repositories: unsaved text counts, closed profiles are told of, and what cannot be is a sentence.
import { rmSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { CodeLens } from 'vscode-languageserver'
import { NodeHost } from '../../server/src/host/node.ts'
import { GitRevisions } from '../../server/src/host/node-git.ts'
import type { Revisions } from '../../server/src/host/revisions.ts'
import { commit, git, newFolder, repository, SHOP, write } from '../cli/repository.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { Client, FULL } from './client.ts'

const FILES = parseFixture(SHOP).files
const textOf = (name: string): string => FILES.get(ROOT + name)!

class Disk extends NodeHost {
  override today(): string {
    return '2026-03-31'
  }
}

/** Tells when git would be asked. */
class Counted implements Pick<Revisions, 'of' | 'whole' | 'unmerged'> {
  asked = 0
  private readonly git = new GitRevisions()
  of(folder: string): ReturnType<Revisions['of']> {
    this.asked++
    return this.git.of(folder)
  }

  whole: Revisions['whole'] = (...asked) => this.git.whole(...asked)
  unmerged = (folder: string): ReturnType<Revisions['unmerged']> => this.git.unmerged(folder)
}

interface Lead {
  readonly uri?: string
  readonly line?: number
  readonly before?: { readonly uri: string; readonly at: string }
}

interface Answer {
  readonly refused?: string
  readonly title: string
  readonly body: string
  readonly leads: readonly Lead[]
}

let client: Client
let revisions: Counted
let base: string

async function start(folder: string): Promise<void> {
  revisions = new Counted()
  base = `${pathToFileURL(folder).href}/`
  client = (
    await Client.start('', {
      folders: [base.slice(0, -1)],
      disk: { host: new Disk(), revisions },
      capabilities: { ...FULL, workspace: { ...FULL.workspace, codeLens: { refreshSupport: true } } },
      initializationOptions: { reviewCommand: 'review' },
    })
  ).client
}

afterEach(() => client.stop())

const open = (name: string, text: string, uri = base + name): Promise<void> =>
  client.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'rollbook', version: 1, text },
  })

const ask = (against: string, more: object = {}): Promise<Answer> =>
  client.request('rollbook/review', { uri: `${base}rollbook.yaml`, against, trusted: true, ...more })

/** The text of the page, a line for each paragraph, item and row. */
const lines = ({ body }: Answer): readonly string[] =>
  body
    .replace(/<\/t[dh]>/g, ' | ')
    .replace(/<[^>]*>/g, '')
    .replaceAll('&#39;', "'")
    .split('\n')
    .filter((line) => line !== '')

/** The addresses of the links with these words. */
const leadsOf = ({ body, leads }: Answer, words: string): readonly Lead[] =>
  [...body.matchAll(/<a href="#(\d+)">([^<]*)<\/a>/g)].flatMap(([, at, told]) => (told === words ? [leads[Number(at)]!] : []))

describe('in a repository', () => {
  let folder: string
  beforeEach(async () => {
    folder = repository(SHOP)
    await start(folder)
  })

  test('a stock that is typed in an open editor moves closed profiles, and each line leads to its document', async () => {
    const thick = textOf('stocks/film.stock.yaml').replace('thickness: 0.1 mm', 'thickness: 1.9 mm')
    await open('stocks/film.stock.yaml', thick)
    const answer = await ask('commit')
    expect(lines(answer)[0]).toBe('Review of the last commit → the work tree with what is not saved, as on 2026-03-31')
    expect(lines(answer)).toContainEqual(
      'stock film (stocks/film.stock.yaml) is changed: 1 setting. 2 profiles rest on it: film-1, film-2. Compare the texts of stock film',
    )
    expect(lines(answer)).toContainEqual('stock film | thickness | 0.1 mm | 1.9 mm | +1.8 mm | ')
    expect(answer.body).toMatch(/<a href="#\d+">profiles\/film-1\.media\.yaml:4<\/a> (?:error|warning) gap-/)
    expect(answer.body).not.toContain('paper-1')
    const stock = { uri: `${base}stocks/film.stock.yaml` }
    expect(leadsOf(answer, 'profiles/film-1.media.yaml:4')[0]).toEqual({ uri: `${base}profiles/film-1.media.yaml`, line: 3 })
    const head = git(folder, 'rev-parse', 'HEAD').trim()
    expect(leadsOf(answer, 'Compare the texts of stock film')).toEqual([{ ...stock, before: { ...stock, at: head } }])
    expect(leadsOf(answer, 'stock film')).toEqual([stock, { ...stock, line: 1 }])
    const before = await client.request('rollbook/textBefore', { ...stock, at: head, trusted: true })
    expect(before).toEqual({ text: textOf('stocks/film.stock.yaml') })
  })

  test('what is the same and written anew is counted, and listed on request', async () => {
    await open('stocks/paper.stock.yaml', textOf('stocks/paper.stock.yaml').replace('0.2 mm', '200 µm'))
    expect(lines(await ask('saved'))).toContainEqual("stock paper: 1 value. 'Show everything' lists them.")
    expect(lines(await ask('saved', { all: true }))).toContainEqual(
      'stock paper: thickness: 0.2 mm → 200 µm, same value written anew',
    )
  })

  test('what is typed wins over the disk, also where it undoes what is saved', async () => {
    write(folder, `#- stocks/paper.stock.yaml\n${textOf('stocks/paper.stock.yaml').replace('0.2 mm', '0.3 mm')}`)
    expect(lines(await ask('commit'))).toContainEqual('stock paper | thickness | 0.2 mm | 0.3 mm | +0.1 mm | ')
    await open('stocks/paper.stock.yaml', textOf('stocks/paper.stock.yaml').replace('0.2 mm', '0.4 mm'))
    expect(lines(await ask('commit'))).toContainEqual('stock paper | thickness | 0.2 mm | 0.4 mm | +0.2 mm | ')
    expect(lines(await ask('saved'))).toContainEqual('stock paper | thickness | 0.3 mm | 0.4 mm | +0.1 mm | ')
    const uri = `${base}stocks/paper.stock.yaml`
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: textOf('stocks/paper.stock.yaml') }],
    })
    expect(lines(await ask('commit'))).toContainEqual('No document differs; 8 documents are as before.')
    expect(await client.request('rollbook/textBefore', { uri, at: 'saved' })).toEqual({
      text: textOf('stocks/paper.stock.yaml').replace('0.2 mm', '0.3 mm'),
    })
  })

  test('the main branch is where the work left it; a document that is gone leads to its earlier text', async () => {
    git(folder, 'checkout', '-q', '-b', 'work')
    rmSync(`${folder}/profiles/paper-1.media.yaml`)
    commit(folder)
    const answer = await ask('main')
    expect(answer.title).toBe('Review of main (as it was when left) → the work tree, as on 2026-03-31')
    const at = git(folder, 'rev-parse', 'main').trim()
    expect(leadsOf(answer, 'profile paper-1')[0]).toEqual({ before: { uri: `${base}profiles/paper-1.media.yaml`, at } })
    expect(answer.body).not.toContain('Compare the texts')
    expect(lines(await ask('commit'))).toContainEqual('No document differs; 7 documents are as before.')
  })

  test('a finding that the document accepts is told as accepted', async () => {
    const accepted = textOf('stocks/film.stock.yaml').replace('thickness: 0.1 mm', 'thickness: 0.1 mm\nfriction: 0.01')
    await open('stocks/film.stock.yaml', accepted)
    const [finding = ''] = lines(await ask('saved')).filter((line) => /^stocks\/film\.stock\.yaml:\d+ warning/.test(line))
    const [, code = ''] = / warning (\S+): /.exec(finding) ?? []
    const comment = `# rollbook-accept ${code} until 2026-12-01: measured on the <b>wall</b>`
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: `${base}stocks/film.stock.yaml`, version: 2 },
      contentChanges: [{ text: accepted.replace('friction: 0.01', `friction: 0.01 ${comment}`) }],
    })
    const { body } = await ask('saved')
    const held = body.slice(body.indexOf('<h2>Accepted in the documents</h2>'))
    expect(held).toContain(`warning ${code} (accepted until 2026-12-01: measured on the &lt;b&gt;wall&lt;/b&gt;)`)
    expect(body.indexOf(` ${code} `)).toBeGreaterThan(body.indexOf('<h2>Accepted'))
  })

  test('no git runs in a folder that nobody trusts, and the saved version needs none', async () => {
    const no = 'Git is run only in a folder that you trust: trust this one first, or compare with what is saved.'
    for (const trusted of [false, null, undefined]) {
      expect(await ask('commit', { trusted })).toEqual({ refused: no })
      expect(await ask('main', { trusted })).toEqual({ refused: no })
    }
    const uri = `${base}rollbook.yaml`
    expect(await client.request('rollbook/textBefore', { uri, at: 'HEAD', trusted: false })).toEqual({ refused: no })
    await open('stocks/paper.stock.yaml', textOf('stocks/paper.stock.yaml').replace('0.2 mm', '0.4 mm'))
    expect(lines(await ask('saved', { trusted: false }))).toContainEqual('stock paper | thickness | 0.2 mm | 0.4 mm | +0.2 mm | ')
    expect(revisions.asked).toBe(0)
  })

  describe('a line above a document tells what follows since the last commit', () => {
    const NAME = 'stocks/film.stock.yaml'
    const thick = textOf(NAME).replace('thickness: 0.1 mm', 'thickness: 1.9 mm')

    const lines = async (trusted?: boolean): Promise<readonly string[]> => {
      const at = { textDocument: { uri: base + NAME }, ...(trusted !== undefined && { trusted }) }
      const found = await client.request<CodeLens[]>('textDocument/codeLens', at)
      const own = found.filter(({ data }) => (data as { follows?: string } | undefined)?.follows)
      const told = await Promise.all(own.map((lens) => client.request<CodeLens>('codeLens/resolve', lens)))
      return told.map(({ command }) => `${command!.title} [${command!.command} ${command!.arguments}]`)
    }
    /** As often as the server asks to be asked again, until they are so many. */
    const untilThere = async (count: number): Promise<readonly string[]> => {
      for (;;) {
        client.asked.length = 0
        const found = await lines(true)
        if (found.length === count) return found
        await client.askedFor('workspace/codeLens/refresh')
      }
    }
    const changed = (path: string) =>
      client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: base + path, type: 2 }] })

    test('of what is saved, until it is committed', async () => {
      await open(NAME, textOf(NAME))
      expect(await lines(true)).toEqual([])
      write(folder, `#- ${NAME}\n${thick}`)
      await client.connection.sendNotification('textDocument/didChange', {
        textDocument: { uri: base + NAME, version: 2 },
        contentChanges: [{ text: thick }],
      })
      await changed(NAME)
      expect(await untilThere(1)).toEqual([
        'Since the last commit: nothing to key in, no proven length to prove again, 2 findings more [review commit]',
      ])
      commit(folder)
      await changed('.git/logs/HEAD')
      expect(await untilThere(0)).toEqual([])
    })

    test('of what is not saved git is asked nothing, however much is typed: the click tells', async () => {
      write(folder, `#- ${NAME}\n${thick}`)
      await open(NAME, thick)
      await untilThere(1)
      const { asked } = revisions
      for (const version of [2, 3, 4])
        await client.connection.sendNotification('textDocument/didChange', {
          textDocument: { uri: base + NAME, version },
          contentChanges: [{ text: thick.replace('1.9 mm', `1.${version} mm`) }],
        })
      expect(await lines(true)).toEqual([
        expect.stringMatching(/^Unsaved: .* \[review saved\]$/),
        'What follows from what is not committed [review commit]',
      ])
      expect(revisions.asked).toBe(asked)
    })

    test('git is asked nothing in a folder that nobody trusts', async () => {
      write(folder, `#- ${NAME}\n${thick}`)
      await open(NAME, thick)
      for (const trusted of [undefined, false]) expect(await lines(trusted)).toEqual([])
      await changed(NAME)
      expect(await lines(false)).toEqual([])
      expect(revisions.asked).toBe(0)
    })
  })

  test('a text without a file is said to be left out, and has no review of its own', async () => {
    await open('', 'profile: x\nstock: film\nprinter: bay-1\n', 'untitled:Untitled-1')
    const answer = await ask('commit')
    expect(lines(answer)).toContainEqual('Untitled-1 has no file yet, and is not compared. Save it first.')
    expect(lines(answer)[1]).toContain('1 thing could not be compared')
    expect(await ask('commit', { uri: 'untitled:Untitled-1' })).toEqual({
      refused: 'This text has no file yet, so that there is no earlier version of it: save it first.',
    })
  })

  test('nothing unsaved, and a version that there is none of', async () => {
    await open('rollbook.yaml', textOf('rollbook.yaml'))
    expect(await ask('saved')).toEqual({ refused: 'Nothing is unsaved in this shop: every open document is as its file is.' })
    expect((await ask('yesterday')).refused).toBe("There is no version 'yesterday' to compare with: saved, commit, main.")
  })
})

test('outside git, and before the first commit', async () => {
  const folder = newFolder()
  write(folder, SHOP)
  await start(folder)
  expect((await ask('commit')).refused).toMatch(
    / is not in a working tree of git, so that there is no revision of it to look at\.$/,
  )
  git(folder, 'init', '-q', '-b', 'main')
  expect((await ask('commit')).refused).toMatch(/^Nothing is committed here yet/)
  expect((await ask('main')).refused).toMatch(/^Nothing is committed here yet/)
})

test('where there is no git at all', async () => {
  client = (await Client.start(SHOP)).client
  base = ROOT
  expect((await ask('commit')).refused).toBe('There is no git here to ask for older versions: compare with what is saved.')
  await client.open('stocks/paper.stock.yaml', textOf('stocks/paper.stock.yaml').replace('0.2 mm', '0.4 mm'))
  expect(lines(await ask('saved'))).toContainEqual('stock paper | thickness | 0.2 mm | 0.4 mm | +0.2 mm | ')
})
