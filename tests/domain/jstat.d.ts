/** The part of jStat that the tests use; the package comes without types. */
declare module 'jstat' {
  interface Distribution {
    cdf(value: number, ...parameters: number[]): number;
    inv(probability: number, ...parameters: number[]): number;
  }
  const jstat: { chisquare: Distribution };
  export default jstat;
}
