/** Every two of a list, the one that stands before the other first. */
export function pairsOf<T>(list: readonly T[]): [T, T][] {
  return list.flatMap((b, index) => list.slice(0, index).map((a): [T, T] => [a, b]));
}
