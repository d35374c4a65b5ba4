// The help texts, written for technicians. What they promise (keys, exit codes) is kept stable.

import { CHANGE } from './help-change.ts'
import { DIFFERENCES, SHEET, SHOP, TO_KEY } from './help-fleet.ts'
import { ANSWER, HISTORY, SINCE } from './help-past.ts'
import { REVIEW } from './help-review.ts'
import { EXPORT, IMPORT } from './help-tables.ts'

export const HELP = `rollbook: media profiles as code, on the command line

  rollbook check [path ...]     check documents as the editor does
  rollbook due [path ...]       what is due today: test prints that have grown old, new deliveries
  rollbook review [A..B]        what a change does to prints: quantities, evidence, findings, what to key in
  rollbook feed <profile>       the reckoning of a profile's feed, step by step
  rollbook picture <profile>    a page of pictures: feed checks, the web's path, suction, alignment, settings
  rollbook reckon <profile>     every computed quantity, with formula, inputs and source
  rollbook new KIND             a new shop, instrument, stock, printer or profile, by questions
  rollbook set <document> ...   values into a document, and what follows from them
  rollbook record <document> ...   a check, a reading, a read-back, an event or a lot into its list
  rollbook work-out WHAT        a number that no data sheet tells, from what you measure
  rollbook start --stock S --printer P   a new profile, each setting with its reason
  rollbook since <profile> <setting>   since when a setting is as it is, and on what evidence
  rollbook history <profile>    how it came about, from evidence and git; --shop: which printers moved together
  rollbook answer <profile> --date D   what to answer for a print of that day: ours, theirs, cannot tell
  rollbook to-key <printer>     what has to be keyed in at a machine now, slot by slot
  rollbook sheet <profile> ...  a page for the wall beside the machine, as text, HTML or PDF
  rollbook shop                 the whole shop on one table, what is due first
  rollbook differences <stock>  one stock on several printers, and what explains the differences
  rollbook import TABLE.csv     evidence from a table into profiles: checks, readings, picks
  rollbook export [path ...]    settings, evidence or quantities as one table
  rollbook git lost|setup|...   measurements that a merge lost; git merges documents by what they say
  rollbook explain [words]      what a setting does, what a rule or a fault means
  rollbook lsp --stdio          the language server, for an editor

  rollbook <command> --help     more about a command
  rollbook --version            the version

Rollbook advises; it never drives a machine. The machine's and the material's own safety documents come first.
`

const CHECK = `rollbook check [path ...|-] [--format FORMAT] [--fail-on LEVEL] [--due] [--changed-since REV] [--new-since REV] [--staged]
               [--fix] [--stdin-name NAME] [--quiet] [--cache DIR] [--jobs N] [--today DATE]

Checks documents (rollbook.yaml, *.stock.yaml, *.printer.yaml, *.media.yaml) and says what the editor says: the same messages at
the same places. A path is a document or a folder; without one, the current folder is checked. Stocks, printers and bases
are looked up in the whole shop: in and below the nearest folder with a rollbook.yaml; where there is none, in the current folder.

What the days alone have brought (a test print that has grown old, a delivery nobody has printed on, a finding that was not there
on the newest day the documents tell of) is due, and no change is to blame: it is listed apart, and does not count. So documents
that nobody touches do not turn red overnight. 'rollbook due' is the list of it.

  --format text     for people (the default)
           json     one JSON object for other programs
           sarif    SARIF 2.1.0, for code scanning and viewers
           junit    JUnit XML, a suite for each document
           github   annotations at the lines of a change: the worst ten of each level, and how many there are
           gitlab   a code quality report
  --fail-on LEVEL   the least that makes the exit code 1: error, warning (the default), hint, never
  --due             what is due counts as well
  --changed-since REV
                    only the documents that differ from the git revision REV, or are new, and those that rest on them: a stock
                    pulls its profiles. Counted from the commit where the present one parted from REV
  --new-since REV   only findings that were not there at REV count, both judged as on the same day. A finding is the same by its
                    rule, its document's id, the keys that lead to it and the values there, wherever and however it is written
  --staged          the documents as they are staged in git, not as they are on disk: what the next commit will hold
  --fix             first mend what is wrong in form alone and right beyond doubt: tabs, a key given twice with one value. No
                    setting, measurement, state or date is ever changed. Standard error lists what was done
  -                 one document from standard input; --stdin-name NAME says what it is, and whose shop it belongs to
  --quiet           errors and warnings only: no hints, nothing due, and no line at the end
  --cache DIR       keeps in this folder what was judged, and judges anew only what rests on a changed text: the same is told, sooner.
                    It holds for its day and this program, may be deleted, and is not looked at with -, --fix or --new-since
  --jobs N          so many threads judge side by side, each with the memory of its own. Without it a small shop is judged by one,
                    and a large one by as many as there are cores, up to 4. What is told is the same
  --today DATE      as of another day (2026-11-25), for what is old or due

Exit code
  0   all was judged, and nothing found at the level of --fail-on, or none of the documents asked for has changed
  1   something was found at that level
  2   the check could not be done, or not of everything, whatever else was found: no such path, a file or folder that cannot be
      read, a merge conflict, a rule that failed, a wrong argument, nothing to check, no such revision, a shallow clone. Standard
      error says why.

JSON
  { "version":    of Rollbook
    "files":      how many documents were checked
    "summary":    { "errors", "warnings", "hints" } of what counts: with --new-since what is new, and without --due nothing due
    "due":        { "errors", "warnings", "hints" } of what is due and does not count
    "accepted":   how many findings are accepted in the documents, and do not count
    "findings":   [ { "file":      path from the current folder
                      "range":     { "start": { "line", "column" }, "end": { "line", "column" } }
                      "severity":  "error", "warning" or "hint"
                      "code":      the rule; 'rollbook explain <code>' explains it
                      "message":   for a person
                      "risk":      "harm", "length" or "look", where more than the record may suffer
                      "due":       true where the days alone have brought it
                      "accepted":  { "until", "reason" } where a comment in the document accepts it
                      "fingerprint": the same for the same finding in another version; no two of a run are equal
                      "new":       with --new-since: true or false
                      "fixes":     [ { "title", "file" where it is another one, "preferred" where it is right beyond doubt,
                                       "edits": [ { "start", "end", "newText" } ] } ]
                      "related":   [ { "file", "range", "message" } ] } ]
    "fixed":      with --fix, what was done: [ { "file", "line", "code", "title" } ]
    "remarks":    how the check was made, one text each: what --changed-since chose
    "notChecked": why something could not be judged, one text each; where there is one, the exit code is 2
    "notJudged":  what stocks and printers leave out, so that profiles could not be judged; it does not change the exit code:
                  [ { "file", "lacks": the key, "areas": what is not judged, "profiles": of how many } ] }
Lines and columns count from 1; columns count UTF-16 code units, as editors do. New keys may be added; these stay.
`

const DUE = `rollbook due [path ...] [--json] [--fail-on LEVEL] [--today DATE]

What is due today in the documents of the shop, or below the paths named: what the days alone have brought, as 'rollbook check' tells it
apart. First what may hurt somebody or a machine, then prints of a wrong length, then prints that look wrong; of equals what more
profiles rest on comes first. Profiles out of use are left out. For the morning, and for a build that runs by the calendar.

  --json            one JSON object for other programs
  --fail-on LEVEL   the least that makes the exit code 1: error, warning (the default), hint, never
  --today DATE      as of another day (2026-11-25)

Exit code
  0   all was judged, and nothing is due at the level of --fail-on
  1   something is due at that level
  2   it could not be told, or not of everything; standard error says why

JSON
  { "version":    of Rollbook
    "date":       the day it is told for
    "files":      how many documents were looked at
    "summary":    { "errors", "warnings", "hints" } of what is due
    "retired":    how many profiles are left out, since they or their stocks are out of use
    "due":        in the order of the list: [ { "file", "range", "severity", "code", "message", "risk", "due", "fingerprint",
                  "related" as in 'rollbook check --help', "profiles": how many rest on the document } ]
    "notChecked": why something could not be judged, one text each; where there is one, the exit code is 2 }
`

const FEED = `rollbook feed <profile> [--json] [--at DATE|REV] [--today DATE]

The whole reckoning of a profile's feed, as it would be done on paper: what each check asks for, where its uncertainty
comes from, what they ask for together, the fine picks, what to key in at this machine, what the rounding leaves, and
how probable it is that a print keeps the shop's length tolerance, in five words: unknown, doubtful, off, carried, proven.
<profile> is a file (*.media.yaml) or an id in the shop of the current folder.

  --json         one JSON object for other programs
  --at DATE|REV  as it stood: the documents that git had at the end of that day (along the first parents of what is checked out, in
                 the shop's time-zone), or in that revision, with that day as today. Says which commit that is, and what the
                 machine ran with: what was read back up to then wins over the file
  --today DATE   as of another day (2026-11-25), by the documents as they are now

Exit code
  0   there is a correction
  1   there is nothing to reckon with, or the numbers do not allow it; the text says why
  2   it is reckoned without something that it rests on: a stock, printer, base or instrument that is not there, a document that
      cannot be read, or not whole, as in a merge conflict; the text says what, and the number would be another with it.
      Or the command could not be run: no such profile, two with one id, a wrong argument

JSON (null where a number is not known)
  { "version", "file", "profile", "date"
    "at":          with --at: { "commit", "committed" (its day), "subject", "machine": { "percent", "by": "machine" or "file", "print",
                     "mean" (probabilities as under "verdict") }, "text" }
    "correction":  { "percent", "uncertaintyPercent", "standardUncertaintyPercent", "k", "coverage", "checks" (how many count),
                     "prints" (a strip measured again is one), "scatterPercent" (from print to print), "finePicks" (whether
                     they count) }
    "keyIn":       { "value", "unit" (of a length: the panel's), "text", "entry": "percent" or "measured-length", "needed" (false:
                     what is there may stay), "correctionPercent" (it then runs with), "machinePercent" (it holds now, known
                     where a length is keyed in), "reason" (why there is no value) }
    "inProfile":   { "percent", "differencePercent", "printsLongMmPerMetre", "withinUncertainty", "asKeyedIn", "mayStay" (within
                     the uncertainty and the tolerance) }
    "checks":      [ { "check" (its number), "date", "ageDays", "lot", "instrument", "commandedMm", "measuredMm", "correctedMm",
                       "appliedPercent", "impliedPercent", "uncertaintyPercent", "standardUncertaintyPercent", "uncertaintyParts":
                       [ { "cause", "shared", "assumed", "standardUncertaintyPercent" } ], "weight", "residualPercent", "suspect",
                       "carriedPercent" (under the settings of now), "under" (its state), "samePrint", "carries": [ { "law",
                       "shiftPercent", "standardUncertaintyPercent", "text" } ], "leftOut", "proves" (something of now),
                       "reason" } ]
    "suspects":    [ { "check", "probability" (times the checks: below 0.05 it is suspect) } ]
    "withoutSuspects": as "correction", if they were left out
    "fine":        { "used", "use": "used", "stale", "unusable", "beyond" the pattern, "other-mode", "uneven" rows, "last-patch" or
                     "disagrees" with the ruler, "reason", "picks", "meanPick", "addsPercent", "uncertaintyPercent",
                     "standardUncertaintyPercent" }
    "rounding":    { "step", "unit", "leavesMmPerMetre" }
    "tolerance":   { "percent", "goal" (share of prints that are to keep it), "best" (that would, if the mean were known) }
    "verdict":     { "word": "unknown", "doubtful", "off", "carried" or "proven", "doubtful": why, as "few" prints, "asItRuns" and
                     "onceKeyedIn": { "print", "mean" } (probability that a print, or the mean of many, keeps the tolerance),
                     "text" }
    "advice":      where more prints would do, or would not: { "prints" (each on another day), "patternMm", "instrument", "chance"
                     (that it is proven then), "worthwhile", "mostlyReading" (what instruments and weather leave is most of what
                     is not known), "text" }
    "evidence":    { "newestCheck", "ageDays", "recheckDays", "stale", "due" (the next check), "dueBy": "recheck" or "risk", "lot" }
    "problem":     why there is no correction
    "notChecked":  what the numbers rest on and could not be read, one text each; where there is one, the exit code is 2 }
"uncertaintyPercent" is the expanded uncertainty: the correction lies within ± it with the probability "coverage", 95 %. The
text writes ± for nothing else; a standard uncertainty is called so.
`

const PICTURE = `rollbook picture <profile> --html FILE|- [--of PICTURE] [--today DATE]
rollbook picture <profile> --svg FILE|- [--of PICTURE] [--today DATE]

What there is to see of a profile, by the same reckoning as 'rollbook feed' and the editor: the feed checks over time with what each asks for,
its 95 % interval and why it is left out, the correction asked for and the one that is set; the web's path with its temperatures and where a print is
dry; what each suction level does; the picks of the alignment; every setting with where it comes from. Each picture has a table beside it that
says the same. <profile> is a file (*.media.yaml) or an id in the shop of the current folder.

  --html FILE    a page by itself: light or dark as the system is, and fit to print; no script, nothing is fetched
  --svg FILE     one drawing by itself, the feed unless --of names another
  --of PICTURE   feed, path, suction, alignment or settings alone (settings have no drawing)
  --today DATE   as of another day (2026-11-25)
FILE must be new; - is standard output.

Exit code
  0   it is drawn
  1   there is nothing to draw
  2   it is drawn without something that it rests on, and says so at its top; or the command could not be run
`

const RECKON = `rollbook reckon <profile> [--json] [--today DATE]

Every quantity that can be computed for a profile, area by area: feed, advance and output, bands, landing of the drops, heat, drying,
vapour, suction, web, room. Each comes with its formula, what went into it and where that comes from (given in the documents, from a
base, typical of the material's family, a documented default, computed before), and the source of the formula. What rests on typical
values is a range. What cannot be reckoned says which key to fill in. <profile> is a file (*.media.yaml) or an id in the
shop of the current folder. Text is in the shop's units.

  --json         one JSON object for other programs, in SI units
  --today DATE   as of another day (2026-11-25)

Exit code
  0   something could be reckoned
  1   nothing could; the text says why
  2   it is reckoned without something that it rests on: a stock, printer, base, mode or instrument that is not there, a document
      that cannot be read, or not whole, as in a merge conflict; the text says what. Or the command could not be run: no
      such profile, two with one id, a wrong argument

JSON
  { "version":    of Rollbook
    "profile":    its id
    "quantities": [ { "key":      stable, unique: "suction.stretch"
                      "title":    for a person
                      "value":    a number, { "low", "typical", "high" }, or null where it is not known
                      "unit":     SI symbol; "1" for a share or a count; temperatures are in "°C"
                      "formula":  in the symbols of the inputs
                      "inputs":   [ { "name", "symbol", "value" (as above), "unit", "origin": "given", "inherited", "typical",
                                      "default" or "computed", "source" where it is typical } ]
                      "steps":    [ { "formula", "with", "value" } ] where it is no single expression, at the typical values, in SI
                      "source":   of the formula
                      "validity": where there is one: what it leaves out, or where it does not hold
                      "problem":  where there is one: why it is not known, or what to mind } ]
    "notChecked": what the numbers rest on and could not be read, one text each; where there is one, the exit code is 2 }
New keys and quantities may be added; these stay.
`

const NEW = `rollbook new shop|instrument|stock|printer|profile [--KEY ANSWER ...] [--answers FILE|-] [--into ID] [--out FILE|-] [--ci github|gitlab]
             [--questions] [--today DATE]
rollbook new profile --like PROFILE --printer P [--printer P ...] [--mode M] [--id ID] [--out FILE|-] [--today DATE]

Makes a document from answers. At a terminal it asks, says where each answer is found, and judges each as it is typed; Enter leaves open
what may be left open, ? tells more, done ends. Unknown is an answer: what cannot be judged then is said, and stays so until it is
added. Nothing is made up, nothing is written over, and what is written has no error in it: it is written whole, or not at all.

  shop        rollbook.yaml in the current folder, and .gitattributes; it needs a name
  instrument  an entry in rollbook.yaml; every other byte stays
  stock       a material: it needs a name, a family and a thickness
  printer     a machine: it needs a name and one mode with its resolution and passes, and grows from there
  profile     a stock on a printer: every setting the printer has, each with a comment that says why it is so and how sure that is
              (computed, taken from the nearest stock with a proven feed on the same printer, typical, or to be measured), and at its
              top the test prints to make first. Nothing is set outside what stock and printer allow, and no check is made up

  --KEY ANSWER    an answer, by the key of its question: --thickness '440 µm'. A list has commas between its items, or the option is given
                  again; 'unknown' leaves a question open
  --answers FILE  answers from a file of YAML or JSON, key: answer; - is standard input. Options win over it, and nothing is asked
  --questions     what is asked, as JSON: each key, question, why, where the answer is found, what it takes, its limits, its words
  --into ID       adds answers to a stock or a printer that is there; what stands there is never changed. A mode of another name is a further mode
  --out FILE      the new file; else where the shop keeps such documents, or in stocks/, printers/, profiles/. - is standard output
  --ci            a new shop's workflow for merge requests and for what is due
  --today         as of another day (2026-11-25)
  --like PROFILE  a profile, its file or its id, of the same stock: its settings are carried to the printer by what the web feels, to the
                  safe side alone: the same pressure, no more pull, no hotter a web, no lower a gap. Where the printer's document does not
                  say what its settings pull or how its heaters couple to the web, pull and heat are not carried. What was measured on
                  the other printer is told as what to expect, and proves nothing here. For several printers at once each profile is
                  written into a new file beside the others: all of them or none

Exit code
  0   it is written. Of a profile check finds, of errors and warnings, only what has not been printed yet: the feed and the alignment
  1   it is written, and there is more to mind, also a document of the shop that could not be read: standard error says what
  2   nothing is written: an answer that cannot stand or is missing, a file that is there, a wrong argument; of a profile also a stock,
      printer or mode that is not there or not whole, or a stock that cannot run on the printer

JSON
  { "kind", "questions": [ { "key", "ask", "why", "where", "must": whether nothing can begin without it, "open": what follows from leaving
    it open, "takes", "many", "choices": [ { "value", "meaning" } ], "limits", "after": { "key", "says" } where it is asked only then } ] }
New keys may be added; these stay.
`

const WORK_OUT = `rollbook work-out nozzle-pitch|suction-pressure|heater-coupling [--KEY VALUE ...]

Without values: how it is measured, with what care, and what to type. With them: the arithmetic step by step, the value as it is
written in the printer's document ('rollbook new printer --into' adds it), what it is worth, and the cautions again.

  nozzle-pitch       --length '25.3 ±0.2 mm' --lines 180         from a nozzle print: first line to last, and how many
  suction-pressure   --difference '31 ±1 mm'                     from a U-tube of water: between its two levels
  heater-coupling    --reading '40 °C, 36 °C' --reading '50 °C, 43 °C' --air '22 °C'
                                                                 from readings of the web: set, web; and the air

Exit code: 0; 2 where a value is missing or cannot be so.
`

const START = `rollbook start --stock S --printer P [--mode M] [--id ID] [--out FILE|-] [--today DATE]

The old name of 'rollbook new profile', which tells the rest. Without --out it writes to standard output.
`

const EXPLAIN = `rollbook explain [words] [--all]
rollbook explain --handbook FILE

Explains a setting (feed.correction), a rule (the code beside a finding), a fault (bands-dark) or a family of material. The words of
the trade do as well: vacuum, ghosting, ink limit. Where they may mean several things, those are listed. Where two kinds of document
have a setting of the same name, both are explained; printer:web names one. Without words it tells what there is.

  --all             list every topic, a line each
  --handbook FILE   every page in one new HTML file, with contents and a search box, for a browser without a network; - is standard output

Exit code: 0; 2 where nothing is found or the file cannot be written.
`

const GIT = `rollbook git lost [RANGE] [--json]
rollbook git setup | remove | status

lost looks at every merge commit of a range of revisions ('v1..main'; without one, all that led to HEAD) and compares what was
measured in it with its parents: each measurement that was dropped, doubled, put under another state, or is there again after
somebody took it out, is named, with a command that shows its lines. What is in order by the newest commit of the range is
counted apart. A measurement is the same by its day, length, reading, instrument and state, whatever unit, order or file name it
is written with. A squashed or rebased branch has no merge commit, and is not looked at.

setup makes git merge and compare documents by what they say, in this clone: checks and states of both sides stay, each once, in
the order of their days; of settings what one side changed is taken; what one side took out stays out. Where both changed one
setting in two ways, or lines cannot be told apart, git's own text merge leaves its markers, and a sentence says why. So it does
where rollbook is missing, dies or has no room to write. It writes a block into .gitattributes (commit it) and one into the
repository's own configuration (each clone runs setup for itself). Hosts merge by lines at all times: 'lost' looks at those too.
remove takes both blocks out, and every other byte is as it was; status tells. Neither touches what setup did not write.

git itself calls 'rollbook git merge' and 'rollbook git text'.

  --json   of lost: one JSON object: "merges", "lost" (what, merge, date, parent, file, kind, measurement, under, now, command,
           mended), "notCompared"

Exit code
  0   lost: nothing is lost that is not mended; setup, remove: it is so; status: it is set up
  1   lost: something is; status: it is not set up, or by another version
  2   no git, no working tree, a shallow clone, no such range, a version that cannot be read; for setup and remove: somebody changed
      our lines, or has set the same up otherwise. Nothing is written then; standard error says why
`

const LSP = `rollbook lsp --stdio

Starts the language server for an editor: it reads requests on standard input and answers on standard output. An editor
starts it by itself; at a terminal there is nothing to see. Files: rollbook.yaml, *.stock.yaml, *.printer.yaml, *.media.yaml.
`

export const COMMAND_HELP: Readonly<Record<string, string>> = {
  check: CHECK,
  due: DUE,
  review: REVIEW,
  feed: FEED,
  since: SINCE,
  history: HISTORY,
  answer: ANSWER,
  picture: PICTURE,
  reckon: RECKON,
  new: NEW,
  start: START,
  'to-key': TO_KEY,
  sheet: SHEET,
  shop: SHOP,
  differences: DIFFERENCES,
  import: IMPORT,
  export: EXPORT,
  record: CHANGE,
  set: CHANGE,
  'work-out': WORK_OUT,
  explain: EXPLAIN,
  git: GIT,
  lsp: LSP,
}
