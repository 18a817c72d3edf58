export { alignLooked, alignPhotos, type RimScenes } from './align.ts';
export { type Cv, loadCv } from './cv.ts';
export { type Looked, look } from './features.ts';
export { type FoundCard, type FoundMarker, findCards } from './findCards.ts';
