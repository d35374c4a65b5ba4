// A talk at a terminal: questions on standard error, so that what a command gives out stays apart, and answers line by line.
import { createInterface } from 'node:readline'
import type { Talk } from './host.ts'

/** Undefined where nobody sits at both ends. Lines that are pasted or typed ahead wait for their question. */
export function talk(): Talk | undefined {
  if (!process.stdin.isTTY || !process.stderr.isTTY) return undefined
  const lines = createInterface({ input: process.stdin, output: process.stderr })
  const waiting: string[] = []
  let taker: ((line: string | undefined) => void) | undefined
  let over = false
  const take = (line: string | undefined): void => {
    const asked = taker
    taker = undefined
    if (asked) asked(line)
    else if (line !== undefined) waiting.push(line)
  }
  lines.on('line', take)
  lines.on('SIGINT', () => lines.close())
  lines.on('close', () => {
    over = true
    take(undefined)
  })
  return {
    ask(prompt) {
      const ahead = waiting.shift()
      if (ahead !== undefined) return Promise.resolve(ahead)
      if (over) return Promise.resolve(undefined)
      lines.setPrompt(prompt)
      lines.prompt()
      return new Promise((resolve) => {
        taker = resolve
      })
    },
    tell: (text) => void process.stderr.write(text),
    end: () => lines.close(),
  }
}
