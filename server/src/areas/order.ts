// The areas of the trade, in the order in which a print runs through them: what is shown area by area is shown so.

export const AREAS = [
  'feed',
  'advance',
  'landing',
  'heat',
  'drying',
  'vapour',
  'suction',
  'web',
  'room',
  'colour',
  'stock',
  'machine',
  'observed',
] as const
