// The cautions of the pages that send somebody to the machine, once each: what is read there is read with hands clear.

/** Where a test print is to be made and read. */
export const READ_PATTERN =
  'Caution: take the pattern off to read it, or stop the machine first; the carriage does not stop for a hand and heaters burn. The safety documents of the machine come first.'

/** Where the web or its edges are to be looked at. */
export const LOOK_FROM_OUTSIDE =
  'Caution: look from outside the guards, and stop the machine before hands go near; nobody holds a web down by hand. The safety documents of the machine come first.'
