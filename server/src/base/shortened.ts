// A text of any length, told in few letters.

/** A text on one line, cut short: what a person wrote may be of any length. */
export function shortened(text: string, most = 40): string {
  const letters = [
    ...text
      .slice(0, MUCH)
      .replace(/[\s\p{Cc}]+/gu, ' ')
      .trim(),
  ]
  return letters.length > most ? `${letters.slice(0, most).join('')}…` : letters.join('')
}

/** More of a text than this is not looked at to tell it. */
const MUCH = 1000
