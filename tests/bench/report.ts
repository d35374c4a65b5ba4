// The one table: what was measured, what it should be, whether it is. A row without a target is there to compare with.

export interface Row {
  readonly section: string
  readonly name: string
  readonly value: number | string
  readonly unit?: string
  /** The measured value may be this much and no more. */
  readonly atMost?: number
  readonly note?: string
}

export class Report {
  readonly rows: Row[] = []

  add(section: string, name: string, value: number | string, more: Omit<Row, 'section' | 'name' | 'value'> = {}): void {
    const row = { section, name, value, ...more }
    this.rows.push(row)
    process.stderr.write(`${shown(row)}\n`)
  }

  /** Rows that have a target and miss it. */
  missed(): readonly Row[] {
    return this.rows.filter(isMissed)
  }

  table(): string {
    const width = Math.max(...this.rows.map((r) => r.name.length))
    const lines: string[] = []
    let section = ''
    for (const row of this.rows) {
      if (row.section !== section) lines.push('', row.section, '-'.repeat(row.section.length))
      section = row.section
      lines.push(shown(row, width))
    }
    const judged = this.rows.filter((r) => r.atMost !== undefined)
    lines.push('', `${judged.length - this.missed().length} of ${judged.length} targets met`)
    return lines.join('\n').trimStart()
  }
}

const isMissed = ({ value, atMost }: Row): boolean => atMost !== undefined && !(typeof value === 'number' && value <= atMost)

function shown(row: Row, width = 0): string {
  const { name, value, unit = '', atMost, note } = row
  const measured = typeof value === 'number' ? `${numeral(value)} ${unit}`.trimEnd() : value
  const target = atMost === undefined ? '' : `target <= ${numeral(atMost)} ${unit}`.trimEnd()
  const verdict = atMost === undefined ? '' : isMissed(row) ? 'MISSED' : 'met'
  return `${name.padEnd(width)}  ${measured.padStart(14)}  ${target.padEnd(20)}  ${verdict.padEnd(6)}  ${note ?? ''}`.trimEnd()
}

function numeral(value: number): string {
  if (Number.isInteger(value)) return String(value)
  return Math.abs(value) >= 100 ? value.toFixed(0) : Math.abs(value) >= 10 ? value.toFixed(1) : value.toPrecision(3)
}
