/**
 * Correlation of two lists of values of the same length, −1 to 1: what the enhanced correlation coefficient is for two
 * pictures (Evangelidis & Psarakis 2008). Not changed by gain and offset; 0 where one of them does not vary.
 */
export function correlation(first: ArrayLike<number>, second: ArrayLike<number>): number {
  const count = Math.min(first.length, second.length);
  let [sumA, sumB] = [0, 0];
  for (let i = 0; i < count; i += 1) {
    sumA += first[i] ?? 0;
    sumB += second[i] ?? 0;
  }
  const [meanA, meanB] = [sumA / count, sumB / count];
  let [both, a2, b2] = [0, 0, 0];
  for (let i = 0; i < count; i += 1) {
    const [a, b] = [(first[i] ?? 0) - meanA, (second[i] ?? 0) - meanB];
    both += a * b;
    a2 += a * a;
    b2 += b * b;
  }
  return a2 > 0 && b2 > 0 ? both / Math.sqrt(a2 * b2) : 0;
}
