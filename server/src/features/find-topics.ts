// Finds what to explain by the words a person has for it: a name, what else the trade calls it, or words of its one sentence.
import { nearest } from '../base/nearest.ts'
import { explainTopics, type Topic } from './explain.ts'

/** Topics, best first: those called exactly so, then those that have all of the words, or most. */
export interface FoundTopics {
  /** Called exactly what was asked for, by name or by another word of the trade. */
  readonly called: readonly Topic[]
  readonly others: readonly Topic[]
}

export function findTopics(query: string): FoundTopics {
  const topics = explainTopics()
  const words = wordsOf(query)
  if (words.length === 0) return { called: [], others: [] }
  const name = words.join(' ')
  const called = topics.filter((topic) => namesOf(topic).includes(name))
  const ranked = topics
    .filter((topic) => !called.includes(topic))
    .map((topic) => ({ topic, ranks: words.map((word) => rankOf(topic, word)) }))
    .map(({ topic, ranks }) => ({ topic, had: ranks.filter((rank) => rank > 0).length, rank: ranks.reduce((a, b) => a + b, 0) }))
  // Where nothing has every word, what has most of them is still a help.
  const most = Math.max(0, ...ranked.map(({ had }) => had))
  const others = ranked.filter(({ had }) => had > 0 && had === most && had * 2 >= words.length).sort((a, b) => b.rank - a.rank)
  return { called, others: others.map(({ topic }) => topic) }
}

/** The name most like a mistyped one, among names, last parts of names and other words of the trade. */
export function nearestTopic(query: string): string | undefined {
  const names = explainTopics().flatMap(({ label, also }) => [label, label.slice(label.lastIndexOf('.') + 1), ...also])
  return nearest(query.trim(), [...new Set(names)])
}

/** Whole name and last part of the name, and what else it is called. */
const namesOf = ({ label, also }: Topic): readonly string[] =>
  [label, label.slice(label.lastIndexOf('.') + 1), ...also].map((name) => wordsOf(name).join(' '))

/** How much a topic is meant by a word: 3 in its name, 2 in what else it is called, 1 in its sentence, 0 nowhere. */
function rankOf(topic: Topic, word: string): number {
  const places = [wordsOf(topic.label), topic.also.flatMap(wordsOf), wordsOf(topic.summary)]
  const place = places.findIndex((texts) => texts.some((text) => fits(text, word)))
  return place === -1 ? 0 : places.length - place
}

/** A word, its plural, or the beginning of a longer one. */
const fits = (text: string, word: string): boolean =>
  text === word || `${text}s` === word || (word.length >= LEAST_BEGINNING && text.startsWith(word))

const LEAST_BEGINNING = 4

const wordsOf = (text: string): readonly string[] =>
  text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')
