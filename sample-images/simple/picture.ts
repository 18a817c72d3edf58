import sharp from 'sharp';
import { type Camera, viewOf } from './camera.ts';
import { look, type Stage, stageOf } from './light.ts';
import { add, minus, ramp, randomFrom, times, unit, type Vec } from './noise.ts';
import type { Scene } from './scene.ts';

/** How the invented camera develops what it sees. */
export interface Development {
  readonly exposure: number;
  readonly noise: number;
  readonly blurPx: number;
  readonly vignette: number;
}

function rayOf(camera: Camera, x: number, y: number): Vec {
  const { right, down, forward, focalPx } = viewOf(camera);
  const dx = (x - (camera.widthPx - 1) / 2) / focalPx;
  const dy = (y - (camera.heightPx - 1) / 2) / focalPx;
  return unit(add(forward, add(times(right, dx), times(down, dy))));
}

interface Traced {
  readonly light: Float32Array;
  readonly depthMm: Float32Array;
}

/** Traces every pixel once, then those beside a strong change four times more, so that edges are smooth. */
function traced(stage: Stage, camera: Camera): Traced {
  const { widthPx: w, heightPx: h } = camera;
  const light = new Float32Array(w * h * 3);
  const depthMm = new Float32Array(w * h);
  for (let y = 0; y < h; y += 1) {
    for (let x = 0; x < w; x += 1) {
      const seen = look(stage, camera.eye, rayOf(camera, x, y));
      light.set(seen.light, (y * w + x) * 3);
      depthMm[y * w + x] = seen.depthMm;
    }
  }
  const first = light.slice();
  const green = (x: number, y: number) => Math.sqrt(first[(y * w + x) * 3 + 1] ?? 0);
  for (let y = 1; y < h - 1; y += 1) {
    for (let x = 1; x < w - 1; x += 1) {
      const g = green(x, y);
      const change = Math.max(
        Math.abs(green(x - 1, y) - g),
        Math.abs(green(x + 1, y) - g),
        Math.abs(green(x, y - 1) - g),
        Math.abs(green(x, y + 1) - g),
      );
      if (change < 0.085) continue;
      let sum: Vec = [0, 0, 0];
      for (const [i, j] of [
        [-0.375, -0.125],
        [0.125, -0.375],
        [0.375, 0.125],
        [-0.125, 0.375],
      ] as const) {
        const seen = look(stage, camera.eye, rayOf(camera, x + i, y + j)).light;
        sum = add(sum, [Math.min(seen[0], 3), Math.min(seen[1], 3), Math.min(seen[2], 3)]);
      }
      light.set(times(sum, 0.25), (y * w + x) * 3);
    }
  }
  return { light, depthMm };
}

/** A gentle film curve, then the sRGB transfer function; 0 … 255. */
function developed(x: number): number {
  const toe = (x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14);
  const linear = Math.min(1, Math.max(0, toe));
  return 255 * (linear <= 0.0031308 ? linear * 12.92 : 1.055 * linear ** (1 / 2.4) - 0.055);
}

/** Draws a scene as upright 8-bit RGB. */
export async function draw(scene: Scene, camera: Camera, how: Development): Promise<Buffer> {
  const { widthPx: w, heightPx: h } = camera;
  const { light, depthMm } = traced(stageOf(scene), camera);
  const random = randomFrom(scene.seed);
  const pixels = Buffer.alloc(w * h * 3);
  for (let y = 0; y < h; y += 1) {
    for (let x = 0; x < w; x += 1) {
      const off = Math.hypot(x / w - 0.5, y / h - 0.5) / Math.SQRT1_2;
      const gain = how.exposure * (1 - how.vignette * off ** 2.4);
      for (let c = 0; c < 3; c += 1) {
        const k = (y * w + x) * 3 + c;
        pixels[k] = Math.round(developed((light[k] ?? 0) * gain));
      }
    }
  }
  const raw = { width: w, height: h, channels: 3 } as const;
  const soft = await sharp(pixels, { raw }).blur(how.blurPx).raw().toBuffer();
  const focusMm = Math.hypot(...minus(camera.at, camera.eye));
  for (const [share, sigma] of [
    [1.35, w / 700],
    [2.1, w / 260],
  ] as const) {
    const unsharp = await sharp(pixels, { raw }).blur(sigma).raw().toBuffer();
    for (let k = 0; k < soft.length; k += 1) {
      const out = ramp(share, share * 1.3, (depthMm[Math.floor(k / 3)] ?? 0) / focusMm);
      soft[k] = Math.round((soft[k] ?? 0) * (1 - out) + (unsharp[k] ?? 0) * out);
    }
  }
  for (let k = 0; k < soft.length; k += 3) {
    // Grain of the sensor: mostly in the brightness, a little in the colour.
    const grey = (random() + random() + random() - 1.5) * how.noise;
    for (let c = 0; c < 3; c += 1) {
      const grain = grey + (random() - 0.5) * how.noise * 0.5;
      soft[k + c] = Math.max(0, Math.min(255, Math.round((soft[k + c] ?? 0) + grain)));
    }
  }
  return soft;
}
