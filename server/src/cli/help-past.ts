// The help texts of what looks back: since when, how it came about, and what to answer for. What they promise (keys, exit codes) is kept stable.

export const SINCE = `rollbook since <profile> <setting> [--json] [--today DATE]

Since when a setting is as it is: by which commit, what it was before, and what was measured or read back with it. Follows renames of the
profile, values that a base hands down, and what the printer makes of a level or a mode; a value that was only written anew is no change.
<setting> is a key of the profile with dots (suction, heat.after, feed.correction), or one of its stock or printer (stock.thickness,
printer.feed.step). What was merged counts from the day it was merged.

  --json         one JSON object for other programs
  --today DATE   as of another day (2026-11-25)

Exit code
  0   it is told
  1   it is not committed yet as it is
  2   it cannot be told: outside git, a shallow clone, no such setting, no such profile, a document that cannot be read

JSON
  { "version", "file", "profile", "setting"
    "value":        { "text", "real" (what a level or a mode stands for, or null), "from" (whose it is, or null for its own) }, or null
    "since":        { "date", "commit", "subject", "before": { "text", "real" } or null, "withProfile" (it came with the profile) },
                    or null where it is not committed
    "meaningSince": the same, where the printer gave it another meaning since; else null
    "evidence":     what was made with it: [ { "kind", "date" } ]
    "text":         the same for a person, one sentence each
    "notChecked":   what could not be read; where there is one, the exit code is 2 }
`

export const HISTORY = `rollbook history <profile> [--json] [--today DATE]
rollbook history --shop [--json] [--today DATE]

How a profile came to be as it is: its feed, alignment and heat as they stood from commit to commit, with the verdict of each day by the
documents and the evidence of that day; its checks, readings and alignments; and what may have moved them: settings, lots, heads and
other work on the machine, instruments, and the air where it was read.

With --shop, which printers moved together from one quarter to the next, and which alone: prints of one profile, state and lot are
compared, two days or more in each quarter. Whether all moved by one amount is judged by Cochran's Q at 5 %, shared by all quarters; a
printer on which something was done that opens the feed is not compared. Of too few checks nothing is said. Needs no git.

  --json         one JSON object for other programs
  --today DATE   as of another day (2026-11-25)

Exit code
  0   it is told
  1   with --shop: there are too few checks to say anything
  2   it cannot be told, or not whole: outside git, a shallow clone, no such profile, a document that cannot be read

JSON (fractions, degrees Celsius, null where a thing is not known)
  { "version", "file", "profile", "from", "to", "tolerance"
    "moments":    from its day on, until the next: [ { "date", "by": "commit" or "days", "commit", "subject", "set", "held", "heldBy":
                  "machine" or "file", "wanted", "wantedU", "feed" (a word of five), "chance", "alignment", "heat": by zone } ]
    "checks":     [ { "date", "asks", "asksU", "applied", "lot", "instrument", "under", "leftOut" (why, or null) } ]
    "readings":   [ { "date", "zone", "set", "web" } ]
    "alignments": [ { "date", "commit", "picks": { "one-way", "two-way" } } ]
    "marks":      [ { "date", "kind": "setting", "lot", "head", "event", "instrument" or "season", "text" } ]
    "notChecked": what could not be read }
With --shop
  { "version", "shop", "date"
    "steps":      [ { "from", "to" (quarters), "printers": [ { "printer", "longerPercent", "uncertaintyPercent", "prints", "profiles" } ],
                  "together", "alone", "apart" (unlike, and none to be named), "tooFew", "opened": [ { "printer", "date", "what" } ] } ]
    "notChecked" }
`

export const ANSWER = `rollbook answer <profile> --date D [--seen DATE] [--format FORMAT]

Whether a print of day D that somebody complains of was within the tolerance of length when it left the machine: ours, theirs, or nobody can
tell. Which settings ran that day (by git, and by what was read back), what the evidence of that day said of its prints, what the
complaint's measurement says with its uncertainty, and the decision by both (JCGM 106) at the risk that the shop takes. A number of
which nobody knows how good it is decides nothing; neither do two that contradict each other.

The complaint stands under observed in the profile as it is now: printed, ordered, measured, with, tolerance, tolerance-of.

  --date D          the day it was printed (2026-11-16)
  --seen DATE       of several complaints, the one seen that day
  --format text     for people (the default); also markdown, html (one file, to print or send), json

Exit code
  0   ours or theirs
  1   nobody can tell; the text says what would make it possible
  2   it cannot be answered, or not whole: outside git, a shallow clone, the profile was not there that day, a document that cannot
      be read

JSON (null where a thing is not known)
  { "version", "file", "profile", "date"
    "verdict":     "ours", "theirs" or "cannot-tell", "because": why nobody can tell
    "documents":   { "commit", "committed", "subject" }, "settings": by key, as they were
    "machine":     { "percent", "by": "machine" or "file" }
    "complaint":   { "seen", "orderedMm", "measuredMm", "with", "tolerancePercent", "toleranceOf" }
    "evidence":    { "word" (of the correction in the file that day), "says" (anything of the print), "within" (probability), "why" it
                   says nothing }
    "measurement": { "lengthMm" (relaxed, at the reference temperature), "standardUncertaintyMm", "knownBy", "within" }
    "both":        { "errorPercent", "standardUncertaintyPercent", "within", "surprise" (how often so far off, if what was known is right) }
    "risk", "notChecked" }
`
