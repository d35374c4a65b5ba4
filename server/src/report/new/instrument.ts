// What a new instrument begins with. It is an entry of the shop's own document.
import type { Question } from './question.ts'

const LENGTHS = { key: 'kind', says: ['rule', 'tape', 'caliper', 'sensor', 'loupe'] } as const

export const INSTRUMENT: readonly Question[] = [
  {
    key: 'instrument',
    path: 'instruments',
    ask: 'What do you call the instrument?',
    why: 'Each reading names what it was read with.',
    where:
      'A name of your own, in lower-case words joined by hyphens, best written on it: the next shift must pick the same one.',
    must: true,
  },
  {
    key: 'kind',
    path: 'instruments.*.kind',
    ask: 'What is it?',
    why: 'It tells what its readings can be.',
    where: 'Look at it: a rule is stiff, a tape is not.',
    without: 'what it can measure',
  },
  {
    key: 'division',
    path: 'instruments.*.division',
    ask: 'How far apart are its finest marks, or the last digit it shows?',
    why: 'Nobody reads finer than that, so it is a part of every ±.',
    where: 'Look at the scale: the distance between two neighbouring marks.',
    without: 'how finely it was read',
  },
  {
    key: 'length',
    path: 'instruments.*.length',
    ask: 'How long is it?',
    why: 'A pattern must be shorter than what measures it; one that is laid down twice adds an error.',
    where: 'The number at the end of its scale.',
    without: 'whether a pattern can be measured in one go',
    after: LENGTHS,
  },
  {
    key: 'limit-of-error',
    path: 'instruments.*.limit-of-error',
    ask: 'How far may it be wrong by its marking or its certificate?',
    why: 'No number of prints makes a wrong rule right, so the proof can be no better than this.',
    where:
      'An accuracy class is printed near the zero of a rule or tape: a Roman numeral in an oval (class I, II or III). Else the certificate: a part that is always there and a part for each metre. Unmarked: leave it open.',
    without: 'how far all its readings may be off together',
  },
  {
    key: 'hook',
    path: 'instruments.*.hook',
    ask: 'Is its end hooked over the edge of the print?',
    why: 'A hook that is bent or worn moves the zero.',
    where: 'Look at its end, and at how you measure with it.',
    after: { key: 'kind', says: ['tape'] },
  },
  {
    key: 'expansion',
    path: 'instruments.*.expansion',
    ask: 'How much does it grow with warmth?',
    why: 'A rule that is warmer than its reference temperature reads short.',
    where: 'Its data sheet, by its material. Steel and glass differ, so does stainless steel.',
    without: 'what its warmth does to a reading',
    after: { key: 'kind', says: ['rule', 'tape', 'caliper'] },
  },
  {
    key: 'calibrated',
    path: 'instruments.*.calibrated',
    ask: 'When was it last compared with a better one?',
    why: 'A reading made after it is due proves less.',
    where: 'The date on its certificate or its label. Never compared: leave it open.',
    without: 'whether its readings are covered by a comparison',
  },
  {
    key: 'due',
    path: 'instruments.*.due',
    ask: 'When is the next comparison due?',
    why: 'From that day on its readings are told as not covered.',
    where: 'The label, or the rule your shop keeps. A rule that fell is due today.',
    without: 'when it has to be compared again',
  },
]
