// jstat ships no types: the part of it that the statistics tests compare with.
declare module 'jstat' {
  interface Ols {
    readonly coef: number[]
    readonly R2: number
    readonly t: { readonly se: number[]; readonly sigmaHat: number }
  }
  const jstat: {
    readonly studentt: { inv(p: number, dof: number): number }
    readonly models: { ols(y: number[], x: number[][]): Ols }
  }
  export default jstat
}
