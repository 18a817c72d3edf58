import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

/** Refuses a length that is not a positive number of mm. */
function positive(field: string, value: number): Problem | null {
  return Number.isFinite(value) && value > 0
    ? null
    : problem('chord-value', field, value, 'A length is a number above 0 mm', 'Give it in millimetres.');
}

const tooLong = (field: string, value: number, what: string) =>
  problem('chord-too-long', field, value, what, 'Measure a shorter piece, or check the radius.');

/**
 * Arc over a chord on a round part, mm: s = 2R·asin(c/2R) (circle geometry). The arc is the shorter one, at most πR.
 * Refuses a chord longer than the diameter, and lengths that are not above 0.
 */
export function arcOfChord(chordMm: number, radiusMm: number): Result<number, Problem> {
  const wrong = positive('chordMm', chordMm) ?? positive('radiusMm', radiusMm);
  if (wrong !== null) return fail(wrong);
  if (chordMm > 2 * radiusMm) {
    return fail(
      tooLong('chordMm', chordMm, `A chord cannot be longer than the diameter of ${2 * radiusMm} mm`),
    );
  }
  return ok(2 * radiusMm * Math.asin(chordMm / (2 * radiusMm)));
}

/**
 * Chord under an arc, mm: c = 2R·sin(s/2R), the inverse of `arcOfChord`. Refuses an arc of more than half the circle,
 * because a chord does not tell it from the rest of the circle.
 */
export function chordOfArc(arcMm: number, radiusMm: number): Result<number, Problem> {
  const wrong = positive('arcMm', arcMm) ?? positive('radiusMm', radiusMm);
  if (wrong !== null) return fail(wrong);
  if (arcMm > Math.PI * radiusMm) {
    return fail(
      tooLong(
        'arcMm',
        arcMm,
        `An arc of more than half the circle (${Math.PI * radiusMm} mm) has no one chord`,
      ),
    );
  }
  return ok(2 * radiusMm * Math.sin(arcMm / (2 * radiusMm)));
}

/** How far the circle rises over the middle of a chord, mm: h = R − √(R² − c²/4). Refuses as `arcOfChord` does. */
export function sagittaOfChord(chordMm: number, radiusMm: number): Result<number, Problem> {
  const arc = arcOfChord(chordMm, radiusMm);
  if (!arc.ok) return arc;
  // The same as R − √(R² − c²/4), written so that nothing cancels where the chord is short.
  return ok(2 * radiusMm * Math.sin(arc.value / (4 * radiusMm)) ** 2);
}

/** Radius of the circle through a chord and its sagitta, mm: R = c²/(8h) + h/2. Refuses lengths that are not above 0. */
export function radiusOfSagitta(chordMm: number, sagittaMm: number): Result<number, Problem> {
  const wrong = positive('chordMm', chordMm) ?? positive('sagittaMm', sagittaMm);
  return wrong === null ? ok(chordMm ** 2 / (8 * sagittaMm) + sagittaMm / 2) : fail(wrong);
}

/**
 * Share by which a length is wrong when what is measured lies `shiftMm` nearer to the camera than what gives the scale,
 * which is `distanceMm` away: δZ/Z (Sutton and others, Optics and Lasers in Engineering 46, 2008). Positive: read too
 * long. Refuses a distance that is not above 0 and a shift that is not a number.
 */
export function scaleErrorOfShift(shiftMm: number, distanceMm: number): Result<number, Problem> {
  const wrong = positive('distanceMm', distanceMm);
  if (wrong !== null) return fail(wrong);
  return Number.isFinite(shiftMm)
    ? ok(shiftMm / distanceMm)
    : fail(
        problem('chord-value', 'shiftMm', shiftMm, 'A shift is a number of mm', 'Give it in millimetres.'),
      );
}

/**
 * Share of a length that is lost along the direction in which a surface leans, where nothing corrects it: 1 − cos of
 * the angle between the line of sight and square to the surface. 0 to 90 degrees, refused outside.
 */
export function foreshorteningShare(obliquityDegrees: number): Result<number, Problem> {
  return obliquityDegrees >= 0 && obliquityDegrees <= 90
    ? ok(2 * Math.sin((obliquityDegrees * Math.PI) / 360) ** 2)
    : fail(
        problem(
          'chord-angle',
          'obliquityDegrees',
          obliquityDegrees,
          'A surface is seen at 0 to 90 degrees',
          'Give the angle between the line of sight and square to the surface.',
        ),
      );
}

/** A straight length between two picked points on a picture with one scale. */
export interface PickedLength {
  readonly lengthPx: number;
  readonly mmPerPx: number;
  /** Standard uncertainty of each end along the length, px; half a width divided by √3 where it is rectangular. */
  readonly pickUPx: number;
  /** Relative standard uncertainty of the scale. */
  readonly scaleShareU: number;
}

/**
 * Length in mm with its standard uncertainty: both ends and the scale, independent, added in squares
 * (JCGM 100:2008, 5.1.2). Lengths above 0, uncertainties 0 or more, refused otherwise. A plain check of what
 * `measureShape` says where the picture is square to a flat part.
 */
export function uOfPickedLength(
  picked: PickedLength,
): Result<{ lengthMm: number; pickUMm: number; scaleUMm: number; uMm: number }, Problem> {
  const { lengthPx, mmPerPx, pickUPx, scaleShareU } = picked;
  const wrong = positive('lengthPx', lengthPx) ?? positive('mmPerPx', mmPerPx);
  if (wrong !== null) return fail(wrong);
  for (const [field, value] of [
    ['pickUPx', pickUPx],
    ['scaleShareU', scaleShareU],
  ] as const) {
    if (!(Number.isFinite(value) && value >= 0)) {
      return fail(
        problem(
          'chord-u',
          field,
          value,
          'An uncertainty is a number from 0 up',
          'Give one standard deviation.',
        ),
      );
    }
  }
  const lengthMm = lengthPx * mmPerPx;
  const pickUMm = Math.SQRT2 * pickUPx * mmPerPx;
  const scaleUMm = scaleShareU * lengthMm;
  return ok({ lengthMm, pickUMm, scaleUMm, uMm: Math.hypot(pickUMm, scaleUMm) });
}
