// Every effect of the product in one interface: reading files, listing them, today's date, the log. Nothing else does any of it.
// Files are named by opaque strings with '/' between folders: URIs in a language server, so that a browser's virtual files work alike.

export interface Host {
  /**
   * The documents of the format (see `kindOfFile`) in a folder and so many folders below it (0: in itself only; not given: all that it
   * holds, within a bound). Unreadable folders are logged and left out.
   */
  list(folder: string, depth?: number): Promise<readonly string[]>
  /** A file's text. Rejects with an Error whose message is fit for a person. */
  read(file: string): Promise<string>
  /** Today's date, YYYY-MM-DD, in local time. */
  today(): string
  log(level: 'error' | 'info', message: string): void
}
