/** Arithmetic mean; NaN for no values. */
export function mean(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
}
