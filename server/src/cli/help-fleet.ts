// The help texts of the commands that look at the whole shop or at one machine: what to key in, the table, and the differences.

export const TO_KEY = `rollbook to-key <printer> [--format FORMAT] [--today DATE]

What has to be keyed in at a printer now, slot by slot, in the order of the panel in its document, in the panel's words, unit, sign and
step. What a read-back (keyed), or something printed after it, shows the machine to have is ticked off. What is off or in doubt comes
last, with what comes first: a print, or a number to put right. A slot whose read-back holds another profile's numbers is named.
Where machine and file differ, both ways are told (the machine is right, the file is right) with what was measured with each; a heat
that the stock does not stand is never taken over.

  --format text    a list to work through (the default)
           json    one JSON object for other programs
           csv     a table, a row a setting
           blank   an empty table, a row a profile, for what the machine has: fill in what was read and its date, save it as CSV,
                   and 'rollbook import FILE --as keyed' shows what it adds; --write adds it. What is there already is recognised
  --today DATE     as of another day (2026-11-25)

Exit code
  0   nothing is to be keyed in
  1   something is, or is in doubt
  2   not everything could be read, or the command could not be run: no such printer, a wrong argument

JSON
  { "version", "date", "printer", "title"
    "slots":      [ { "slot", "profile", "title", "stock", "mode", "file"
                      "retired":  in words, for one out of use: nothing is keyed in for it
                      "holds":    whose numbers the machine had: { "profiles": [ { "profile", "slot" } ], "compared", "apart" (how many
                                  settings are not its own), "date" }
                      "items":    [ { "key", "where", "file" (as written), "text" (as the panel takes it), "note"
                                      "state": "has-it", "key-in" or "in-doubt", "since" (a day that showed it)
                                      "machine": { "text", "date" } where another value was read back
                                      "ways": [ { "right": "machine" or "file", "open" (whether it may be gone), "text" } ] } ] } ]
    "notChecked": what could not be read, one text each; where there is one, the exit code is 2 }
`

export const SHEET = `rollbook sheet <profile> ... [--html FILE|-] [--pdf FILE] [--size A4|Letter] [--today DATE]
rollbook sheet <profile> --enter [--answers FILE|-] [--today DATE]
rollbook sheet --from "PROFILE · REVISION" [--html FILE|-] [--pdf FILE] [--size A4|Letter] [--today DATE]

Profiles for the wall beside the machine, a page each: what to load, what to key in in the order of the printer's panel and in its unit, sign and
step, what to watch (hot and moving parts, the printer's cautions), what the evidence proves of each number in one line, the chart of the feed,
and room to write the next readings by hand. A number that is not proven or carried stands in italics behind a mark, with its word and with what
comes first; what the file does not give is said to be missing. <profile> is a file (*.media.yaml) or an id in the shop of the current folder.

At the foot stands the git revision of the documents it rests on, or 'not committed' where one of them differs from it. --from, given those words,
opens the sheet of that revision and says what changed since.

  --html FILE    a page that prints right, black on white; no script, nothing is fetched. - is standard output
  --pdf FILE     the same as PDF, by a Chromium, Chrome or Edge that is installed (CHROME_PATH may name it)
  --size SIZE    A4 (the default) or Letter
  --from WORDS   what stands at the foot of a sheet: 'banner-510-bay-1 · a1b2c3d'; an @ or a blank does for the dot
  --today DATE   as of another day (2026-11-25)
Without --html and --pdf it is text. FILE must be new.

  --enter          asks in the sheet's order for what was written on it by hand, and puts it into the profile: what the machine was read back with,
                   then length, fine feed, alignment and web, each with its day. Enter takes what stands in brackets, or leaves a cell open; '-' leaves
                   it open in any case. Nothing measured is proposed. What goes away before the last question leaves the profile as it was
  --answers FILE   the answers, a line each, for a script; - is standard input

Exit code
  0   all numbers on it may be keyed in, and of --from nothing has changed since; of --enter, it was written, or there was nothing to write
  1   something is missing or in doubt, has changed since, or takes more than a page
  2   not all that it rests on could be read, and the sheet says so; or it could not be made: no such profile or revision, no browser
`

export const SHOP = `rollbook shop [--format FORMAT] [--today DATE]

The whole shop on one table: stocks by printers, and where they meet what the evidence proves of the length of prints, in five words
(unknown, doubtful, off, carried, proven) with the share of prints that keeps the shop's tolerance. A pair without a profile is
neutral. Below it the lots on each machine, what is out of use, and all profiles, what is due first.

  --format text    for people (the default)
           html    one page to open or print; it fetches and runs nothing
           json    one JSON object for other programs
  --today DATE     as of another day (2026-11-25)

Exit code
  0   all was looked at
  2   not everything could be read; standard error says what

JSON
  { "version", "shop", "today", "goal" (share of prints that is asked for)
    "columns":    [ { "stock", "title", "file", "retired", "replacedBy" } ]
    "rows":       [ { "printer", "title", "file", "lots": [ { "stock", "lot" } ]
                      "cells": one a column, each a list of { "profile", "file", "printer", "stock", "mode", "word", "chance", "due" (a day;
                               today: now), "dueBy": "recheck" or "risk", "lot", "retired", "sentence" } } ]
    "apart":      profiles that name no stock or no printer, as in a cell
    "notChecked": what could not be read, one text each; where there is one, the exit code is 2 }
`

export const DIFFERENCES = `rollbook differences <stock> [--json] [--today DATE]

One stock on several printers, the profiles in use side by side. Settings that differ are told as they are written and as what the web
feels (pressure, pull, temperature): by build, where the printers' documents differ in what stands behind them, or nobody knows why.
Corrections are compared in pairs of printers: what suction, pull and heat do to either, low with low and high with high, and what is
left. Left beyond both uncertainties it is wear, perhaps, where work on a machine or a drift was written down, and else nobody knows.

  --json         one JSON object for other programs, shares of length as fractions
  --today DATE   as of another day (2026-11-25)

Exit code
  0   it was compared
  2   not everything could be read, or the command could not be run: no profile in use on such a stock, a wrong argument

JSON
  { "version", "date", "stock", "alike": keys that all have alike
    "profiles":    [ { "profile", "printer", "mode", "file", "word", "correction": { "value", "U" } } ]
    "settings":    [ { "key", "values" and "real" (in the order of the profiles), "why": "build" or "nobody-knows", "because" } ]
    "corrections": [ { "a", "b", "apart": { "difference", "U", "explained", "explainedU", "left", "leftU", "verdict" } of b less a
                       "causes": [ { "law", "range": { "low", "typical", "high" } or "problem" } ]
                       "why": "build", "wear" or "nobody-knows"; none where the two agree, "wear": what was written down } ]
    "notChecked":  what could not be read, one text each; where there is one, the exit code is 2 }
Every U is the half-width of a 95 % interval.
`
