'use client';
import { type Remote, wrap } from 'comlink';
import { type Problem, type Result, remembered } from '../../lib/base/index.ts';
import type { Shape } from '../../lib/marks/index.ts';
import {
  type Grid,
  judgeMeasure,
  type MarkMeasured,
  measureMark,
  type PhotoMeasure,
  type PhotoScene,
  type Placed,
} from '../../lib/photo/index.ts';
import type { Gauge } from './measuring.worker.ts';

interface Started {
  readonly gauge: Remote<Gauge>;
  /** Rejects when the worker cannot run. */
  readonly broken: Promise<never>;
}

let worker: Started | null = null;

/** The worker that measures, so that the screen never waits for it; started when it is first needed. */
function started(): Started {
  if (worker !== null) return worker;
  const made = new Worker(new URL('./measuring.worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_, reject) => {
    made.addEventListener('error', (event) => reject(new Error(event.message)));
  });
  broken.catch(() => undefined);
  worker = { gauge: wrap<Gauge>(made), broken };
  return worker;
}

/** The answer of the worker; rejects when it cannot give one. */
function fromWorker<T>(ask: (gauge: Remote<Gauge>) => Promise<T>): Promise<T> {
  const { gauge, broken } = started();
  return Promise.race([ask(gauge), broken]);
}

let numbers = 0;

/** A number for an object, the same each time. */
const numberOf = remembered((_: object) => {
  numbers += 1;
  return numbers;
});

/** Names a scene by its parts: records are read once, so the same parts are the same objects. */
function nameOf({ scale, camera, surface, section }: PhotoScene): string {
  return [scale, camera, surface, section].map((one) => (one === null ? 0 : numberOf(one))).join('-');
}

const known = new WeakMap<Shape, Map<string, MarkMeasured>>();
const asked = new WeakMap<Shape, Map<string, Promise<MarkMeasured>>>();

function kept<T>(all: WeakMap<Shape, Map<string, T>>, shape: Shape): Map<string, T> {
  const ofShape = all.get(shape) ?? new Map<string, T>();
  all.set(shape, ofShape);
  return ofShape;
}

const keyOf = (scene: PhotoScene, { slot, zone }: Placed) => `${nameOf(scene)}|${slot}|${zone}`;

/** What was measured of a mark before; undefined when it was not. */
export function knownMeasure(scene: PhotoScene, placed: Placed): MarkMeasured | undefined {
  return known.get(placed.shape)?.get(keyOf(scene, placed));
}

/** Measures a mark in the worker, once; without a worker, here. */
export function measureFar(scene: PhotoScene, placed: Placed): Promise<MarkMeasured> {
  const pending = kept(asked, placed.shape);
  const key = keyOf(scene, placed);
  const before = pending.get(key);
  if (before !== undefined) return before;
  const { shape, slot, zone } = placed;
  const measured = fromWorker((gauge) => gauge.measure(nameOf(scene), scene, { shape, slot, zone }))
    .catch(() => measureMark(scene, placed))
    .then((one) => {
      kept(known, shape).set(key, one);
      return one;
    });
  pending.set(key, measured);
  return measured;
}

/** The measuring grid on the surface of a mark, round points and the reference, from the worker. */
export async function gridFar(
  scene: PhotoScene,
  { shape, slot, zone }: Placed,
  points: readonly (readonly [number, number])[],
): Promise<Grid | null> {
  return await fromWorker((gauge) => gauge.grid(nameOf(scene), scene, { shape, slot, zone }, points));
}

/** The size of a mark from what was measured before; taken here where it was not. */
export function sizeKnown(scene: PhotoScene, placed: Placed): Result<PhotoMeasure, Problem> {
  const { size } = knownMeasure(scene, placed) ?? measureMark(scene, placed);
  return size.ok ? judgeMeasure(size.value, placed.near ?? null) : size;
}
