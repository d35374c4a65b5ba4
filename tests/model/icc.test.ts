// The header and the table of tags of an ICC profile, read as ISO 15076-1 lays them out; what is broken is said in words, and nothing is thrown.
import { describe, expect, test } from 'vitest'
import { channelsOf, classWords, isIcc, readIcc } from '../../server/src/model/icc.ts'
import { iccBytes, putSignature, putUint32 } from '../support/icc.ts'

describe('a profile', () => {
  test('is read: version, class, spaces, day, tags, description', () => {
    const profile = readIcc(iccBytes({ space: 'CMYK', created: '2025-10-02', description: 'Cast film, bay 1' }))
    expect(profile).toMatchObject({
      version: '4.4.0',
      deviceClass: 'prtr',
      space: 'CMYK',
      connection: 'Lab ',
      created: '2025-10-02',
      description: 'Cast film, bay 1',
      problems: [],
    })
    expect([...profile.tags.keys()]).toEqual(['desc', 'A2B0', 'B2A0'])
  })

  test('of version 2 has its description in letters of one byte', () => {
    const bytes = iccBytes({ version: [2, 1], description: 'x'.repeat(20) })
    const at = readIcc(bytes).tags.get('desc')!.offset
    bytes.fill(0, at, at + 60)
    putSignature(bytes, at, 'desc')
    putUint32(bytes, at + 8, 9)
    bytes.set(
      [...'Old film\0'].map((c) => c.charCodeAt(0)),
      at + 12,
    )
    expect(readIcc(bytes)).toMatchObject({ version: '2.1.0', description: 'Old film', problems: [] })
  })

  test('without a day has none, and that is no fault', () => {
    expect(readIcc(iccBytes({ created: '0-0-0' }))).toMatchObject({ created: undefined, problems: [] })
  })

  test('is known by its mark, and by nothing else', () => {
    expect(isIcc(iccBytes())).toBe(true)
    expect(isIcc(iccBytes().subarray(0, 39))).toBe(false)
    const bytes = iccBytes()
    bytes[36] = 0
    expect(isIcc(bytes)).toBe(false)
    expect(isIcc(new Uint8Array())).toBe(false)
  })
})

describe('what is wrong with one is said', () => {
  const whole = iccBytes().length
  test.each<[string, Uint8Array, string[]]>([
    [
      'cut',
      iccBytes().subarray(0, 200),
      [`it ends after 200 bytes and says that it is ${whole} bytes long, so it was not copied whole`],
    ],
    ['header alone', iccBytes().subarray(0, 100), ['it ends after 100 bytes, and the header alone is 128 bytes long']],
    ['a size of 0', iccBytes({ size: 0 }), ['it says that it is 0 bytes long, which is less than a header']],
    ['more behind it', iccBytes({ size: whole - 8 }), [`8 bytes stand behind its end, which is after ${whole - 8} bytes`]],
    [
      'too many tags',
      iccBytes({ count: 0xffffffff }),
      ['its table of tags has 4294967295 entries, and there is room for 10 at most'],
    ],
    ['no tags', iccBytes({ tags: [] }), ['its table of tags is empty']],
    ['a version', iccBytes({ version: [9, 0] }), ['its version 9.0.0 is none of 2, 4 and 5']],
    ['a class', iccBytes({ deviceClass: 'what' }), ["its class 'what' is none of the standard"]],
    ['a space', iccBytes({ space: '\u0007\u0001AB' }), ["its colour space '??AB' is none of the standard"]],
    ['a connection space', iccBytes({ connection: 'RGB ' }), ["its connection space is 'RGB', and only Lab and XYZ are allowed"]],
    ['a day', iccBytes({ created: '2025-13-01' }), ['the day it was made, 2025-13-01, is none of the calendar']],
    ['a tag twice', iccBytes({ tags: ['desc', 'A2B0', 'B2A0', 'A2B0'] }), ["the tag 'A2B0' stands in its table twice"]],
    ['no tables', iccBytes({ tags: ['desc'] }), ["the tags 'A2B0', 'B2A0', which every output profile has, are missing"]],
    ['grey without its curve', iccBytes({ space: 'GRAY' }), ["the tag 'kTRC', which every output profile has, is missing"]],
  ])('%s', (_, bytes, problems) => {
    expect(readIcc(bytes).problems).toEqual(expect.arrayContaining(problems))
  })

  test('a tag that lies outside', () => {
    for (const [offset, size] of [
      [whole, 4],
      [0, 4],
      [whole - 4, 0xffffffff],
      [0xffffffff, 0xffffffff],
    ] as const) {
      const bytes = iccBytes()
      putUint32(bytes, 132 + 12 + 4, offset)
      putUint32(bytes, 132 + 12 + 8, size)
      expect(readIcc(bytes).problems).toEqual(["the tag 'A2B0' lies outside of it"])
    }
  })

  test('a display profile without tables is whole', () => {
    expect(readIcc(iccBytes({ deviceClass: 'mntr', space: 'RGB ', connection: 'XYZ', tags: ['desc'] })).problems).toEqual([])
  })
})

test('a space has as many channels as its signature says', () => {
  // ISO 15076-1, table of colour space signatures (from memory).
  expect(['GRAY', 'RGB ', 'CMY ', 'CMYK', '2CLR', '7CLR', 'FCLR', 'Lab ', 'XYZ ', 'GCLR', '1CLR'].map(channelsOf)).toEqual([
    1,
    3,
    3,
    4,
    2,
    7,
    15,
    undefined,
    undefined,
    undefined,
    undefined,
  ])
})

test('a class is called by its name', () => {
  expect([classWords('prtr'), classWords('mntr'), classWords('zzzz')]).toEqual([
    'an output profile',
    'a display profile',
    "a profile of class 'zzzz'",
  ])
})
