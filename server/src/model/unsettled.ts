// Open merges in words: documents of a setup of which nobody knows yet which version stays.
import { lastPart } from '../base/uri.ts'
import type { Setup } from './setup.ts'

/** "a merge is not settled in bay-1.printer.yaml": a phrase. */
export function unsettledText({ unsettled }: Setup): string {
  const names = unsettled.map((file) => decodeURIComponent(lastPart(file)))
  return `a merge is not settled in ${names.join(' and in ')}`
}
