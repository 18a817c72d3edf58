/** How many steps the shade of counts has, beside none. */
export const HEAT_STEPS = 5;

/** The step of a count on a scale up to the largest: 0 for none, else 1 to `HEAT_STEPS`, each a like share of the largest. */
export function heatOf(count: number, largest: number): number {
  return count <= 0 || largest <= 0 ? 0 : Math.min(HEAT_STEPS, Math.ceil((HEAT_STEPS * count) / largest));
}

/** The counts that each step stands for, in words, from none upwards; steps that no whole count falls on are left out. */
export function heatKey(largest: number): readonly { readonly step: number; readonly words: string }[] {
  const counts = Array.from({ length: largest + 1 }, (_, count) => count);
  return Array.from({ length: HEAT_STEPS + 1 }, (_, step) => {
    const own = counts.filter((count) => heatOf(count, largest) === step);
    const [first, last] = [own[0], own.at(-1)];
    return { step, words: first === undefined ? '' : first === last ? `${first}` : `${first} to ${last}` };
  }).filter(({ words }) => words !== '');
}
