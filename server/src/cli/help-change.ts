// The help texts of what writes into documents.

export const SET = `rollbook set <document> KEY=VALUE ... [--read-back] [--try] [--today DATE]

Gives keys of a document a value, by the smallest edits, and tells what follows: quantities that move, what the evidence proves now, what to
key in at which machine. All values are written, or none. The document is a file, or the id of a profile, a stock or a printer.

  rollbook set banner-510-bay-1 'feed.correction=+0.30 %' --read-back
  rollbook set banner-510-bay-1 'heat.after=45 °C' 'drying.run-out=15 min'
  rollbook set banner-510 retired=today replaced-by=banner-530
  rollbook set stocks/banner-510.stock.yaml lots.B-14.finished=today

A key is dotted; an entry of a list goes by its number, its lot or its day. A value is typed as in the document, with its unit; a list with commas.
A value that the format, the stock or the printer does not allow is not written. A reading that was mistyped is put right with a trace of what
was written; what else was measured, and what a state says, is not changed.

  --read-back    the machine was read back with these values today: written under keyed as well
  --try          tell what follows, and write nothing

Exit code
  0   it is written, or stood there already
  1   it is written, and something is to be looked at that was not before
  2   nothing is written; standard error says why
`

export const RECORD = `rollbook record <document> LIST KEY=VALUE ... [--under settings|read-back] [--repeats] [--try] [--today DATE]

Adds one entry to a list of a document, where its day belongs, with every other byte kept, and tells what follows.

  rollbook record banner-510-bay-1 feed.checks date=today 'commanded=1000 mm' 'measured=998.5 mm' 'applied=+0.21 %' with=rule-1m --under settings
  rollbook record banner-510-bay-1 keyed date=today 'gap=2.0 mm' 'correction=+0.30 %'
  rollbook record banner-510-bay-1 observed date=today fault=cockle 'note=solid areas'
  rollbook record bay-1 events date=today what=head-changed
  rollbook record banner-510 lots lot=B-15 received=today
  rollbook record rollbook.yaml instruments.rule-1m.suspect from=2026-03-17 'why=fell off the bench'

Lists of a profile: feed.checks, feed.fine, alignment, heat.readings, colour.measured, observed, keyed. Nothing is made up: what is not given stays out.

  --under settings    it was made under the settings as the profile has them now: they are kept with it as a state. Without a state it proves nothing
          read-back   as the machine was read back last, where that differs
  --repeats           it was measured again, though such an entry is there
  --try               tell what follows, and write nothing

Exit code
  0   it is added, or is there already
  1   it is added, and something is to be looked at that was not before
  2   nothing is written; standard error says why
`
