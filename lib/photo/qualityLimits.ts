/** What the quality of a photo is judged by. */
export type QualityFigure =
  | 'mm per pixel'
  | 'obliquity'
  | 'focus'
  | 'highlights'
  | 'shadows'
  | 'too dark'
  | 'too bright'
  | 'distance from reference'
  | 'marker size';

/** A limit that warns and one that refuses a measurement (never the photo); the limit itself still belongs to the better side. */
export interface QualityLimit {
  readonly worse: 'above' | 'below';
  readonly warn: number;
  readonly refuse: number;
  readonly unit: string;
}

/**
 * All limits of photo quality. None comes from a standard: each is our own choice for the reason given, to be corrected
 * by trials on real rims. Where figures of pictures are meant, they were set on the rendered pictures
 * (tests/photo/qualityPictures.test.ts), sound and spoiled.
 */
export const QUALITY_LIMITS: Readonly<Record<QualityFigure, QualityLimit>> = {
  // Two picks of 1.5 px each are 0.5 mm at 0.25 mm/px, a hairline crack of 0.2 mm is below one pixel; at 0.6 mm/px the
  // picks alone make U = 2.5 mm, as much as the wear that is looked for.
  'mm per pixel': { worse: 'above', warn: 0.25, refuse: 0.6, unit: 'mm/px' },
  // Across the lean a pixel covers 1/cos as much: 1.6 times at 50°, 2.9 times at 70°, where a degree of error in the
  // pose is 5 % of a length (tan 70° per radian).
  obliquity: { worse: 'above', warn: 50, refuse: 70, unit: 'degrees' },
  // Blur of the sharpest edges. The sound rendered pictures have 0.2 to 0.8 px near the mark, blurred by 2 px 1.1 to
  // 2.0, by 4 px 1.7 to 3.0. At 1.6 px a crack of less than 3 px has lost half of its depth.
  focus: { worse: 'above', warn: 0.95, refuse: 1.6, unit: 'px' },
  // Share of pixels at 255 near the mark: nothing can be seen in them. A glint of a percent hides an end of a crack;
  // with a seventh of the neighbourhood gone its course is guesswork. The sound pictures all stay below a percent.
  highlights: { worse: 'above', warn: 0.01, refuse: 0.15, unit: 'share' },
  // Share at 0 near the mark. The inside of an open crack may be black, so that some is allowed.
  shadows: { worse: 'above', warn: 0.05, refuse: 0.3, unit: 'share' },
  // Mean value near the mark. 45 of 255 is 2.6 % of full light, where noise and compression eat fine lines; 18 is
  // 0.6 %. The sound pictures all lie above 45.
  'too dark': { worse: 'below', warn: 45, refuse: 18, unit: 'of 255' },
  // 205 of 255 is 61 % of full light: the bright half of the texture begins to clip; at 240 little is left.
  'too bright': { worse: 'above', warn: 205, refuse: 240, unit: 'of 255' },
  // Way from the reference to the mark over the distance of the camera. An error in the lean of the reference makes the
  // scale wrong in proportion to it: half a degree is 0.4 % at 0.5 and 0.9 % at 1, on top of what the pose tells itself.
  'distance from reference': { worse: 'above', warn: 0.5, refuse: 1, unit: 'share' },
  // Side of a marker of 6 × 6 cells: below 3 px a cell it is not read surely, below 8 px a cell its corners are not
  // found to a tenth of a pixel.
  'marker size': { worse: 'below', warn: 48, refuse: 18, unit: 'px' },
};
