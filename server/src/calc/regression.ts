// Straight lines through points: with and without an intercept, with the uncertainty of the line and of the next point on it.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { upperQuantile } from './student-t.ts'

interface Points {
  readonly x: readonly number[]
  readonly y: readonly number[]
}

/** A least-squares line y = intercept + slope·x. Units: those of y, and of y per x. */
export interface Line {
  /** Points on this line itself; its slope may rest on those of other groups too. */
  readonly n: number
  readonly intercept: number
  readonly slope: number
  /** Standard uncertainties from the scatter about the line, with `nu` degrees of freedom. */
  readonly uIntercept: number
  readonly uSlope: number
  /** Correlation of intercept and slope; forgetting it makes predictions wrong by far. */
  readonly correlation: number
  /** Standard deviation of the points about the line. */
  readonly residualSd: number
  /** n − 2, or what is left of all groups' points after a level for each and the slope. */
  readonly nu: number
  /** Share of the variation of y that the line explains; says nothing about whether the slope is real. */
  readonly rSquared: number
  readonly xMean: number
  readonly yMean: number
  /** Root of the sum of squared deviations of x from its mean (that of its group), in the unit of x. */
  readonly xSpread: number
}

/**
 * Lines of one slope through several groups of points, each with a level of its own (analysis of covariance): the slope within the groups, which no
 * step from one group to the next can feign. Gives the line of the group of `of`, with n − groups − 1 degrees of freedom; a group of one point has a
 * level and says nothing of the slope. With one group it is the plain least-squares line, the scatter all in y and the same everywhere.
 *
 * Deviations are taken from the means, so that dates in seconds lose no digits: the NIST StRD Norris values come out to 1e-12.
 * Source: Frisch and Waugh (1933): the common slope is that of the deviations from the groups' means; NIST/SEMATECH e-Handbook 4.1.4.1; GUM H.3. Refuses
 * fewer than three points, lists of different length, a value that is not finite, points of a group all at the same x where no other group has a slope,
 * no point in the group of `of`, and as many levels as leave no degree of freedom.
 */
export function fitParallelLines({ x, y, group, of }: Points & { group: readonly string[]; of: string }): Outcome<Line> {
  const problem = faultIn(x, y, 3)
  if (problem) return problem
  const groups = new Map<string, number[]>([[of, []]])
  for (let i = 0; i < group.length; i++) {
    const places = groups.get(group[i]!)
    if (places) places.push(i)
    else groups.set(group[i]!, [i])
  }
  return fitGroups(x, y, [...groups.values()])
}

/** The common slope of groups of points, given by their places in the lists, and the line of the first group. */
function fitGroups(x: readonly number[], y: readonly number[], groups: readonly (readonly number[])[]): Outcome<Line> {
  const nu = x.length - groups.length - 1
  if (groups.some((places) => places.length === 0)) return refuse('x', 'there is no point in one of the groups')
  if (nu < 1) return refuse('x', 'there are too few points for so many groups')
  const means = groups.map((places) => [meanOf(places.map((i) => x[i]!)), meanOf(places.map((i) => y[i]!))] as const)
  const deviations = groups.flatMap((places, g) => places.map((i) => [x[i]! - means[g]![0], y[i]! - means[g]![1]] as const))
  const xSize = largestDeviation(
    deviations.map(([dx]) => dx),
    0,
  )
  const ySize =
    largestDeviation(
      deviations.map(([, dy]) => dy),
      0,
    ) || 1
  if (!(xSize > 0)) return refuse('x', 'all points lie at the same x: no slope can be seen')
  let sxx = 0
  let sxy = 0
  let syy = 0
  for (const [ofX, ofY] of deviations) {
    const [dx, dy] = [ofX / xSize, ofY / ySize]
    sxx += dx * dx
    sxy += dx * dy
    syy += dy * dy
  }
  const b = sxy / sxx
  let sse = 0
  for (const [ofX, ofY] of deviations) sse += (ofY / ySize - (b * ofX) / xSize) ** 2
  const [xMean, yMean] = means[0]!
  const n = groups[0]!.length
  const residualSd = ySize * Math.sqrt(sse / nu)
  const xSpread = xSize * Math.sqrt(sxx)
  const slope = b * (ySize / xSize)
  const meanShare = Math.hypot(1 / Math.sqrt(n), xMean / xSpread)
  return finite({
    n,
    intercept: yMean - slope * xMean,
    slope,
    uIntercept: residualSd * meanShare,
    uSlope: residualSd / xSpread,
    correlation: -(xMean / xSpread) / meanShare,
    residualSd,
    nu,
    rSquared: syy > 0 ? Math.max(0, 1 - sse / syy) : 1,
    xMean,
    yMean,
    xSpread,
  })
}

export interface Prediction {
  readonly y: number
  /** Standard uncertainty of the line at x. */
  readonly uLine: number
  /** Standard uncertainty of the next single point at x: the line's, and the scatter of a point about it. */
  readonly uNext: number
  /** Coverage factor t at the line's degrees of freedom. */
  readonly k: number
  /** Half-width of the confidence interval of the line, k·uLine. */
  readonly lineInterval: number
  /** Half-width of the prediction interval of the next point, k·uNext: the one to hold a tolerance against. */
  readonly nextInterval: number
}

/**
 * What a line says at `x`: its value, how well the line is known there, and where the next point will fall.
 * The next print is a point, not the line: hold a tolerance against `nextInterval`. `coverage` 0.95 unless given.
 * Source: NIST/SEMATECH e-Handbook 4.5.1; GUM H.3.4 (uLine). Refuses an x that is not finite and coverage outside ]0, 1[.
 */
export function predict({ line, x, coverage = 0.95 }: { line: Line; x: number; coverage?: number }): Outcome<Prediction> {
  const problem = firstProblem({ x })
  if (problem) return { ok: false, problem }
  if (!(coverage > 0 && coverage < 1)) return refuse('coverage', 'the coverage probability lies between 0 and 1, both excluded')
  const away = x - line.xMean
  const share = Math.hypot(1 / Math.sqrt(line.n), away / line.xSpread)
  const k = upperQuantile((1 - coverage) / 2, line.nu)
  const uLine = line.residualSd * share
  const uNext = line.residualSd * Math.hypot(1, share)
  return finite({ y: line.yMean + line.slope * away, uLine, uNext, k, lineInterval: k * uLine, nextInterval: k * uNext })
}

/** A least-squares line through the origin, y = slope·x. */
interface Ray {
  readonly n: number
  readonly slope: number
  readonly uSlope: number
  readonly residualSd: number
  /** n − 1. */
  readonly nu: number
}

/**
 * Least-squares line through the origin, for y that is proportional to x with the same absolute error everywhere: Σxy/Σx².
 * At least two points. Source: NIST StRD NoInt1 and NoInt2. Refuses what is not finite, and points all at x = 0.
 */
export function fitThroughOrigin({ x, y }: Points): Outcome<Ray> {
  const problem = faultIn(x, y, 2)
  if (problem) return problem
  const xSize = largestDeviation(x, 0)
  const ySize = largestDeviation(y, 0) || 1
  if (!(xSize > 0)) return refuse('x', 'all points lie at zero: no slope can be seen')
  let xx = 0
  let xy = 0
  for (let i = 0; i < x.length; i++) {
    xx += (x[i]! / xSize) ** 2
    xy += (x[i]! / xSize) * (y[i]! / ySize)
  }
  const b = xy / xx
  let sse = 0
  for (let i = 0; i < x.length; i++) sse += (y[i]! / ySize - (b * x[i]!) / xSize) ** 2
  const s = Math.sqrt(sse / (x.length - 1))
  const unit = ySize / xSize
  return finite({ n: x.length, slope: b * unit, uSlope: (s / Math.sqrt(xx)) * unit, residualSd: s * ySize, nu: x.length - 1 })
}

function faultIn(x: readonly number[], y: readonly number[], least: number): Outcome<never> | undefined {
  if (x.length !== y.length) return refuse('y', `there are ${x.length} x and ${y.length} y: every point needs both`)
  if (x.length < least) return refuse('x', `a line needs at least ${least} points to have an uncertainty`)
  if (!x.every(Number.isFinite)) return refuse('x', 'one of the x is not a finite number')
  return y.every(Number.isFinite) ? undefined : refuse('y', 'one of the y is not a finite number')
}

/** Mean in two passes: the second takes up what rounding left in the first. */
function meanOf(values: readonly number[]): number {
  const rough = values.reduce((sum, v) => sum + v / values.length, 0)
  return rough + values.reduce((sum, v) => sum + (v - rough) / values.length, 0)
}

const largestDeviation = (values: readonly number[], from: number): number =>
  values.reduce((largest, v) => Math.max(largest, Math.abs(v - from)), 0)

function finite<T extends object>(result: T): Outcome<T> {
  return Object.values(result).every(Number.isFinite)
    ? ok(result)
    : refuse('x', 'the points are too far apart, or too close together, to compute with')
}
