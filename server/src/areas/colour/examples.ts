// Measurement files, a printer and a shop for the examples of the colour rules, as further files of an example.

const strip = (rows: string): string => `CGATS.17
BEGIN_DATA_FORMAT
SAMPLE_ID SAMPLE_NAME CMYK_C CMYK_M CMYK_Y CMYK_K LAB_L LAB_A LAB_B
END_DATA_FORMAT
NUMBER_OF_SETS ${rows.trim().split('\n').length}
BEGIN_DATA
${rows.trim()}
END_DATA
`

/** What is aimed at: paper, cyan and black. */
export const TARGET = `#- target.txt
${strip(`
1 paper 0 0 0 0 94 0 -2
2 cyan 100 0 0 0 55 -36 -49
3 black 0 0 0 100 16 0 0
`)}`

/** A measurement near it. */
export const NEAR = `#- strip.txt
${strip(`
1 paper 0 0 0 0 94 0 -1.5
2 cyan 100 0 0 0 55.5 -36 -49
3 black 0 0 0 100 16.5 0 0
`)}`

/** A measurement whose black is far off. */
export const FAR = `#- strip.txt
${strip(`
1 paper 0 0 0 0 94 0 -2
2 cyan 100 0 0 0 55 -36 -49
3 black 0 0 0 100 30 2 3
`)}`

/** A measurement of another strip. */
export const OTHER_STRIP = `#- strip.txt
${strip(`
1 paper 0 0 0 0 94 0 -2
2 cyan 50 0 0 0 75 -18 -25
4 red 0 100 100 0 47 68 47
`)}`

export const FOUR_INKS = `#- p.printer.yaml
printer: p
heads: {channels: [cyan, magenta, yellow, black]}
`

export const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {colour: {mean: 1.5, percentile: 3, max: 5}}
`

/** Files of one key, as a profile names them. */
export const MEASURED = 'colour: {reference: target.txt, measured: [{file: $0strip.txt$0, date: 2026-03-20}]}\n'
