// One seed for all property tests, so that a run says the same twice; `SEED=random` (or a number) looks further, as whoever hunts for faults does.
import fc from 'fast-check'

const { SEED = '20261125' } = process.env

/** The seed of this run, for what fast-check does not make. */
export const seed = SEED === 'random' ? Math.floor(Math.random() * 0x7fffffff) : Number(SEED)

if (SEED !== 'random') fc.configureGlobal({ seed })
