// Mutants that no test can tell from the code, each with the reason. One is known by its file's name and by what of a line becomes what, wherever
// it stands: as much of the line as is found in it once.

export interface Equivalent {
  readonly file: string
  readonly was: string
  readonly now: string
  readonly why: string
}

type Changes = readonly (readonly [was: string, now: string])[]

const because = (file: string, why: string, changes: Changes): readonly Equivalent[] =>
  changes.map(([was, now]) => ({ file, was, now, why }))

const STUDENT = 'calc/student-t.ts'
const SMALL = 'what changes is less than 1e-13, and the quantile is good to that'

const WHOLE = 'letters and findings are counted in whole numbers'
const OUTSIDE = 'it is told of a humidity outside the window alone, and that is off by more or less than 0'

// biome-ignore-start lint/suspicious/noTemplateCurlyInString: these are lines of code as they stand.
export const EQUIVALENT: readonly Equivalent[] = [
  ...because(STUDENT, 'what is kept of the quantiles costs memory, and what is not kept time', [
    ['let cached = 0', 'let cached = 1'],
    ['cacheLimit = 4096', 'cacheLimit = 4136.96'],
    ['if (known !== undefined) return known', 'if (false) return known'],
    ['if (cached >= cacheLimit) {', 'if (false) {'],
    ['cached >= cacheLimit', 'cached > cacheLimit'],
    ['cached >= cacheLimit', 'cached < cacheLimit'],
    ['cache.clear()', ';'],
    ['cached = 0', ';'],
    ['cached = 0', 'cached = 1'],
    ['cache.set(q, byFreedom)', ';'],
    ['cache.set(q, byFreedom)', 'cache.set(byFreedom, q)'],
    ['byFreedom.set(freedom, t)', ';'],
    ['cached++', ';'],
    ['cached++', 'cached--'],
  ]),
  ...because(STUDENT, 'it is where Newton begins: from any start he ends at the same quantile', [
    ['nu < 5 ? powerLaw', 'nu <= 5 ? powerLaw'],
    ['nu < 5 ? powerLaw', 'nu < 6 ? powerLaw'],
    ['Math.max(0.5, ', 'Math.max(0.505, '],
    ['(gamma / q) + (', '(gamma / q) - ('],
    ['nu - 1) / 2) * Math.log(nu)) / nu', 'nu + 1) / 2) * Math.log(nu)) / nu'],
    ['nu - 1) / 2) * Math.log(nu)) / nu', 'nu - 2) / 2) * Math.log(nu)) / nu'],
    ['nu - 1) / 2) * Math.log(nu)) / nu', 'nu - 1) * 2) * Math.log(nu)) / nu'],
    ['nu - 1) / 2) * Math.log(nu)) / nu', 'nu - 1) / 3) * Math.log(nu)) / nu'],
    ['nu - 1) / 2) * Math.log(nu)) / nu', 'nu - 1) / 2) / Math.log(nu)) / nu'],
  ]),
  ...because(STUDENT, 'Newton takes other steps, or more of them, and ends at the same quantile', [
    ['let i = 0; i < 60', 'let i = 1; i < 60'],
    ['i < 60', 'i <= 60'],
    ['i < 60', 'i < 60.6'],
    ['(2 * t * density) / p', '(3 * t * density) / p'],
    ['(target - Math.log(p)) / slope', '(target - Math.log(p)) * slope'],
    ['Math.max(-2,', 'Math.max(-3,'],
    ['Math.min(2, step)', 'Math.min(3, step)'],
    ['if (Math.abs(step) < 1e-15) break', 'if (false) break'],
    ['< 1e-15', '<= 1e-15'],
    ['< 1e-15', '< 1.01e-15'],
  ]),
  ...because(
    STUDENT,
    'both routes give the same quantile, within the 4e-13 it is good to: the edge between them is one of speed',
    [
      ['central = q > 0.25', 'central = q >= 0.25'],
      ['central = q > 0.25', 'central = q > 0.2525'],
      ['if (x >= (a + 1) / (a + 2.5))', 'if (false)'],
      ['x >= (a + 1)', 'x > (a + 1)'],
      ['(a + 1) / (a + 2.5)', '(a + 2) / (a + 2.5)'],
      ['(a + 1) / (a + 2.5)', '(a + 1) * (a + 2.5)'],
      ['(a + 1) / (a + 2.5)', '(a + 1) / (a + 2.525)'],
      ['while (x < 20)', 'while (x <= 20)'],
      ['while (x < 20)', 'while (x < 20.2)'],
      ['middle <= 0.425', 'middle < 0.425'],
      ['middle <= 0.425', 'middle <= 0.42925'],
      ['r <= 5', 'r < 5'],
      ['manyDegrees = 3000', 'manyDegrees = 3030'],
      ['nu >= manyDegrees', 'nu > manyDegrees'],
      ['z < 8', 'z <= 8'],
      ['if (nu === 2)', 'if (false)'],
      ['if (nu === 1)', 'if (false)'],
      ['q > 0.25 ? Math.tan(Math.PI * (0.5 - q)) : 1 / Math.tan(Math.PI * q)', '(1 / Math.tan(Math.PI * q))'],
      ['q > 0.25 ?', 'q >= 0.25 ?'],
      ['q > 0.25 ?', 'q > 0.2525 ?'],
    ],
  ),
  ...because(STUDENT, 'the series, or the fraction, has settled: further terms move the last digits alone', [
    ['n < 2000', 'n <= 2000'],
    ['n < 2000', 'n < 2020'],
    ['n < 2000 &&', 'n < 2000 ||'],
    ['term > sum', 'term >= sum'],
    ['1e-17', '1.01e-17'],
    ['m < 2000', 'm <= 2000'],
    ['m < 2000', 'm < 2020'],
    ['if (Math.abs(d * c - 1) < 1e-16) break', 'if (false) break'],
    ['d * c - 1', 'd / c - 1'],
    ['d * c - 1', 'd * c + 1'],
    ['d * c - 1', 'd * c - 2'],
    ['< 1e-16', '<= 1e-16'],
    ['< 1e-16', '< 1.01e-16'],
  ]),
  ...because(STUDENT, SMALL, [
    ['(17 / 14336', '(17.17 / 14336'],
    ['17 / 14336', '17 / 14479.36'],
    ['14336 - (r', '14336 + (r'],
    ['(r * 31)', '(r / 31)'],
    ['(r * 31)', '(r * 31.31)'],
    ['18432', '18616.32'],
    ['- 15) / 384', '- 15.15) / 384'],
    ['1482', '1496.82'],
    ['s - 1920', 's + 1920'],
    ['1920', '1939.2'],
    ['s - 945', 's + 945'],
    ['945', '954.45'],
    ['2.0442631033899397e-15', '2.06470573442e-15'],
  ]),
  ...because(STUDENT, 'the sign of both polynomials changes, and that of their quotient does not', [
    ['sum * x + c', 'sum * x - c'],
  ]),
  ...because('calc/colour.ts', 'a hue of 360 gives the difference and the mean that a hue of 0 gives', [['hue < 0', 'hue <= 0']]),
  ...because('calc/colour.ts', 'half of two whole turns is a whole turn, and a sine does not see it', [
    ['dh -= 360', 'dh += 360'],
    ['dh += 360', 'dh -= 360'],
  ]),
  ...because('calc/advance.ts', 'nothing tells a key that is undefined from one that is not there', [
    ['evenNozzles === undefined ? plan : { ...plan, evenNozzles }', '({ ...plan, evenNozzles })'],
  ]),
  ...because('calc/feed-key-in.ts', 'there is a range wherever no step lies inside it', [
    ['percent(range?.[1] ?? 0)', 'percent(range?.[1])'],
    ['percent(range?.[0] ?? 0)', 'percent(range?.[0])'],
    ['range?.[0] ?? 0', 'range?.[0] ?? 1'],
    ['range?.[1] ?? 0', 'range?.[1] ?? 1'],
  ]),
  ...because('calc/feed-key-in.ts', 'no picks scatter by just the twelfth root in floating point', [
    ['scatter > 1', 'scatter >= 1'],
  ]),
  ...because('calc/feed-key-in.ts', 'a difference is as large the other way round', [
    ['within(inPrinter, applied', 'within(applied, inPrinter'],
    ['within(inPrinter, result.correction', 'within(result.correction, inPrinter'],
    ['within(checked.correction, applied', 'within(applied, checked.correction'],
    ['within(result.correction, checked.correction', 'within(checked.correction, result.correction'],
  ]),
  ...because('calc/feed-key-in.ts', 'the middle patch is in every pattern', [['pick > 0 ? `+', 'pick >= 0 ? `+']]),
  ...because('calc/feed.ts', 'no correction is off by just an uncertainty in floating point', [
    ['Math.abs(difference) <= wanted.U', 'Math.abs(difference) < wanted.U'],
    ['Math.abs(difference) <= (fine', 'Math.abs(difference) < (fine'],
  ]),
  ...because('calc/feed.ts', 'there is a mean wherever a check is included', [
    ['(combined?.correction ?? 0)', '(combined?.correction)'],
    ['(combined?.correction ?? 0)', '(combined?.correction ?? 1)'],
    ['mean?.weights[next] ?? 0', 'mean?.weights[next]'],
    ['mean?.weights[next] ?? 0', 'mean?.weights[next] ?? 1'],
    ['(mean?.residuals[next]?.z ?? 0)', '(mean?.residuals[next]?.z)'],
    ['(mean?.residuals[next]?.z ?? 0)', '(mean?.residuals[next]?.z ?? 1)'],
  ]),
  ...because('calc/statistics.ts', 'it is only ever squared', [
    ['+= weights[i]! * shared.u[p]!', '-= weights[i]! * shared.u[p]!'],
  ]),
  ...because('calc/statistics.ts', 'more room than is needed', [['common?.length ?? 0', 'common?.length ?? 1']]),
  ...because('calc/feed-combine.ts', 'a name that is not kept is made again', [
    ['limits.set(instrument, cause)', ';'],
    ['limits.set(instrument, cause)', 'limits.set(cause, instrument)'],
  ]),
  ...because('calc/outliers.ts', 'a spread that is rounding is far below, one that is scatter far above', [
    ['noise = 1e-14', 'noise = 1.01e-14'],
    ['s > noise', 's >= noise'],
  ]),
  ...because('calc/outliers.ts', 'any weight will do that is the same for all', [['** 2 : 1))', '** 2 : 2))']]),
  ...because('base/equal.ts', 'of two values that say the same it does not matter which is the first', [
    ['equalLists(a, b as readonly unknown[])', 'equalLists(b as readonly unknown[], a)'],
    ['equalMaps(a, b as ReadonlyMap<unknown, unknown>)', 'equalMaps(b as ReadonlyMap<unknown, unknown>, a)'],
    ['[...a], [...(b as ReadonlySet<unknown>)]', '[...(b as ReadonlySet<unknown>)], [...a]'],
    ['equalObjects(a as Plain, b as Plain)', 'equalObjects(b as Plain, a as Plain)'],
    ['equalValues(value, b[i])', 'equalValues(b[i], value)'],
    ['[...a.keys()], [...b.keys()]', '[...b.keys()], [...a.keys()]'],
    ['equalValues(value, b.get(key))', 'equalValues(b.get(key), value)'],
    ['equalValues(a[key], b[key])', 'equalValues(b[key], a[key])'],
  ]),
  ...because('model/views.ts', 'of two values that say the same it does not matter which is the first', [
    ['same(before, now))', 'same(now, before))'],
    ['[...a.keys()], [...b.keys()]', '[...b.keys()], [...a.keys()]'],
  ]),
  ...because('base/recorder.ts', 'the numbers of revisions and of runs need only differ, and zero means never', [
    ['revision = 1', 'revision = 2'],
    ['notedIn = 0', 'notedIn = 1'],
    ['private run = 0', 'private run = 1'],
    ['this.run++', 'this.run--'],
  ]),
  ...because('base/recorder.ts', 'it is written when the value is first asked for', [['changedAt = 0', 'changedAt = 1']]),
  ...because('base/recorder.ts', 'what is noted outside of everything is asked for by nothing', [
    ['let readsDate = false', 'let readsDate = true'],
  ]),
  {
    file: 'areas/colour/rules/colour-file-missing.ts',
    was: 'const name = quoted(String(field.value), 60)',
    now: 'const name = quoted(String(field.value), 60.6)',
    why: WHOLE,
  },
  {
    file: 'areas/colour/rules/colour-file-kind.ts',
    was: 'report(named.field.place, `${quoted(String(named.field.value), 60)} is ${takes}: it is ${kindText(file)}.`)',
    now: 'report(named.field.place, `${quoted(String(named.field.value), 60.6)} is ${takes}: it is ${kindText(file)}.`)',
    why: WHOLE,
  },
  {
    file: 'areas/colour/rules/colour-file-unreadable.ts',
    was: 'report(field.place, sentence(`${quoted(String(field.value), 60)} cannot be read: ${attached.reason}`))',
    now: 'report(field.place, sentence(`${quoted(String(field.value), 60.6)} cannot be read: ${attached.reason}`))',
    why: WHOLE,
  },
  {
    file: 'rules/conflict-markers.ts',
    was: 'const MAX_CONFLICTS = 50',
    now: 'const MAX_CONFLICTS = 50.5',
    why: WHOLE,
  },
  {
    file: 'rules/unknown-alias.ts',
    was: "return `Nothing above is marked as ${name}, so this value is missing. Mark the value to repeat with '&${detail.slice(0, 40)}', or write the value out.`",
    now: "return `Nothing above is marked as ${name}, so this value is missing. Mark the value to repeat with '&${detail.slice(0, 40.4)}', or write the value out.`",
    why: WHOLE,
  },
  {
    file: 'areas/feed/rules/picks-off-by-one.ts',
    was: 'shiftPicks(document, picks, off, `Count the picks from there (${off > 0 ? `take ${off} off` : `add ${-off} to`} each)`),',
    now: 'shiftPicks(document, picks, off, `Count the picks from there (${off >= 0 ? `take ${off} off` : `add ${-off} to`} each)`),',
    why: 'nothing is told where a pick is 0, so no pick is off by it',
  },
  {
    file: 'rules/duplicate-id.ts',
    was: 'let same = 0',
    now: 'let same = 1',
    why: 'both addresses begin with the same scheme',
  },
  {
    file: 'rules/duplicate-key.ts',
    was: 'node = node.pairs.find((p) => at < p.value.end)?.value',
    now: 'node = node.pairs.find((p) => at <= p.value.end)?.value',
    why: 'a key that begins where a value ends is one of this mapping, and was found before',
  },
  {
    file: 'areas/room/rules/check-climate.ts',
    was: 'const off = humidity ? beyond(humidity.value, climate.humidity.value) : 0',
    now: 'const off = humidity ? beyond(humidity.value, climate.humidity.value) : 1',
    why: 'without a humidity it is not looked at',
  },
  {
    file: 'areas/room/rules/check-climate.ts',
    was: "return ` ${shown(setup, Math.abs(off), 'humidity')} ${off > 0 ? 'more' : 'less'} make this stock up to ${most(grown)} mm per metre ${off > 0 ? 'longer' : 'shorter'}${typical}.`",
    now: "return ` ${shown(setup, Math.abs(off), 'humidity')} ${off >= 0 ? 'more' : 'less'} make this stock up to ${most(grown)} mm per metre ${off > 0 ? 'longer' : 'shorter'}${typical}.`",
    why: OUTSIDE,
  },
  {
    file: 'areas/room/rules/check-climate.ts',
    was: "return ` ${shown(setup, Math.abs(off), 'humidity')} ${off > 0 ? 'more' : 'less'} make this stock up to ${most(grown)} mm per metre ${off > 0 ? 'longer' : 'shorter'}${typical}.`",
    now: "return ` ${shown(setup, Math.abs(off), 'humidity')} ${off > 0 ? 'more' : 'less'} make this stock up to ${most(grown)} mm per metre ${off >= 0 ? 'longer' : 'shorter'}${typical}.`",
    why: OUTSIDE,
  },
  {
    file: 'areas/web/rules/two-tensions.ts',
    was: 'const [first, second] = range.$.node.start < levels.$.node.start ? [range.$, levels.$] : [levels.$, range.$]',
    now: 'const [first, second] = range.$.node.start <= levels.$.node.start ? [range.$, levels.$] : [levels.$, range.$]',
    why: 'a list and a group do not begin at one place',
  },
  {
    file: 'areas/heat/rules/platen-feed-growth.ts',
    was: 'if (Math.min(Math.abs(low), Math.abs(high)) <= tolerance || low * high <= 0) return',
    now: 'if (Math.min(Math.abs(low), Math.abs(high)) <= tolerance || low / high <= 0) return',
    why: 'the quotient has the sign of the product, and what is 0 is within any tolerance',
  },
  {
    file: 'areas/heat/rules/platen-feed-growth.ts',
    was: 'if (Math.min(Math.abs(low), Math.abs(high)) <= tolerance || low * high <= 0) return',
    now: 'if (Math.min(Math.abs(low), Math.abs(high)) <= tolerance || low * high < 0) return',
    why: 'what is 0 is within any tolerance',
  },
]
// biome-ignore-end lint/suspicious/noTemplateCurlyInString: as above.
