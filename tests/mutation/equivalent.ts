// Mutants that no test can tell from the code, each with the reason. One is known by its file's name and its lines, wherever they stand.

export interface Equivalent {
  readonly file: string
  readonly was: string
  readonly now: string
  readonly why: string
}

const START = 'it is where Newton begins: from any start he ends at the same quantile'
const SAME_ROUTE = 'both routes give the same probability, each to the last digits: the edge between them is one of speed'
const WHOLE = 'letters and findings are counted in whole numbers'
const OUTSIDE = 'it is told of a humidity outside the window alone, and that is off by more or less than 0'
const ALWAYS_THERE = 'there is a range wherever no step lies inside it'

// biome-ignore-start lint/suspicious/noTemplateCurlyInString: these are lines of code as they stand.
export const EQUIVALENT: readonly Equivalent[] = [
  {
    file: 'calc/colour.ts',
    was: 'return [Math.hypot(a, b), hue < 0 ? hue + 360 : hue]',
    now: 'return [Math.hypot(a, b), hue <= 0 ? hue + 360 : hue]',
    why: 'a hue of 360 gives the difference and the mean that a hue of 0 gives',
  },
  {
    file: 'calc/advance.ts',
    was: "return finished('nozzlePitch', evenNozzles === undefined ? plan : { ...plan, evenNozzles })",
    now: "return finished('nozzlePitch', ({ ...plan, evenNozzles }))",
    why: 'nothing tells a key that is undefined from one that is not there',
  },
  {
    file: 'calc/feed-key-in.ts',
    was: "? `no whole number of the printer's steps lies between ${percent(range?.[0] ?? 0)} and ${percent(range?.[1] ?? 0)}`",
    now: "? `no whole number of the printer's steps lies between ${percent(range?.[0] ?? 0)} and ${percent(range?.[1])}`",
    why: ALWAYS_THERE,
  },
  {
    file: 'calc/feed-key-in.ts',
    was: "? `no whole number of the printer's steps lies between ${percent(range?.[0] ?? 0)} and ${percent(range?.[1] ?? 0)}`",
    now: "? `no whole number of the printer's steps lies between ${percent(range?.[0] ?? 1)} and ${percent(range?.[1] ?? 0)}`",
    why: ALWAYS_THERE,
  },
  {
    file: 'calc/student-t.ts',
    was: 'q > 0.25 ? 0.5 : Math.max(0.5, Math.exp((Math.log(gamma / q) + ((nu - 1) / 2) * Math.log(nu)) / nu))',
    now: 'q > 0.25 ? 0.5 : Math.max(0.5, Math.exp((Math.log(gamma / q) + ((nu - 1) / 2) * Math.log(nu)) * nu))',
    why: START,
  },
  {
    file: 'calc/student-t.ts',
    was: 'if (x >= (a + 1) / (a + 2.5)) {',
    now: 'if (x >= (a + 2) / (a + 2.5)) {',
    why: SAME_ROUTE,
  },
  {
    file: 'calc/student-t.ts',
    was: 'if (nu === 1) return q > 0.25 ? Math.tan(Math.PI * (0.5 - q)) : 1 / Math.tan(Math.PI * q)',
    now: 'if (false) return q > 0.25 ? Math.tan(Math.PI * (0.5 - q)) : 1 / Math.tan(Math.PI * q)',
    why: 'the closed form is the same value, sooner',
  },
  {
    file: 'calc/student-t.ts',
    was: 'const g4 = ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945) / 92160',
    now: 'const g4 = ((((79 * s + 776) * s + 1482) * s + 1920) * s - 945) / 92160',
    why: 'below 3,000 degrees of freedom it is where Newton begins; above, what changes is less than 1e-13',
  },
  {
    file: 'calc/student-t.ts',
    was: 'return newton(q, nu, gamma, Math.max(start, 1e-8))',
    now: 'return newton(q, nu, gamma, Math.min(start, 1e-8))',
    why: START,
  },
  {
    file: 'calc/student-t.ts',
    was: 'const central = q > 0.25',
    now: 'const central = q > 0.2525',
    why: SAME_ROUTE,
  },
  {
    file: 'calc/student-t.ts',
    was: 'if (Math.abs(d * c - 1) < 1e-16) break',
    now: 'if (Math.abs(d * c - 2) < 1e-16) break',
    why: 'the fraction has settled, and further terms multiply by one to the last digits: time is lost',
  },
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
