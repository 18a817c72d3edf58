import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type Mm, toMm } from '../units/index.ts';

/** Nominal rim diameter codes of earthmover rims (ISO 4250-3 lists them with the specified diameters). */
export const DIAMETER_CODES = [24, 25, 29, 33, 35, 39, 43, 45, 49, 51, 57, 63] as const;

/** A size designation that was understood; missing parts were not in the text. */
export interface SizeDesignation {
  readonly text: string;
  /** Nominal diameter code, inches. */
  readonly diameterCode?: number;
  /**
   * Specified diameter in mm = code × 25.4 for 5° full-taper rims (from memory of ISO 4250-3); not given for
   * code 24, whose rims are of other contours with other diameters.
   */
  readonly specifiedDiameterMm?: Mm;
  readonly widthIn: number;
  readonly widthMm: Mm;
  readonly flangeHeightIn?: number;
  readonly flangeHeightMm?: Mm;
  readonly flangeWidthIn?: number;
}

/** Between diameter and width: a hyphen (also a non-breaking one), a minus sign, an en or em dash, a cross. */
const BETWEEN = String.raw`\s*[-‐‑–—−x×]\s*`;
const NUMBER = String.raw`(\d{1,2}(?:\.\d{1,2})?)`;
const FORM = new RegExp(
  String.raw`^(?:(\d{2})${BETWEEN})?${NUMBER}(?:\s*\/\s*${NUMBER})?(?:\s*\[\s*${NUMBER}\s*\])?(?:${BETWEEN}(\d{2}))?$`,
);

/**
 * Reads `diameter-width/flange height [flange width]`, all in inches: "25-22.00/3.0", "49-17.00/3.5",
 * "44.00/5.0 [6.0]" (width, flange height, flange width; no diameter), and the diameter written last ("22.00/3.0-25").
 * Any hyphen, dash or minus sign stands between diameter and width, and a cross.
 * Pattern as used in tyre data books; pattern with leading diameter from memory.
 * Fails with a problem when the text has another form; the caller keeps the text and shows it as not understood.
 */
export function parseDesignation(text: string): Result<SizeDesignation, Problem> {
  const match = FORM.exec(text.trim().replace(/,/g, '.').replace(/["″]/g, ''));
  const notUnderstood = (message: string) =>
    fail(
      problem(
        'designation',
        'designation',
        text,
        message,
        'Write it as stamped, such as 25-22.00/3.0; it is kept as text until then.',
      ),
    );
  if (match === null) return notUnderstood('This size designation is not understood');
  const [, before, width, flangeHeight, flangeWidth, after] = match;
  if (before !== undefined && after !== undefined) return notUnderstood('The diameter stands in it twice');
  const diameter = before ?? after;
  if (diameter === undefined && flangeHeight === undefined) return notUnderstood('A width alone is no size');
  const diameterCode = diameter === undefined ? undefined : Number(diameter);
  if (diameterCode !== undefined && !DIAMETER_CODES.some((code) => code === diameterCode)) {
    return notUnderstood(
      `${diameterCode} is no diameter code of earthmover rims (${DIAMETER_CODES.join(', ')})`,
    );
  }
  const widthIn = Number(width);
  if (widthIn < 5) return notUnderstood('A rim width below 5 inches does not occur');
  const inches = (part: string | undefined) => (part === undefined ? undefined : Number(part));
  const flangeHeightIn = inches(flangeHeight);
  const flangeWidthIn = inches(flangeWidth);
  return ok({
    text,
    widthIn,
    widthMm: toMm(widthIn, 'in'),
    ...(diameterCode === undefined ? {} : { diameterCode }),
    ...(diameterCode === undefined || diameterCode === 24
      ? {}
      : { specifiedDiameterMm: toMm(diameterCode, 'in') }),
    ...(flangeHeightIn === undefined ? {} : { flangeHeightIn, flangeHeightMm: toMm(flangeHeightIn, 'in') }),
    ...(flangeWidthIn === undefined ? {} : { flangeWidthIn }),
  });
}
