import { type Problem, problem } from '../../base/index.ts';

/** Code of the problem of a photo whose decoder came to no end: nothing is known about its bytes. */
export const PHOTO_UNDECIDED = 'photo-undecided';

/** The problem of a photo that could not be judged now; `why` is the decoder's word. Never a reason to refuse it. */
export function photoUndecidedProblem(why: string): Problem {
  return problem(
    PHOTO_UNDECIDED,
    'photo',
    why,
    'The photo could not be looked at just now',
    'It is sent again later; if that does not help, set the camera to JPEG.',
  );
}
