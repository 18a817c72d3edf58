import type { Problem, Result } from '../../base/index.ts';
import { type PhotoFormat, photoFormat, SNIFF_BYTES } from '../../photo/index.ts';

/** The format of a photo by its first bytes, or the problem with it. */
export async function formatOfPhoto(photo: Blob): Promise<Result<PhotoFormat, Problem>> {
  return photoFormat(new Uint8Array(await photo.slice(0, SNIFF_BYTES).arrayBuffer()));
}
