// What lists of topics are called.
import type { TopicKind } from '../features/explain.ts'

export const GROUPS: Readonly<Record<TopicKind, string>> = {
  media: 'Settings of a profile (*.media.yaml)',
  stock: 'Settings of a stock (*.stock.yaml)',
  printer: 'Settings of a printer (*.printer.yaml)',
  shop: 'Settings of the shop (rollbook.yaml)',
  rule: 'Rules',
  fault: 'Faults',
  family: 'Families of material',
}
