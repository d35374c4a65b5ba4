// Writes the indexes of the areas from their files: what an area has of each kind is found by the file's name.
import { existsSync } from 'node:fs'
import { AREAS } from '../src/areas/order.ts'

interface Kind {
  /** The file in an area's folder, and what it exports. */
  readonly file: string
  readonly exported: string
  readonly index: string
  readonly constant: string
  readonly type: string
  readonly from: string
  /** Whether each entry is told by its area. */
  readonly named?: true
  /** Whether an area has a list of them. */
  readonly several?: true
}

const KINDS: readonly Kind[] = [
  {
    file: 'hover',
    exported: 'hover',
    index: 'hovers',
    constant: 'HOVERS',
    type: 'NumbersSection',
    from: '../../features/numbers.ts',
  },
  { file: 'advice', exported: 'advice', index: 'advice', constant: 'ADVICE', type: 'AreaAdvice', from: '../advice.ts' },
  {
    file: 'start',
    exported: 'start',
    index: 'starts',
    constant: 'STARTS',
    type: 'Starter',
    from: '../../report/start/starter.ts',
    named: true,
  },
  {
    file: 'quantities',
    exported: 'quantities',
    index: 'quantities',
    constant: 'QUANTITIES',
    type: 'AreaQuantities',
    from: '../quantity.ts',
  },
  {
    file: 'recording',
    exported: 'recordings',
    index: 'recordings',
    constant: 'RECORDINGS',
    type: 'Recording',
    from: '../recording.ts',
    several: true,
  },
  {
    file: 'standing',
    exported: 'standing',
    index: 'standings',
    constant: 'STANDINGS',
    type: 'AreaStanding',
    from: '../standing.ts',
  },
  { file: 'stale', exported: 'stale', index: 'stale', constant: 'STALE', type: 'AreaStale', from: '../stale.ts' },
  { file: 'picture', exported: 'picture', index: 'pictures', constant: 'PICTURES', type: 'AreaPicture', from: '../picture.ts' },
  { file: 'head', exported: 'head', index: 'heads', constant: 'HEADS', type: 'SectionHead', from: '../head.ts' },
]

export function generateAreaIndexes(): { path: string; text: string }[] {
  return KINDS.map(({ file, exported, index, constant, type, from, named, several }) => {
    const areas = AREAS.filter((area) => existsSync(new URL(`../src/areas/${area}/${file}.ts`, import.meta.url)))
    const text = [
      `// Generated from server/src/areas/*/${file}.ts by \`npm run gen\`, in the order of areas/order.ts. Do not edit.`,
      `import type { ${type} } from '${from}'`,
      ...areas.map((area) => `import { ${exported} as ${area} } from '../${area}/${file}.ts'`),
      '',
      `export const ${constant}: readonly ${named ? `(readonly [string, ${type}])` : type}[] = [`,
      ...areas.map((area) => (named ? `  ['${area}', ${area}],` : `  ${several ? '...' : ''}${area},`)),
      ']',
      '',
    ].join('\n')
    return { path: `server/src/areas/generated/${index}.ts`, text }
  })
}
