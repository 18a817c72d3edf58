import type { Camera } from './camera.ts';
import type { Development } from './picture.ts';
import type { Scene } from './scene.ts';

/** One picture to be made, and what is true of it. */
export interface Shot {
  /** File name without its ending. */
  readonly name: string;
  readonly component: string;
  readonly zone: string;
  readonly shows: string;
  readonly scene: Scene;
  readonly camera: Camera;
  readonly development: Development;
  /** EXIF orientation of the stored picture. */
  readonly orientation: 1 | 3 | 6 | 8;
  /** Local time that the invented camera wrote, as in EXIF. */
  readonly takenAt: string;
  /** Index of the part that carries the cracks and patches whose truth is told. */
  readonly subject: number;
}
