// The help text of `rollbook review`.

export const REVIEW = `rollbook review [A..B] [--staged] [--format FORMAT] [--fail-on WHAT] [--all] [--today DATE]
rollbook review BEFORE AFTER           two folders, or two versions of one document
rollbook review --schema               the JSON Schema of --format json

What a change does to prints, for whoever has to approve it: settings that moved, in real units and where they take effect; each
computed quantity that follows, before and after, with its cause; what the evidence proves now and what to print again; findings that
begin and end; what has to be keyed in at which machine. What may hurt somebody or a machine comes first, then prints of a wrong
length, then prints that look wrong. Only documents that changed and those that rest on them are read as a whole.

What is compared, in the shop of the current folder:
  (nothing)   the work tree with the commit where it left the main branch
  A..B        two git revisions; A...B: B with where it parted from A; an end that is left out is HEAD
  A           a revision with the work tree
  --staged    what is staged with HEAD, or with A: what the next commit will hold

Both are judged as on the same day. A value in another unit, an entry in another place, a comment: the same, and counted apart. Before and
after of a quantity that rests on typical values share what is not known, so their difference is taken low with low and high with high.

  --format text     for people (the default)
           markdown for a merge request: at most 60,000 characters; what does not fit is counted
           html     a page of its own, which fetches nothing and runs no script
           json     one JSON object for other programs, in SI units, with formula, inputs and source on both sides
  --fail-on finding what makes the exit code 1: errors or warnings that begin (the default; work that the days bring is none)
            print   also a length that was proven or carried, and has to be proven again
            never   nothing
  --all             also what is the same and written anew, what moves by less than is shown, each setting of what is new or gone
  --today DATE      as of another day (2026-11-25)

Exit code
  0   all was compared, and nothing of --fail-on came
  1   something of --fail-on came
  2   not everything could be compared or judged, whatever else came: no such revision, a shallow clone, a document that cannot be read,
      or not whole, or that names what is not there, a wrong argument; standard error says what. Nothing is ever written.
`
