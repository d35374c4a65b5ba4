// What a new shop begins with: its name, and how exact it wants to be. Everything but the name has a documented default.
import type { Question } from './question.ts'

export const SHOP: readonly Question[] = [
  {
    key: 'shop',
    path: 'shop',
    ask: 'What is the shop called?',
    why: 'It stands on what is printed out.',
    where: 'The name on your door or on your orders.',
    must: true,
  },
  {
    key: 'units',
    path: 'units',
    ask: 'In which units shall results be shown?',
    why: 'Documents may be written in any unit; this is what answers come in.',
    where: 'The units of the rule you measure with.',
  },
  {
    key: 'length-tolerance',
    path: 'tolerance.length',
    ask: 'How far off may a print be in length before you call it wrong?',
    why: 'Whether a feed correction is proven is judged by it, and how long a test pattern has to be.',
    where: 'What you have agreed with customers: one millimetre in a metre is 0.1 %. Panels that are joined ask for less.',
  },
  {
    key: 'feed-recheck',
    path: 'recheck.feed',
    ask: 'After how long do you print and measure a feed pattern again?',
    why: 'What is older is told as due.',
    where: 'Your own habit, or the interval the machine’s maintenance plan gives.',
  },
  {
    key: 'room-temperature',
    path: 'climate.temperature',
    ask: 'Between which temperatures is the print room kept?',
    why: 'Web and rule grow with warmth; what was measured outside this range is told.',
    where: 'The thermostat, or the lowest and highest you have read on a thermometer beside the machine.',
  },
  {
    key: 'room-humidity',
    path: 'climate.humidity',
    ask: 'Between which humidities is the print room kept?',
    why: 'Paper and canvas grow with humidity; dry air charges film.',
    where: 'The lowest and highest you have read on a hygrometer beside the machine.',
  },
  {
    key: 'reference-temperature',
    path: 'reference-temperature',
    ask: 'At which temperature shall a print have its true length?',
    why: 'Each measured length is brought to it, whatever the day was like.',
    where: 'Where prints hang and are measured by the customer; 20 °C is what rules are marked for (ISO 1).',
  },
]
