// What making a new document needs of a shop: the questions that are left, where the file goes, and what is there already. One way for the command line and for
// the editor.
import { lastPart } from '../base/uri.ts'
import type { RollDocument } from '../model/document.ts'
import type { Shelf } from '../model/shelf.ts'
import { compose, holds, unansweredBy, unansweredMusts } from '../report/new/compose.ts'
import { type Answers, arises, NEW_KINDS, type NewKind, type Question } from '../report/new/question.ts'
import { DOCUMENT_OF, QUESTIONS, type Shown, shown } from '../report/new/questions.ts'
import { type RawAnswers, readAnswers } from '../report/new/read.ts'
import { severitiesOf } from './analysis.ts'
import { folderOf } from './folders.ts'
import { homeFor } from './homes.ts'
import { start, startChoices } from './starting.ts'
import type { Workspace } from './workspace.ts'

export const isNewKind = (word: string): word is NewKind => NEW_KINDS.includes(word as NewKind)

export interface NewWish {
  readonly kind: NewKind
  /** By the key of the question. */
  readonly given: RawAnswers
  /** The id of a stock or a printer that is there, to which the answers are added. */
  readonly into?: string | undefined
  /** The file it shall be; where the shop keeps such documents where not given. */
  readonly file?: string | undefined
}

/** The questions that can still be asked, those first without which nothing can begin, and what was wrong with the answers so far. */
export interface NextQuestions {
  readonly questions: readonly Shown[]
  readonly faults: readonly Fault[]
  readonly remarks: readonly string[]
  /** Why there is nothing to ask. */
  readonly refused?: string
}

/** What is wrong with one answer. */
export interface Fault {
  readonly key: string
  readonly reason: string
}

export type NewAnswer =
  | {
      readonly ok: true
      readonly file: string
      /** What the file holds now; undefined where it is made. */
      readonly before?: string
      readonly text: string
      /** What is to be minded before it is used. */
      readonly problems: readonly string[]
      /** What is unlikely, or is told of the document as it begins. */
      readonly remarks: readonly string[]
      /** The questions that are left open. */
      readonly open: readonly Shown[]
    }
  | { readonly ok: false; readonly refused: string; readonly faults: readonly Fault[] }

/** `at` is any file of the shop, or one in the folder that shall be a shop. */
export async function nextQuestions(workspace: Workspace, at: string, { kind, given, into }: NewWish): Promise<NextQuestions> {
  await workspace.settled()
  const { answers, faults, remarks } = await judged(workspace, at, kind, given)
  const target = await targetOf(workspace, at, kind, into)
  if ('refused' in target) return { questions: [], faults, remarks, refused: target.refused }
  // An instrument is a new entry, whatever the others say.
  const left = unansweredBy(kind, answers, kind === 'instrument' ? undefined : target.document).filter(
    (question) => arises(question, answers) && !given.has(question.key),
  )
  const questions = await Promise.all(left.map((question) => inShop(workspace, at, kind, question, answers)))
  return { questions: into === undefined ? questions : questions.map((one) => ({ ...one, must: false })), faults, remarks }
}

/** Makes a document of answers, or adds them to the one that holds such things. Nothing is written here. */
export async function newDocument(
  workspace: Workspace,
  at: string,
  { kind, given, into, file: wanted }: NewWish,
): Promise<NewAnswer> {
  await workspace.settled()
  const { answers, faults, remarks } = await judged(workspace, at, kind, given)
  if (faults.length > 0) return refuse('An answer cannot stand as it is.', faults)
  const today = workspace.host.today()
  const missing = into === undefined ? unansweredMusts(kind, answers) : []
  if (missing.length > 0)
    return refuse(
      'It cannot begin without an answer.',
      missing.map(({ key, ask }) => ({ key, reason: ask })),
    )
  if (kind === 'profile') return started(workspace, at, answers)
  const target = await targetOf(workspace, at, kind, into)
  if ('refused' in target) return refuse(target.refused)
  const shelf = workspace.shelf(at)
  const id = answers.get(kind)?.[0] ?? ''
  if (into === undefined && kind !== 'shop' && kind !== 'instrument') {
    const [twin] = shelf.withId(kind, id)
    if (twin) return refuse(`There is a ${kind} '${id}' already: ${lastPart(twin.file)}. What it lacks can be added to it.`)
  }
  if (kind === 'instrument' && target.document && holds(target.document, ['instruments', id]))
    return refuse(`The shop has an instrument '${id}' already.`)
  const file = target.document?.file ?? wanted ?? fileFor(shelf, at, kind, id)
  const severities = severitiesOf(shelf.shop()?.content)
  const composed = compose({ kind, answers, file, into: target.document?.text, shelf, severities, today })
  if (!composed.ok) return refuse(composed.refused)
  const { text, open } = composed
  if (text === target.document?.text) return refuse('Nothing is answered, so there is nothing to add.')
  return {
    ok: true,
    file,
    ...(target.document && { before: target.document.text }),
    text,
    problems: [],
    remarks: [...remarks, ...composed.remarks.filter((remark) => !remarks.includes(remark))],
    open: into === undefined ? open.map((question) => shown(kind, question)) : [],
  }
}

const refuse = (refused: string, faults: readonly Fault[] = []): NewAnswer => ({ ok: false, refused, faults })

/** Answers judged by the format, and those that choose something of the shop by what it has. */
async function judged(
  workspace: Workspace,
  at: string,
  kind: NewKind,
  given: RawAnswers,
): Promise<ReturnType<typeof readAnswers>> {
  const read = readAnswers(kind, given, workspace.host.today())
  if (kind !== 'profile') return read
  const faults = [...read.faults]
  for (const question of QUESTIONS.profile) {
    const [answer] = read.answers.get(question.key) ?? []
    const { choices } = await inShop(workspace, at, kind, question, read.answers)
    if (answer !== undefined && choices && !choices.some(({ value }) => value === answer))
      faults.push({
        key: question.key,
        reason: `There is no ${question.key} '${answer}' here. There is ${choices.map(({ value }) => value).join(', ') || 'none'}.`,
      })
  }
  return { ...read, faults }
}

/** A question with what the shop has to choose from. */
async function inShop(workspace: Workspace, at: string, kind: NewKind, question: Question, answers: Answers): Promise<Shown> {
  const plain = shown(kind, question)
  if (kind !== 'profile' || question.key === 'id') return plain
  const { stocks, printers } = await startChoices(workspace, at)
  const named = (list: typeof stocks): Shown['choices'] =>
    list.map(({ id, title }) => ({ value: id, ...(title !== undefined && { meaning: title }) }))
  if (question.key === 'stock') return { ...plain, choices: named(stocks) ?? [] }
  if (question.key === 'printer') return { ...plain, choices: named(printers) ?? [] }
  const printer = printers.find(({ id }) => id === answers.get('printer')?.[0])
  return printer ? { ...plain, choices: printer.modes.map((value) => ({ value })) } : plain
}

async function started(workspace: Workspace, at: string, answers: Answers): Promise<NewAnswer> {
  const one = (key: string): string | undefined => answers.get(key)?.[0]
  const made = await start(workspace, at, { stock: one('stock')!, printer: one('printer')!, mode: one('mode'), id: one('id') })
  if (!made.ok) return refuse(made.refused)
  return { ok: true, file: made.file, text: made.text, problems: made.problems, remarks: [], open: [] }
}

interface Target {
  readonly document?: RollDocument
}

/** The document that the answers go into, where it is there. */
async function targetOf(
  workspace: Workspace,
  at: string,
  kind: NewKind,
  into: string | undefined,
): Promise<Target | { readonly refused: string }> {
  const shelf = workspace.shelf(at)
  const shop = [...shelf.all('shop')][0]
  if (kind === 'shop' && shop)
    return { refused: 'There is a shop already, here or in a folder above: its rollbook.yaml is the one that counts.' }
  if (kind === 'instrument') {
    const document = shop && (await workspace.load(shop.file))
    return document
      ? { document }
      : {
          refused:
            'Instruments stand in the document of the shop, and there is none yet that can be read: make a new shop first.',
        }
  }
  if (into === undefined) return {}
  if (kind !== 'stock' && kind !== 'printer')
    return { refused: 'Only to a stock or a printer that is there can answers be added.' }
  const [facts] = shelf.withId(kind, into)
  const document = facts && (await workspace.load(facts.file))
  return document ? { document } : { refused: `There is no ${kind} '${into}' here that can be read.` }
}

function fileFor(shelf: Shelf, at: string, kind: NewKind, id: string): string {
  const document = DOCUMENT_OF[kind]
  return document === 'shop' ? `${folderOf(at)}rollbook.yaml` : `${homeFor(shelf, document, at)}${id}.${document}.yaml`
}
