import type { Problem, Result } from '../../lib/base/index.ts';
import { type PhotoMeasure, type PhotoScene, type Placed, photoRuler } from '../../lib/photo/index.ts';

/** One mark on one photo, judged; for several marks of a photo make a `photoRuler` once. */
export function measureShape(placed: Placed, scene: PhotoScene): Result<PhotoMeasure, Problem> {
  const ruler = photoRuler(scene);
  return ruler.ok ? ruler.value.measure(placed) : ruler;
}
