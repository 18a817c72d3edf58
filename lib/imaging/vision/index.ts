export { type Cv, loadCv } from './cv.ts';
export { type FoundCard, type FoundMarker, findCards } from './findCards.ts';
