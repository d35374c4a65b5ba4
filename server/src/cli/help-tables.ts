// The help texts of what takes tables in and gives them out.

export const IMPORT = `rollbook import TABLE.csv|- [--into PROFILE] [--as LIST] [--column 'HEADER=NAME' ...] [--delimiter D] [--decimal D] [--dates ORDER]
                [--repeats] [--write]

Takes evidence from a table into profiles: feed checks, heat readings, fine picks, alignment, colour files, faults, read-backs. It shows what
would be added and writes nothing; --write writes it, each entry where its list has it by its date, with every other byte kept.
Nothing is made up: what a row leaves empty stays out. A row that cannot be taken is listed with its line and its reason.

The first line names the columns: a key of the list with its unit, 'measured (mm)', and 'measured ± (mm)' for an uncertainty. A
column of numbers that need a unit and name none is refused. Keys below others are dotted: climate.temperature (°C), picks.1, one-way.cyan.
The column 'profile' says by id whose a row is, unless --into does; the column 'evidence' says which list it is for, as in what
'rollbook export --what evidence' writes; else --as does, or the columns, where they fit one list only.

  --into PROFILE    the profile of all rows: its file, or its id in the shop of the current folder
  --as LIST         what the rows are: feed.checks, feed.fine, alignment, heat.readings, colour.measured, observed, keyed
  --column 'HEADER=NAME'
                    what a column of a table of your own is: --column 'Length found=measured (mm)', or --column 'Remarks=-' to leave it out.
                    May be given again. With --write it is kept beside rollbook.yaml, in .rollbook-columns.yaml, and not asked again
  --delimiter D     comma, semicolon or tab; else what the line of headers shows
  --decimal D       point or comma. Where cells are not separated by commas the numbers show it, unless they could mean two things (1,500):
                    such a table is refused until this is given
  --dates ORDER     day-first or month-first, for days written as 14.03.2026 or 3/14/2026; else days are as 2026-03-14
  --repeats         rows that agree with one another, or with what is there, in day, lengths and instrument are measurements of their own. Without
                    it such a row is there already, or is not taken: a reading that counts twice makes a result too sure
  --write           write it
  -                 the table comes on standard input, as UTF-8

Exit code
  0   every row is there already, or can be (with --write: is) added
  1   some rows are not taken; the others are
  2   the table is not understood, or a profile cannot be read whole or written; standard error says why
`

export const EXPORT = `rollbook export [path ...|PROFILE] --what settings|evidence|quantities [--format csv|json] [--bom] [--today DATE]

One flat table of the profiles named, or below the current folder, on standard output.

  --what settings     a row a setting: key, value, ±, unit, origin (own, or base and which one)
         evidence     a row an entry, with the units in the header, as 'rollbook import' takes it. What is written in two units has two columns
         quantities   a row a quantity of 'rollbook reckon', in SI units: value, or low and high with it where it rests on typical values
  --format csv        RFC 4180, UTF-8 (the default)
           json       { "version", "what", "rows": [ by column name ], "notExported": what could not be read, one text each }
  --bom               CSV begins with a byte order mark, for spreadsheets that take a file for another encoding
  --today DATE        as of another day (2026-11-25), for quantities

Numbers are plain digits with a point, so that spreadsheets reckon with them. A text that begins as a formula does (= + - @, a tab or a line
break) has an apostrophe before it: a spreadsheet would run it, and a note in a profile must not run anything. Import takes it off again.

Exit code
  0   everything is exported
  1   there is nothing to export
  2   something could not be read, or rests on what could not; standard error says what, and the rest is exported
`
