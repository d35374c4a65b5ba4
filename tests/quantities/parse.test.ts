// What a person types where a quantity is due, and what they see: the value read, or the message with its fixes.
import { describe, expect, test } from 'vitest'
import { fromSi } from '../../server/src/quantities/convert.ts'
import { formatQuantity } from '../../server/src/quantities/format.ts'
import { parseAnyQuantity, parseQuantity, quantityParts } from '../../server/src/quantities/parse.ts'
import type { Quantity } from '../../server/src/quantities/quantity.ts'
import type { Dimension } from '../../server/src/quantities/units.ts'

/** As the user sees it: the text with carets below the part at fault, the code and message, and the fixes (the preferred one starred). */
function screen(text: string, dimension: Dimension): string {
  const parsed = parseQuantity(text, dimension)
  if (parsed.ok) return `fine: ${formatQuantity(parsed.value)}`
  const { code, span, message, fixes } = parsed.problem
  const carets = `${' '.repeat(span.start)}${'^'.repeat(Math.max(1, span.end - span.start))}`
  const offers = fixes.map((fix) => `${fix.preferred ? '*' : '-'} ${fix.title} → ${fix.replacement}`)
  return [text, `${carets} ${code}`, message, ...offers].join('\n')
}

function read(text: string, dimension: Dimension): Quantity {
  const parsed = parseQuantity(text, dimension)
  if (!parsed.ok) throw new Error(parsed.problem.message)
  return parsed.value
}

/** Text, dimension that is due, and the screen. */
type Case = readonly [text: string, dimension: Dimension, lines: readonly string[]]

const screens = (cases: readonly Case[]): void => {
  test.each(cases)('%s as %s', (text, dimension, lines) => expect(screen(text, dimension)).toBe(lines.join('\n')))
}

describe('a well-formed quantity is read in SI', () => {
  test.each([
    ['500 mm', 'length', 0.5],
    ['499.4mm', 'length', 0.4994],
    ['  500 mm\t', 'length', 0.5],
    ['500\u00a0mm', 'length', 0.5],
    ['180 µm', 'length', 180e-6],
    ['180 μm', 'length', 180e-6],
    ['180 um', 'length', 180e-6],
    ['.5 mm', 'length', 0.0005],
    ['+2 mm', 'length', 0.002],
    ['1 in', 'length', 0.0254],
    ['11/16 in', 'length', 0.0174625],
    ['19 11/16 in', 'length', 0.5000625],
    ['-1 1/2 in', 'length', -0.0381],
    ['33/16 in', 'length', 0.0523875],
    ['1/180 in', 'length', 0.0254 / 180],
    ['-0.12 %', 'relative', -0.0012],
    ['−0.12 %', 'relative', -0.0012],
    ['0.12%', 'relative', 0.0012],
    ['1200 ppm', 'relative', 0.0012],
    ['1.2 mm/m', 'relative', 0.0012],
    ['40 °C', 'temperature', 40],
    ['40 degC', 'temperature', 40],
    ['104 °F', 'temperature', 40],
    ['313.15 K', 'temperature', 40],
    ['-273.15 °C', 'temperature', -273.15],
    ['0 K', 'temperature', -273.15],
    ['5 K', 'temperature-difference', 5],
    ['50 %RH', 'humidity', 0.5],
    ['20 mbar', 'pressure', 2000],
    ['30 N/m', 'line-tension', 30],
    ['2.4 GPa', 'modulus', 2.4e9],
    ['130 gsm', 'grammage', 0.13],
    ['1.2 m/min', 'speed', 0.02],
    ['36 m²/h', 'area-rate', 0.01],
    ['1.5 d', 'time', 129600],
    ['1.4 g/cm³', 'density', 1400],
    ['118 g/mol', 'molar-mass', 0.118],
    ['70 ppm/K', 'expansion', 70e-6],
    ['70 µm/m/K', 'expansion', 70e-6],
    ['0.00007 /K', 'expansion', 70e-6],
    ['0.01 %/%RH', 'moisture-expansion', 0.01],
    ['6 ppm/%RH', 'moisture-expansion', 6e-4],
    ['200 W/m²K', 'coupling', 200],
    ['0.95 kJ/kgK', 'heat-capacity', 950],
    ['7 pL', 'volume', 7e-15],
  ] as const)('%s', (text, dimension, si) => {
    const { si: found, dimension: of, uncertainty } = read(text, dimension)
    expect(of).toBe(dimension)
    expect(uncertainty).toBeUndefined()
    expect(Math.abs(found - si)).toBeLessThanOrEqual(Math.abs(si) * 4e-16)
  })

  test.each(['499.4 ±0.3 mm', '499.4 ± 0.3 mm', '499.4±0.3mm', '499.4 +/-0.3 mm', '499.4 +/- 0.3 mm'])('%s', (text) => {
    expect(read(text, 'length')).toMatchObject({ si: 0.4994, uncertainty: 0.0003, written: '499.4', writtenUncertainty: '0.3' })
  })

  test('an uncertainty of a temperature is a difference', () => {
    expect(read('73.4 ±0.9 °F', 'temperature')).toMatchObject({ si: 23, uncertainty: 0.5 })
    expect(read('9 ±1.8 °F', 'temperature-difference')).toMatchObject({ si: 5, uncertainty: 1 })
    expect(read('296.15 ±0.5 K', 'temperature')).toMatchObject({ si: 23, uncertainty: 0.5 })
  })

  test('an uncertainty in fractions of an inch', () => {
    expect(read('19 11/16 ±1/32 in', 'length')).toMatchObject({ si: 0.5000625, uncertainty: 0.0254 / 32 })
  })

  test.each(['600 x 1200 dpi', '600x1200dpi', '600 X 1200 dpi', '600 × 1200 dpi'])('%s: across by along the feed', (text) => {
    const { si, second, unit } = read(text, 'resolution')
    expect([fromSi(si, unit), fromSi(second!, unit)]).toEqual([600, 1200])
  })

  test('one number of a resolution is both', () => {
    const { si, second } = read('600 dpi', 'resolution')
    expect(second).toBe(si)
  })

  test('zero has no sign', () => expect(Object.is(read('-0 mm', 'length').si, 0)).toBe(true))
})

describe('a bare number', () => {
  screens([
    [
      '500',
      'length',
      [
        '500',
        '^^^ missing-unit',
        "'500' has no unit; a length (mm, m, µm or in) is due",
        '- Add mm → 500 mm',
        '- Add m → 500 m',
        '- Add µm → 500 µm',
        '- Add in → 500 in',
      ],
    ],
    [
      '40',
      'temperature',
      ['40', '^^ missing-unit', "'40' has no unit; a temperature (°C or °F) is due", '- Add °C → 40 °C', '- Add °F → 40 °F'],
    ],
    ['50', 'humidity', ['50', '^^ missing-unit', "'50' has no unit; a relative humidity (%RH) is due", '* Add %RH → 50 %RH']],
    [
      '19 11/16',
      'length',
      [
        '19 11/16',
        '^^^^^^^^ missing-unit',
        "'19 11/16' has no unit; a length (mm, m, µm or in) is due",
        '- Add in → 19 11/16 in',
      ],
    ],
    [
      '499.4 ±0.3',
      'length',
      [
        '499.4 ±0.3',
        '^^^^^^^^^^ missing-unit',
        "'499.4 ±0.3' has no unit; a length (mm, m, µm or in) is due",
        '- Add mm → 499.4 ±0.3 mm',
        '- Add m → 499.4 ±0.3 m',
        '- Add µm → 499.4 ±0.3 µm',
        '- Add in → 499.4 ±0.3 in',
      ],
    ],
    [
      '600 x 1200',
      'resolution',
      [
        '600 x 1200',
        '^^^^^^^^^^ missing-unit',
        "'600 x 1200' has no unit; a resolution (dpi) is due",
        '* Add dpi → 600 x 1200 dpi',
      ],
    ],
  ])
})

describe('a unit of something else', () => {
  screens([
    [
      '20 N/m',
      'length',
      ['20 N/m', '^^^^^^ wrong-dimension', "'20 N/m' is a line tension; a length is due, in mm, m, cm, µm, in, ft or mil"],
    ],
    [
      '0.12 mm',
      'relative',
      ['0.12 mm', '^^^^^^^ wrong-dimension', "'0.12 mm' is a length; a relative amount is due, in %, ppm or mm/m"],
    ],
    [
      '5 °C',
      'temperature-difference',
      [
        '5 °C',
        '^^^^ wrong-dimension',
        "'5 °C' is a temperature; a temperature difference is due, in K or °F",
        '* Convert to K → 5 K',
      ],
    ],
    [
      '5 ±1 °C',
      'temperature-difference',
      [
        '5 ±1 °C',
        '^^^^^^^ wrong-dimension',
        "'5 ±1 °C' is a temperature; a temperature difference is due, in K or °F",
        '* Convert to K → 5 ±1 K',
      ],
    ],
    [
      '50 %',
      'humidity',
      [
        '50 %',
        '^^^^ wrong-dimension',
        "'50 %' is a relative amount; a relative humidity is due, in %RH",
        '* Convert to %RH → 50 %RH',
      ],
    ],
    [
      '0.2 psi',
      'pressure',
      [
        '0.2 psi',
        '^^^^^^^ wrong-dimension',
        "'0.2 psi' is a modulus or strength; a pressure is due, in Pa, kPa, hPa, mbar, inH2O or mmH2O",
        '* Convert to Pa → 1379 Pa',
      ],
    ],
    [
      '50 %RH',
      'relative',
      ['50 %RH', '^^^^^^ wrong-dimension', "'50 %RH' is a relative humidity; a relative amount is due, in %, ppm or mm/m"],
    ],
  ])

  test('says which dimension was found', () => {
    expect(parseQuantity('20 N/m', 'length')).toMatchObject({ ok: false, problem: { found: 'line-tension' } })
  })
})

describe('a unit that is none', () => {
  const meant = (text: string, dimension: Dimension): string => screen(text, dimension).split('\n').slice(2).join('\n')

  test.each([
    ['500 MM', 'length', "'MM' is not a unit; did you mean '500 mm'?\n* Write '500 mm' → 500 mm"],
    ['40 C', 'temperature', "'C' is not a unit; did you mean '40 °C'?\n* Write '40 °C' → 40 °C"],
    ['40 ºC', 'temperature', "'ºC' is not a unit; did you mean '40 °C'?\n* Write '40 °C' → 40 °C"],
    ['5 n/m', 'line-tension', "'n/m' is not a unit; did you mean '5 N/m'?\n* Write '5 N/m' → 5 N/m"],
    ['800 pa', 'pressure', "'pa' is not a unit; did you mean '800 Pa'?\n* Write '800 Pa' → 800 Pa"],
    ['50 rh', 'humidity', "'rh' is not a unit; did you mean '50 %RH'?\n* Write '50 %RH' → 50 %RH"],
    ['19"', 'length', "'\"' is not a unit; did you mean '19 in'?\n* Write '19 in' → 19 in"],
    ['19 11/16"', 'length', "'\"' is not a unit; did you mean '19 11/16 in'?\n* Write '19 11/16 in' → 19 11/16 in"],
    ['80 microns', 'length', "'microns' is not a unit; did you mean '80 µm'?\n* Write '80 µm' → 80 µm"],
    ['20 sec', 'time', "'sec' is not a unit; did you mean '20 s'?\n* Write '20 s' → 20 s"],
    ['130 g/m^2', 'grammage', "'g/m^2' is not a unit; did you mean '130 g/m²'?\n* Write '130 g/m²' → 130 g/m²"],
    ['3 lb/in', 'line-tension', "'lb/in' is not a unit; did you mean '3 lbf/in'?\n* Write '3 lbf/in' → 3 lbf/in"],
    ['70 ppm/°C', 'expansion', "'ppm/°C' is not a unit; did you mean '70 ppm/K'?\n* Write '70 ppm/K' → 70 ppm/K"],
    // A guess that may be another prefix or an area is offered, never preferred.
    ['500 mmm', 'length', "'mmm' is not a unit; did you mean '500 mm'?\n- Write '500 mm' → 500 mm"],
    ['5 mm2', 'length', "'mm2' is not a unit; did you mean '5 mm'?\n- Write '5 mm' → 5 mm"],
    [
      '40 deg',
      'temperature',
      "'deg' is not a unit; did you mean '40 °C' or '40 °F'?\n- Write '40 °C' → 40 °C\n- Write '40 °F' → 40 °F",
    ],
    // Another prefix is not a slip.
    ['12 km', 'length', "'km' is not a unit; a length is given in mm, m, cm, µm, in, ft or mil"],
    ['80 nm', 'length', "'nm' is not a unit; a length is given in mm, m, cm, µm, in, ft or mil"],
    ['1 kg/m²', 'grammage', "'kg/m²' is not a unit; a grammage is given in g/m² or oz/yd²"],
    ['5 furlongs', 'length', "'furlongs' is not a unit; a length is given in mm, m, cm, µm, in, ft or mil"],
    ['500 mm wide', 'length', "'mm wide' is more than a unit; only '500 mm' can stand here\n- Write '500 mm' → 500 mm"],
  ] as const)('%s as %s', (text, dimension, lines) => expect(meant(text, dimension)).toBe(lines))
})

describe('commas', () => {
  screens([
    [
      '499,4 mm',
      'length',
      [
        '499,4 mm',
        '^^^^^ comma-decimal',
        "'499,4' has a decimal comma; write a decimal point, '499.4 mm'",
        "* Write '499.4 mm' → 499.4 mm",
      ],
    ],
    [
      '499,4 ±0,3 mm',
      'length',
      [
        '499,4 ±0,3 mm',
        '^^^^^ comma-decimal',
        "'499,4' has a decimal comma; write a decimal point, '499.4 ±0.3 mm'",
        "* Write '499.4 ±0.3 mm' → 499.4 ±0.3 mm",
      ],
    ],
    [
      '499.4 ±0,3 mm',
      'length',
      [
        '499.4 ±0,3 mm',
        '       ^^^ comma-decimal',
        "'0,3' has a decimal comma; write a decimal point, '499.4 ±0.3 mm'",
        "* Write '499.4 ±0.3 mm' → 499.4 ±0.3 mm",
      ],
    ],
    [
      '0,125 %',
      'relative',
      [
        '0,125 %',
        '^^^^^ comma-decimal',
        "'0,125' has a decimal comma; write a decimal point, '0.125 %'",
        "* Write '0.125 %' → 0.125 %",
      ],
    ],
    [
      '1,234.5 mm',
      'length',
      [
        '1,234.5 mm',
        '^^^^^^^ comma-decimal',
        "'1,234.5' has a comma between thousands; leave it out, '1234.5 mm'",
        "* Write '1234.5 mm' → 1234.5 mm",
      ],
    ],
    [
      '1.234,5 mm',
      'length',
      [
        '1.234,5 mm',
        '^^^^^^^ comma-decimal',
        "'1.234,5' has a decimal comma; write a decimal point and no thousands mark, '1234.5 mm'",
        "* Write '1234.5 mm' → 1234.5 mm",
      ],
    ],
    [
      '1,234 mm',
      'length',
      [
        '1,234 mm',
        '^^^^^ comma-decimal',
        "'1,234' can be read as 1.234 or as 1234; write '1.234 mm' or '1234 mm'",
        "- Write '1.234 mm' → 1.234 mm",
        "- Write '1234 mm' → 1234 mm",
      ],
    ],
    ['5, mm', 'length', ['5, mm', '^^ comma-decimal', "'5,' ends in a comma; leave it out, '5 mm'", "* Write '5 mm' → 5 mm"]],
    [
      '1,2,3 mm',
      'length',
      ['1,2,3 mm', '^^^^^ comma-decimal', "'1,2,3' has too many commas and points to read; a length (mm, m, µm or in) is due"],
    ],
  ])
})

describe('other ways of writing numbers', () => {
  screens([
    ['5. mm', 'length', ['5. mm', '^^ bad-number', "'5.' ends in a point; leave it out, '5 mm'", "* Write '5 mm' → 5 mm"]],
    [
      '1e3 mm',
      'length',
      ['1e3 mm', '^^^ exponent', "'1e3' has an exponent; write the number out, '1000 mm'", "* Write '1000 mm' → 1000 mm"],
    ],
    [
      '70e-6 /K',
      'expansion',
      [
        '70e-6 /K',
        '^^^^^ exponent',
        "'70e-6' has an exponent; write the number out, '0.00007 /K'",
        "* Write '0.00007 /K' → 0.00007 /K",
      ],
    ],
    [
      '1e400 mm',
      'length',
      ['1e400 mm', '^^^^^ number-overflow', "'1e400' is beyond any value here; a length (mm, m, µm or in) is due"],
    ],
    [
      '1234567890123456 mm',
      'length',
      [
        '1234567890123456 mm',
        '^^^^^^^^^^^^^^^^ number-overflow',
        "'1234567890123456' has more digits than any value here; a length (mm, m, µm or in) is due",
      ],
    ],
    [
      '1 234 mm',
      'length',
      [
        '1 234 mm',
        '^^^^^ bad-number',
        "'1 234' has its digits in groups; write them together, '1234 mm'",
        "* Write '1234 mm' → 1234 mm",
      ],
    ],
    [
      '1_234.5 mm',
      'length',
      [
        '1_234.5 mm',
        '^^^^^^^ bad-number',
        "'1_234.5' has its digits in groups; write them together, '1234.5 mm'",
        "* Write '1234.5 mm' → 1234.5 mm",
      ],
    ],
    ['1.2.3 mm', 'length', ['1.2.3 mm', '^^^^^ bad-number', "'1.2.3' has two decimal points; a length (mm, m, µm or in) is due"]],
  ])
})

describe('fractions', () => {
  screens([
    [
      '1 1/2 mm',
      'length',
      ['1 1/2 mm', '^^^^^ bad-fraction', "fractions are for inches only; write '1.5 mm'", "* Write '1.5 mm' → 1.5 mm"],
    ],
    [
      '1/0 in',
      'length',
      ['1/0 in', '^^^ bad-fraction', "'1/0' divides by zero; the number below the slash is above zero, as in '11/16 in'"],
    ],
    [
      '1 17/16 in',
      'length',
      [
        '1 17/16 in',
        '^^^^^^^ bad-fraction',
        "'1 17/16' has a fraction of one or more behind whole inches; carry it over, '2 1/16 in'",
        "* Write '2 1/16 in' → 2 1/16 in",
      ],
    ],
    [
      '19½ in',
      'length',
      [
        '19½ in',
        '^^^ bad-fraction',
        "'19½' has a fraction in one character; write it with a slash, '19 1/2 in'",
        "* Write '19 1/2 in' → 19 1/2 in",
      ],
    ],
    [
      '19-11/16 in',
      'length',
      [
        '19-11/16 in',
        '^^^^^^^^ bad-fraction',
        "'19-11/16' joins inches and fraction by a hyphen; put a space, '19 11/16 in'",
        "* Write '19 11/16 in' → 19 11/16 in",
      ],
    ],
    [
      '1.5/2 in',
      'length',
      [
        '1.5/2 in',
        '^^^^^ bad-fraction',
        "'1.5/2' mixes a decimal point and a fraction; write one or the other, '1.5 in' or '1 1/2 in'",
      ],
    ],
  ])
})

describe('uncertainties', () => {
  screens([
    [
      '2 mm ± -1',
      'length',
      [
        '2 mm ± -1',
        '     ^^^^ bad-uncertainty',
        "'± -1' is no uncertainty; it is a number above zero, or is left out when nothing is known of it",
        "- Write '2 mm' → 2 mm",
      ],
    ],
    [
      '-300 °C ±1',
      'temperature',
      [
        '-300 °C ±1',
        '^^^^^^^^^^ impossible-temperature',
        "'-300 ±1 °C' is below absolute zero; nothing is colder than -273.15 °C",
      ],
    ],
    [
      '2 ± - mm',
      'length',
      ['2 ± - mm', '  ^^^^^^ bad-uncertainty', 'the number after ± is missing; write the uncertainty there'],
    ],
    [
      '499.4 mm ±0.3 mm',
      'length',
      [
        '499.4 mm ±0.3 mm',
        '      ^^^^^^^^^^ bad-uncertainty',
        "the unit is written once, behind the uncertainty: '499.4 ±0.3 mm'",
        "* Write '499.4 ±0.3 mm' → 499.4 ±0.3 mm",
      ],
    ],
    [
      '499.4 mm ±300 µm',
      'length',
      [
        '499.4 mm ±300 µm',
        '      ^^^^^^^^^^ bad-uncertainty',
        "the unit is written once, behind the uncertainty: '499.4 ±0.3 mm'",
        "* Write '499.4 ±0.3 mm' → 499.4 ±0.3 mm",
      ],
    ],
    [
      '500 mm ±0.1 %',
      'length',
      [
        '500 mm ±0.1 %',
        '    ^^^^^^^^^ bad-uncertainty',
        "the unit is written once, behind the uncertainty: '500 ±0.5 mm'",
        "* Write '500 ±0.5 mm' → 500 ±0.5 mm",
      ],
    ],
    [
      '499.4 ± mm',
      'length',
      [
        '499.4 ± mm',
        '      ^^^^ bad-uncertainty',
        "the number after ± is missing; write the uncertainty there, or leave the ± out, '499.4 mm'",
        "- Write '499.4 mm' → 499.4 mm",
      ],
    ],
    [
      '499.4 ±0 mm',
      'length',
      [
        '499.4 ±0 mm',
        '      ^^ bad-uncertainty',
        "'±0' is no uncertainty; it is a number above zero, or is left out when nothing is known of it",
        "- Write '499.4 mm' → 499.4 mm",
      ],
    ],
    [
      '499.4 ±-0.3 mm',
      'length',
      [
        '499.4 ±-0.3 mm',
        '      ^^^^^ bad-uncertainty',
        "'±-0.3' is no uncertainty; it is a number above zero, or is left out when nothing is known of it",
        "- Write '499.4 mm' → 499.4 mm",
      ],
    ],
    [
      '(499.4 ±0.3) mm',
      'length',
      [
        '(499.4 ±0.3) mm',
        '^^^^^^^^^^^^^^^ not-a-quantity',
        "'(499.4 ±0.3) mm' is not a number with a unit; a length (mm, m, µm or in) is due",
        "- Write '499.4 ±0.3 mm' → 499.4 ±0.3 mm",
      ],
    ],
  ])
})

describe('several values, none, and impossible ones', () => {
  screens([
    ['18-28 °C', 'temperature', ['18-28 °C', '^^^^^ two-values', "'18-28' looks like a range; a temperature (°C or °F) is due"]],
    [
      '18 to 28 °C',
      'temperature',
      ['18 to 28 °C', '^^^^^^^^^^^ two-values', "'18 to 28 °C' looks like a range; a temperature (°C or °F) is due"],
    ],
    [
      '10 x 20 mm',
      'length',
      ['10 x 20 mm', '^^^^^^^^^^ two-values', "'10 x 20 mm' holds two numbers; a length (mm, m, µm or in) is due"],
    ],
    ['', 'length', ['', '^ not-a-quantity', 'there is no value; a length (mm, m, µm or in) is due']],
    ['   ', 'length', ['   ', '   ^ not-a-quantity', 'there is no value; a length (mm, m, µm or in) is due']],
    ['mm', 'length', ['mm', '^^ missing-number', "'mm' has no number yet; write it before the unit"]],
    ['wide', 'length', ['wide', '^^^^ not-a-quantity', "'wide' is not a number with a unit; a length (mm, m, µm or in) is due"]],
    [
      '.nan',
      'relative',
      ['.nan', '^^^^ not-a-quantity', "'.nan' is not a number with a unit; a relative amount (% or ppm) is due"],
    ],
    [
      '~500 mm',
      'length',
      [
        '~500 mm',
        '^^^^^^^ not-a-quantity',
        "'~500 mm' is not a number with a unit; a length (mm, m, µm or in) is due",
        "- Write '500 mm' → 500 mm",
      ],
    ],
    [
      '-300 °C',
      'temperature',
      ['-300 °C', '^^^^^^^ impossible-temperature', "'-300 °C' is below absolute zero; nothing is colder than -273.15 °C"],
    ],
    [
      '-500 °F',
      'temperature',
      ['-500 °F', '^^^^^^^ impossible-temperature', "'-500 °F' is below absolute zero; nothing is colder than -459.67 °F"],
    ],
    [
      '0 dpi',
      'resolution',
      [
        '0 dpi',
        '^^^^^ bad-resolution',
        "'0 dpi' is not a resolution; write dots per inch across and along the feed, '600 x 1200 dpi', both above zero",
      ],
    ],
    [
      '600 ±1 dpi',
      'resolution',
      [
        '600 ±1 dpi',
        '^^^^^^^^^^ bad-resolution',
        "'600 ±1 dpi' is not a resolution; write dots per inch across and along the feed, '600 x 1200 dpi', both above zero",
      ],
    ],
  ])
})

describe('a quantity whose dimension only its unit tells', () => {
  test.each([
    ['500 mm', 'length'],
    ['0.12 %', 'relative'],
    ['5 K', 'temperature-difference'],
    ['1.2 mm/m', 'relative'],
    ['600 x 1200 dpi', 'resolution'],
    ['6 in', 'length'],
  ])('%s is a %s', (text, dimension) => expect(parseAnyQuantity(text)?.dimension).toBe(dimension))

  test.each(['500', 'mm', '499,4 mm', '5 furlongs', '', '2024-11-05'])("'%s' is none", (text) => {
    expect(parseAnyQuantity(text)).toBeUndefined()
  })
})

describe('the parts of a quantity', () => {
  const marked = (text: string): string =>
    quantityParts(text)
      .map((part) => `${part.kind}:${text.slice(part.start, part.end)}`)
      .join(' | ')

  test.each([
    ['500 mm', 'number:500 | unit:mm'],
    ['19 11/16 in', 'number:19 11/16 | unit:in'],
    ['499.4 ± 0.3 mm', 'number:499.4 | plus-minus:± | uncertainty:0.3 | unit:mm'],
    ['499.4 +/-0.3mm', 'number:499.4 | plus-minus:+/- | uncertainty:0.3 | unit:mm'],
    ['600 x 1200 dpi', 'number:600 | times:x | second:1200 | unit:dpi'],
    ['500 furlongs', 'number:500'],
    ['wide', ''],
  ])('%s', (text, parts) => expect(marked(text)).toBe(parts))
})
