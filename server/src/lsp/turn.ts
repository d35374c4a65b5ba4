// Waiting for one's turn, in Node and in a browser.

/** After the message at hand; a timer, all that a browser has, waits a millisecond longer. */
export const soon: (work: () => void) => unknown =
  typeof setImmediate === 'function' ? setImmediate : (work) => setTimeout(work, 0)

export const turn = (): Promise<void> => new Promise((resolve) => void soon(resolve))
