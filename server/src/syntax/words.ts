// The YAML library's errors in the shop's words. Keyed by the library's error codes, never by its wording; its own sentence is kept for codes not listed.

const WORDS: Readonly<Record<string, string>> = {
  ALIAS_PROPS: 'An alias (*name) stands alone: it can carry neither an anchor nor a tag.',
  BAD_ALIAS: 'An alias (*name) or anchor (&name) has no proper name here.',
  BAD_COLLECTION_TYPE: 'The tag here does not fit a list or a mapping.',
  BAD_DIRECTIVE: 'A line that begins with % is a YAML directive, and this is none.',
  BAD_DQ_ESCAPE:
    'The backslash in this double-quoted text begins no known escape. Write \\\\ for a backslash, or use single quotes.',
  BAD_INDENT: 'This line is indented unlike the lines it belongs with. Align it with its neighbours, with spaces.',
  BAD_PROP_ORDER: 'Anchors and tags stand before the value, on its line.',
  BAD_SCALAR_START: "A value cannot begin with this character. Put the value in single quotes ('…').",
  BLOCK_AS_IMPLICIT_KEY: 'A second colon follows on this line. Put the next key on its own line, or the value in quotes.',
  BLOCK_IN_FLOW: 'Inside { } or [ ] everything is written in line: no "- " lists and no lines of their own.',
  DUPLICATE_KEY: 'This key is given twice.',
  IMPOSSIBLE: 'This cannot be read as YAML.',
  KEY_OVER_1024_CHARS: 'This key is longer than 1024 characters.',
  MISSING_CHAR: 'A closing character is missing: look for an open quote, { or [.',
  MULTILINE_IMPLICIT_KEY: 'A key and its colon stand on one line. Is a colon missing on the line above, or a quote left open?',
  MULTIPLE_ANCHORS: 'A value can carry one anchor (&name) only.',
  MULTIPLE_DOCS: 'One document a file: the text goes on after its end.',
  MULTIPLE_TAGS: 'A value can carry one tag only.',
  NON_STRING_KEY: 'A key is plain text.',
  TAB_AS_INDENT: 'A tab stands where spaces must indent.',
  TAG_RESOLVE_FAILED: 'The tag here is not known.',
  UNEXPECTED_TOKEN: 'This does not belong here. Is a quote, a comma or a colon missing before it?',
}

/** A plain sentence for an error of the YAML library. */
export function inPlainWords(code: string, message: string): string {
  return WORDS[code] ?? `${message.replace(/ at line \d+, column \d+:?[\s\S]*$/, '')}`
}
