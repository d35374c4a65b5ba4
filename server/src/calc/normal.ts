// The normal distribution: its probabilities, good in the tails as well, and its quantiles.

/** P(Z <= z) of the standard normal, good to 1e-12 relative as far as z = -37; beyond that 0. */
export const normalCdf = (z: number): number => (z < 0 ? 0.5 * erfc(-z / Math.SQRT2) : 1 - 0.5 * erfc(z / Math.SQRT2))

/** P(|Z| > z) of the standard normal for z of zero or more: what a distance of z standard deviations is worth. */
export const normalBeyond = (z: number): number => erfc(z / Math.SQRT2)

/** P(a < Z <= b) of the standard normal; both ends in one tail lose no digits. */
export const normalBetween = (a: number, b: number): number =>
  a > 0 ? 0.5 * (erfc(a / Math.SQRT2) - erfc(b / Math.SQRT2)) : normalCdf(b) - normalCdf(a)

/** Density of the standard normal. */
export const normalDensity = (z: number): number => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)

/** The z that is not exceeded with probability p, 0 < p < 1. */
export const normalQuantile = (p: number): number => (p < 0.5 ? -normalUpperQuantile(p) : normalUpperQuantile(1 - p))

/** Complementary error function: W. J. Cody, Rational Chebyshev approximation for the error function, Math. Comp. 23 (1969) 631. For x >= 0. */
function erfc(x: number): number {
  if (x <= 0.46875) return 1 - x * ratio(x * x, nearOver, nearUnder)
  if (x > 27) return 0
  // exp(-x²) in two factors: the square of a rounded x is exact, and what is left is small.
  const rounded = Math.trunc(x * 16) / 16
  const bell = Math.exp(-rounded * rounded) * Math.exp(-(x - rounded) * (x + rounded))
  if (x <= 4) return bell * ratio(x, midOver, midUnder)
  const y = 1 / (x * x)
  return (bell / x) * (1 / Math.sqrt(Math.PI) - y * ratio(y, farOver, farUnder))
}

/** Quotient of two polynomials, coefficients from the highest power down. */
function ratio(x: number, over: readonly number[], under: readonly number[]): number {
  let a = 0
  let b = 0
  for (let i = 0; i < over.length; i++) {
    a = a * x + over[i]!
    b = b * x + under[i]!
  }
  return a / b
}

// Cody's coefficients, as the doubles nearest to them.
const nearOver = [0.18577770618460315, 3.1611237438705655, 113.86415415105016, 377.485237685302, 3209.3775891384694]
const nearUnder = [1, 23.601290952344122, 244.02463793444417, 1282.6165260773723, 2844.236833439171]
const midOver = [
  2.1531153547440383e-8, 0.5641884969886701, 8.883149794388377, 66.11919063714163, 298.6351381974001, 881.952221241769,
  1712.0476126340707, 2051.0783778260716, 1230.3393547979972,
]
const midUnder = [
  1, 15.744926110709835, 117.6939508913125, 537.1811018620099, 1621.3895745666903, 3290.7992357334597, 4362.619090143247,
  3439.3676741437216, 1230.3393548037495,
]
const farOver = [
  0.016315387137302097, 0.30532663496123236, 0.36034489994980445, 0.12578172611122926, 0.016083785148742275,
  0.0006587491615298378,
]
const farUnder = [1, 2.568520192289822, 1.8729528499234673, 0.5279051029514285, 0.06051834131244132, 0.0023352049762686918]

/** Upper quantile of the normal distribution, to 1e-16 relative: Wichura, algorithm AS 241 (Applied Statistics 37, 1988), PPND16. For 0 < q <= 0.5. */
export function normalUpperQuantile(q: number): number {
  const middle = 0.5 - q
  if (middle <= 0.425) return middle * rational(0.180625 - middle * middle, nearA, nearB)
  const r = Math.sqrt(-Math.log(q))
  return r <= 5 ? rational(r - 1.6, farA, farB) : rational(r - 5, tailA, tailB)
}

const rational = (x: number, above: readonly number[], below: readonly number[]): number =>
  polynomial(x, above) / polynomial(x, below)
const polynomial = (x: number, coefficients: readonly number[]): number => coefficients.reduceRight((sum, c) => sum * x + c, 0)

// The published coefficients, as the doubles nearest to them.
const nearA = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
  33430.57558358813, 2509.0809287301227,
]
const nearB = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
  5226.495278852546,
]
const farA = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
  0.022723844989269184, 0.0007745450142783414,
]
const farB = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457, 0.0005475938084995345,
  1.0507500716444169e-9,
]
const tailA = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124, 0.0012426609473880784,
  0.000027115555687434876, 2.0103343992922881e-7,
]
const tailB = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 0.000018463183175100548,
  1.421511758316446e-7, 2.0442631033899397e-15,
]
