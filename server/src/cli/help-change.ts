// The help text of what writes into documents.

export const CHANGE = `rollbook set <document> KEY=VALUE ... [--read-back] [--try] [--today DATE]
rollbook record <document> LIST KEY=VALUE ... [--under settings|read-back] [--repeats] [--try] [--today DATE]

Gives keys of a document a value, or adds one entry to a list where its day belongs, by the smallest edits, all or none, and tells what follows.
The document is a file, or the id of a profile, a stock or a printer. A value is typed as there, with its unit; a list with commas.

  rollbook set banner-510-bay-1 'feed.correction=+0.30 %' 'heat.after=45 °C' --read-back
  rollbook set stocks/banner-510.stock.yaml retired=today lots.B-14.finished=today
  rollbook record banner-510-bay-1 feed.checks date=today 'commanded=1 m' 'measured=998.5 mm' 'applied=+0.21 %' with=rule-1m --under settings
  rollbook record bay-1 events date=today what=head-changed

A key is dotted; an entry of a list goes by its number, its lot or its day. What the format, the stock or the printer does not allow is not written.
A mistyped reading is put right with a trace; what else was measured, and what a state says, is not changed.

  --read-back    the machine was read back with these values today: kept under keyed
  --under settings    it was made under the settings as the profile has them now, or as read back last (read-back). Without that it proves nothing
  --repeats      it was measured again, though such an entry is there
  --try          write nothing

Exit code
  0   it is written, or stood there already
  1   it is written, and something is to be looked at that was not before
  2   nothing is written; standard error says why
`
