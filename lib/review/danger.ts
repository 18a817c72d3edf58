import type { Verdict } from '../rules/index.ts';

const RESULT_DANGER = { scrap: 40, repair: 20, hold: 10, keep: 0 } as const;

/**
 * Order of a waiting inspection, a whole number, larger is more dangerous: the worst result of its parts first, then
 * how many parts are that bad (up to 9), then a fitting inspector who called something milder than the verdict.
 * Our own choice; a later version adds margin, stored energy and waiting time.
 */
export function dangerOf(verdict: Verdict, calls: ReadonlyMap<string, string>): number {
  const worst = Math.max(0, ...verdict.parts.map((part) => RESULT_DANGER[part.result]));
  const worstSoFar = Math.max(
    0,
    ...verdict.parts.map((part) => (part.worst === null ? 0 : RESULT_DANGER[part.worst] - 1)),
  );
  const top = Math.max(worst, worstSoFar);
  const many = Math.min(9, verdict.parts.filter((part) => RESULT_DANGER[part.result] === worst).length);
  const milder = verdict.parts.some((part) => {
    const call = part.component === null ? undefined : calls.get(part.component);
    return call === 'keep' && part.result !== 'keep';
  });
  return top * 100 + many * 10 + (milder ? 5 : 0);
}
