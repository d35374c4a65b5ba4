// The five words for what evidence proves of a number today. They are asked in this order and mean the same wherever they stand.

/**
 * unknown: nothing usable was measured. doubtful: it was, and cannot be brought to today's conditions, or proves too little. off: the number is wrong
 * and the right one is known. carried: brought here by more than age, and good enough. proven: good enough under just these conditions.
 */
export type EvidenceWord = 'unknown' | 'doubtful' | 'off' | 'carried' | 'proven'
