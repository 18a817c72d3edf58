import { expose } from 'comlink';
import {
  type Grid,
  gridOf,
  type MarkMeasured,
  measureMark,
  type PhotoScene,
  type Placed,
  photoRuler,
} from '../../lib/photo/index.ts';

/** Scenes by the name the page gives them: what was located for one is found again by its objects. */
const scenes = new Map<string, PhotoScene>();
const SCENES_KEPT = 12;

function sceneNamed(name: string, scene: PhotoScene): PhotoScene {
  const known = scenes.get(name);
  if (known !== undefined) return known;
  if (scenes.size >= SCENES_KEPT) scenes.delete([...scenes.keys()][0] ?? '');
  scenes.set(name, scene);
  return scene;
}

const gauge = {
  async measure(name: string, scene: PhotoScene, placed: Placed): Promise<MarkMeasured> {
    return measureMark(sceneNamed(name, scene), placed);
  },
  /** The measuring grid round points and the reference; null where there is none. */
  async grid(
    name: string,
    scene: PhotoScene,
    placed: Placed,
    points: readonly (readonly [number, number])[],
  ): Promise<Grid | null> {
    const ruler = photoRuler(sceneNamed(name, scene));
    return ruler.ok ? gridOf(ruler.value, placed, [...points, ...ruler.value.reference.pointsPx]) : null;
  },
};
export type Gauge = typeof gauge;

expose(gauge);
