// What the wall at a machine said on a day: what a check of that day is taken to be made in, where it does not say itself.
import type { PrinterDocument, RoomReading } from './generated/documents.ts'

/** The climate at a machine on a day; each of the two may be missing. */
export interface RoomDay {
  readonly temperature: RoomReading['temperature']
  readonly humidity: RoomReading['humidity']
}

/** The last reading of that day, of each of the two the last that was written down. Undefined where nothing was read. */
export function roomOn(printer: PrinterDocument | undefined, date: string): RoomDay | undefined {
  let temperature: RoomReading['temperature']
  let humidity: RoomReading['humidity']
  for (const reading of printer?.room?.items ?? []) {
    if (reading.date?.value !== date) continue
    temperature = reading.temperature ?? temperature
    humidity = reading.humidity ?? humidity
  }
  return temperature || humidity ? { temperature, humidity } : undefined
}
