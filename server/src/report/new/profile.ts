// What a new profile begins with. Everything else is chosen by report/start, each setting with its reason.
import type { Question } from './question.ts'

export const PROFILE: readonly Question[] = [
  {
    key: 'stock',
    path: 'stock',
    ask: 'Which stock?',
    why: 'What the material takes decides what is set.',
    where: 'The stocks of this shop; a new one is made by new stock.',
    must: true,
  },
  {
    key: 'printer',
    path: 'printer',
    ask: 'On which printer?',
    why: 'What the machine can do decides what is set.',
    where: 'The printers of this shop; a new one is made by new printer.',
    must: true,
  },
  {
    key: 'mode',
    path: 'mode',
    ask: 'In which of its modes?',
    why: 'Fine picks, heat and drying hold for one mode.',
    where: 'The modes in the printer’s document. Left open: its only one, or the one that most profiles on it use.',
  },
  {
    key: 'id',
    path: 'profile',
    ask: 'What shall the profile be called?',
    why: 'Its file is named like it.',
    where: 'Lower-case words joined by hyphens. Left open: stock and printer.',
  },
]
