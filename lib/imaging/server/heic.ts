import { createRequire } from 'node:module';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { fail, ok, type Problem, type Result } from '../../base/index.ts';
import { photoDamagedProblem, photoPixelsProblem } from '../../photo/index.ts';
import { photoUndecidedProblem } from './undecided.ts';

/** An upright picture as red, green, blue, alpha bytes. */
export interface DecodedPicture {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8Array;
}

const DECODE_MS_MAX = 60_000;

/*
 * HEVC-coded pictures are decoded by libheif (with libde265), licensed LGPL-3.0, as the separate package
 * libheif-js: it is loaded only when such a picture arrives, unchanged, and may be replaced in node_modules.
 * It computes for seconds, so it runs in a thread of its own that ends with the picture. The thread's program
 * is text, since a bundler would otherwise have to find and ship a second entry file.
 */
const THREAD = `
const { parentPort, workerData } = require('node:worker_threads');
const heif = require(workerData.library);
const decode = () => {
  const images = new heif.HeifDecoder().decode(workerData.bytes);
  const image = images.find((one) => one.is_primary()) ?? images[0];
  if (image === undefined) return parentPort.postMessage({ error: 'no picture found' });
  const width = image.get_width();
  const height = image.get_height();
  if (width * height > workerData.pixelsMax) return parentPort.postMessage({ width, height });
  const data = new Uint8ClampedArray(width * height * 4);
  image.display({ data, width, height }, (shown) => {
    if (shown === null) return parentPort.postMessage({ error: 'the picture data is incomplete' });
    const rgba = new Uint8Array(data.buffer);
    parentPort.postMessage({ width, height, rgba }, [rgba.buffer]);
  });
};
try {
  decode();
} catch (error) {
  // No memory for the picture says nothing about it; anything else is the decoder's word on the bytes.
  if (error instanceof RangeError) throw error;
  parentPort.postMessage({ error: String(error.message ?? error) });
}
`;

interface Answer {
  /** What the decoder says is wrong with the bytes. */
  readonly error?: string;
  /** Why the decoder came to no end; this says nothing about the bytes. */
  readonly undecided?: string;
  readonly width?: number;
  readonly height?: number;
  readonly rgba?: Uint8Array;
}

/**
 * Decodes an HEVC-coded HEIC picture to its end, with the turns its container asks for. Fails with the problem
 * `PHOTO_UNDECIDED` when the decoder came to no end within `msMax`.
 */
export async function decodeHeic(
  bytes: Uint8Array,
  pixelsMax: number,
  msMax = DECODE_MS_MAX,
): Promise<Result<DecodedPicture, Problem>> {
  const answer = await inThread(bytes, pixelsMax, msMax);
  const { width = 0, height = 0, rgba } = answer;
  if (answer.undecided !== undefined) return fail(photoUndecidedProblem(answer.undecided));
  if (answer.error !== undefined) return fail(photoDamagedProblem(answer.error));
  if (rgba === undefined) {
    return fail(photoPixelsProblem(width, height) ?? photoDamagedProblem('no picture found'));
  }
  return ok({ width, height, rgba });
}

function inThread(bytes: Uint8Array, pixelsMax: number, msMax: number): Promise<Answer> {
  const library = createRequire(join(process.cwd(), 'package.json')).resolve('libheif-js/wasm-bundle');
  return new Promise((resolve) => {
    const thread = new Worker(THREAD, {
      eval: true,
      workerData: { library, bytes, pixelsMax },
      stdout: true,
      stderr: true,
      execArgv: [],
    });
    const end = (answer: Answer) => {
      clearTimeout(timer);
      resolve(answer);
      void thread.terminate();
    };
    const timer = setTimeout(() => end({ undecided: 'decoding took too long' }), msMax);
    thread.once('message', (answer: Answer) => end(answer));
    thread.once('error', (error) => end({ undecided: error.message }));
    thread.once('exit', () => end({ undecided: 'the decoder gave up' }));
  });
}
