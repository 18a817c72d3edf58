import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { FiguresNear } from '../record/index.ts';
import { judgeQuality, type QualityJudgement } from './judgeQuality.ts';
import type { SizeTaken } from './sizing.ts';

/** A size with how well the photo shows it, worst first; none of the judgements refuses. */
export type PhotoMeasure = SizeTaken & { readonly quality: readonly QualityJudgement[] };

/**
 * Judges what a size was taken from, against `QUALITY_LIMITS`. A figure beyond its last limit refuses the size and says
 * what to do; the mark stays, as something seen whose size is not measured.
 */
export function judgeMeasure(size: SizeTaken, near: FiguresNear | null): Result<PhotoMeasure, Problem> {
  const { mmPerPx, obliquityDegrees, fromReferenceMm, distanceMm } = size;
  const judged = judgeQuality({
    near,
    mmPerPx,
    obliquityDegrees,
    referenceShare: fromReferenceMm / distanceMm,
    markerPx: null,
  });
  if (!judged.ok) return judged;
  const [worst] = judged.value;
  return worst?.level === 'refuse'
    ? fail(problem('measure-quality', worst.figure, worst.value, worst.words, worst.wayOut))
    : ok({ ...size, quality: judged.value });
}
