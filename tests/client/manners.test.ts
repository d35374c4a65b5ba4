// Manners of the extension that need no editor to be seen: few settings and each of them read, a walkthrough whose steps can be done, and nothing that moves.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '..', '..')
const { contributes } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'))

const sources = (folder: string): readonly string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(?:ts|css|md|svg)$/.test(name))
    .map((name) => readFileSync(join(ROOT, folder, name), 'utf8'))

test('settings are few, and the server reads what is no setting of the client library', () => {
  const names = Object.keys(contributes.configuration.properties)
  expect(names).toEqual(['rollbook.hints.checks', 'rollbook.trace.server'])
  expect(readFileSync(join(ROOT, 'server/src/lsp/settings.ts'), 'utf8')).toMatch(/hints\b[\s\S]*checks/)
})

test('each step of the walkthrough is shown with a file that is there, and done by a command that is there or by work that tells of itself', () => {
  const client = sources('client/src').join('\n')
  const commands = new Set(contributes.commands.map(({ command }: { command: string }) => command))
  for (const { description, media, completionEvents } of contributes.walkthroughs[0].steps) {
    expect(existsSync(join(ROOT, media.svg ?? media.markdown))).toBe(true)
    for (const [, command] of description.matchAll(/\(command:([\w.]+)\)/g)) expect(commands).toContain(command)
    for (const event of completionEvents) {
      const [kind, what] = event.split(':')
      if (kind === 'onCommand') expect(commands).toContain(what)
      else if (kind === 'onLanguage') expect(contributes.languages.map(({ id }: { id: string }) => id)).toContain(what)
      else expect(client).toContain(`markDone('${what.replace('rollbook.', '')}')`)
    }
  }
})

test('no page moves, so that none has to stand still for who wants less motion', () => {
  for (const text of ['client/src', 'client/media', 'server/src/picture', 'server/src/review', 'server/src/report'].flatMap(
    sources,
  ))
    expect(text).not.toMatch(/@keyframes|\b(?:animation|transition)\s*:|scroll-behavior|behavior: 'smooth'|<animate/)
})

test('a message at the corner says why nothing was done, asks something, or tells that the server is gone: none is for what is no news', () => {
  const told = sources('client/src').flatMap((text) => [
    ...text.matchAll(/show(?:Information|Warning|Error)Message\(\s*([^\n]*)/g),
  ])
  // A new one is to be looked at: `tell` (why nothing was done), the sample shop that is there already, no profile yet, nothing to record, the server given up.
  expect(told.map(([, words]) => words!.slice(0, 24)).sort()).toMatchInlineSnapshot(`
    [
      "actions[0]?.disabled?.re",
      "message)",
      "message, log, restart).t",
      "message, open)) !== open",
      "vscode.l10n.t('Nothing c",
      "vscode.l10n.t('There is ",
    ]
  `)
})
