// One seed for all property tests, so that a run says the same twice; `SEED=random` (or a number) looks further, as whoever hunts for faults does.
import fc from 'fast-check'

const { SEED = '20261125' } = process.env

if (SEED !== 'random') fc.configureGlobal({ seed: Number(SEED) })
