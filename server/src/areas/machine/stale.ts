// Read-backs after which something was made with another value: the machine was keyed in since.
import type { AreaStale } from '../stale.ts'
import { keyedOf } from './read-back.ts'

export const stale: AreaStale = (setup) => keyedOf(setup).map(({ date, since }) => (since ? date : undefined))
