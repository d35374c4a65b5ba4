// What a long test counted, on a line of its own with the day it ran, for whoever keeps a record of it.
export const told = (line: string): void => {
  process.stdout.write(`${new Date().toISOString().slice(0, 10)} ${line}\n`)
}
