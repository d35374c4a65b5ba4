// The one table: what was measured, what it should be, whether it is. A row without a target is there to compare with.
import { median } from './probe.ts'

export interface Row {
  readonly section: string
  readonly name: string
  readonly value: number | string
  readonly unit?: string
  /** The measured value may be this much and no more. */
  readonly atMost?: number
  readonly note?: string
}

type More = Omit<Row, 'section' | 'name' | 'value'>

export class Report {
  readonly rows: Row[] = []

  /** Of several values the median is judged, and the least told beside it. A value in words says why nothing was measured. */
  add(section: string, name: string, value: number | readonly number[] | string, more: More = {}): void {
    const row: Row =
      typeof value === 'object'
        ? { section, name, ...more, value: median(value), ...spread(value, more) }
        : { section, name, value, ...more }
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

function spread(values: readonly number[], { note }: More): More {
  const least = values.length > 1 ? `least ${numeral(Math.min(...values))} of ${values.length}` : undefined
  const said = [least, note].filter((part) => part !== undefined).join('; ')
  return said === '' ? {} : { note: said }
}

const isMissed = ({ value, atMost }: Row): boolean => atMost !== undefined && !(typeof value === 'number' && value <= atMost)

function shown(row: Row, width = 0): string {
  const { name, value, unit = '', atMost, note } = row
  const measured = typeof value === 'number' ? `${numeral(value)} ${unit}`.trimEnd() : value
  const target = atMost === undefined ? '' : `<= ${numeral(atMost)} ${unit}`.trimEnd()
  const verdict = atMost === undefined ? '' : isMissed(row) ? 'over' : 'ok'
  return `${name.padEnd(width)}  ${measured.padStart(10)}  ${target.padEnd(11)}  ${verdict.padEnd(4)}  ${note ?? ''}`.trimEnd()
}

function numeral(value: number): string {
  if (Number.isInteger(value)) return String(value)
  return Math.abs(value) >= 100 ? value.toFixed(0) : Math.abs(value) >= 10 ? value.toFixed(1) : value.toPrecision(3)
}
