/** The part of jStat that the tests use; the package comes without types. */
declare module 'jstat' {
  interface Distribution {
    cdf(value: number, ...parameters: number[]): number;
    inv(probability: number, ...parameters: number[]): number;
  }
  interface CountDistribution {
    cdf(count: number, ...parameters: number[]): number;
    pdf(count: number, ...parameters: number[]): number;
  }
  const jstat: {
    chisquare: Distribution;
    studentt: Distribution;
    normal: Distribution;
    beta: Distribution;
    centralF: Distribution;
    poisson: CountDistribution;
    binomial: CountDistribution;
    mean(values: readonly number[]): number;
    /** With n - 1 where `sample` is true. */
    stdev(values: readonly number[], sample: boolean): number;
    gammaln(x: number): number;
    lowRegGamma(shape: number, x: number): number;
    ibeta(x: number, a: number, b: number): number;
    /** F of the one-way analysis of variance. */
    anovafscore(groups: readonly (readonly number[])[]): number;
  };
  export default jstat;
}
