// The machine's repeatability was worked out before the parts that make it were changed.
import type { Event } from '../../../model/generated/documents.ts'
import { defineRule } from '../../../rules/rule.ts'
import { relatedTo } from '../../landing/shared.ts'

/** What carries the web on: with another one lengths scatter otherwise. */
const WORDS: Readonly<Partial<Record<Event, string>>> = {
  'feed-roller-changed': 'the feed roller was changed',
  'belt-changed': 'the transport belt was changed',
}

export const rule = defineRule({
  code: 'repeatability-outdated',
  severity: 'warning',
  risk: 'length',
  kinds: ['printer'],
  summary: 'The repeatability was worked out before the feed roller or belt was changed.',
  docs: `How far lengths scatter from print to print is a matter of what carries the web on. After another roller or belt it is another number, and every
correction on this machine claims to be known as well as the old parts let it. Work it out anew from prints made since, or take it out until there are
enough: then a typical range is assumed.`,
  check({ document, today, report }) {
    const { feed, events } = document.content ?? {}
    const found = feed?.repeatability?.date
    if (!found) return
    const since = (events?.items ?? []).flatMap(({ date, what }) => {
      const words = what && WORDS[what.value]
      return date && words && date.value > found.value && date.value <= today ? [{ date, words }] : []
    })
    if (since.length === 0) return
    const { date, words } = since.reduce((last, one) => (one.date.value > last.date.value ? one : last))
    report(found.place, `Work the repeatability out anew: it is of ${found.value}, and on ${date.value} ${words}.`, {
      ...relatedTo(date.place, 'The day it was changed.'),
      outdated: true,
    })
  },
  examples: [
    {
      name: 'another roller since',
      text: `#- bay-1.printer.yaml
feed: { repeatability: { value: 0.012 %, freedom: 14, date: $02025-11-20$0 } }
events:
  - { date: 2026-02-10, what: belt-changed }
  - { date: 2026-03-10, what: feed-roller-changed }
`,
      message: 'Work the repeatability out anew: it is of 2025-11-20, and on 2026-03-10 the feed roller was changed.',
      related: ['The day it was changed. 2026-03-10'],
      outdated: true,
    },
    {
      name: 'cleaned since, and changed before',
      text: `#- bay-1.printer.yaml
feed: { repeatability: { value: 0.012 %, freedom: 14, date: 2026-02-20 } }
events:
  - { date: 2026-02-20, what: belt-changed }
  - { date: 2026-03-10, what: feed-roller-cleaned }
`,
    },
    {
      name: 'it will be changed',
      text: `#- bay-1.printer.yaml
feed: { repeatability: { value: 0.012 %, freedom: 14, date: 2026-02-20 } }
events: [{ date: 2026-04-10, what: belt-changed }]
`,
      testOnly: true,
    },
  ],
})
