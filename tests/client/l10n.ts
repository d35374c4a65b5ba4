// The editor's `l10n` in English, for tests that have no editor.

/** The text with its values. */
export const l10n = {
  t: (text: string, ...values: readonly unknown[]): string => text.replace(/\{(\d)\}/g, (_, place) => String(values[place])),
}
