export {
  DERIVATIVE_WIDTHS,
  type Derivatives,
  type DerivativeWidth,
  type DeriveOptions,
  type ReadPhoto,
  readPhoto,
} from './derive.ts';
export { greyPicture } from './grey.ts';
export { type InspectedPhoto, inspectPhoto, type PhotoFacts } from './inspect.ts';
export { PHOTO_UNDECIDED } from './undecided.ts';
