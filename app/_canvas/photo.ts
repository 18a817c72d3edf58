/** A decoded photo at full size and reduced: a small view is drawn from a small copy, quickly and without moiré. */
export interface PhotoLevels {
  /** Largest first; each half as wide as the one before. */
  readonly levels: readonly ImageBitmap[];
}

const LEVEL_WIDTH_MIN = 700;
/** Rounding of a small derivative's sides stays below this. */
const PROPORTION_TOLERANCE = 0.01;

/** A failure to open a photo, with a sentence for a person. */
export class PhotoProblem extends Error {
  override readonly name = 'PhotoProblem';
}

/**
 * Fetches and decodes a photo, turned upright by its own orientation tag. Rejects with `PhotoProblem`,
 * or with the abort reason when `signal` gave up.
 */
export async function openPhoto(url: string, signal: AbortSignal): Promise<PhotoLevels> {
  const blob = await fetchBlob(url, signal);
  let full: ImageBitmap;
  try {
    full = await createImageBitmap(blob, { imageOrientation: 'from-image' });
  } catch (cause) {
    throw new PhotoProblem('This file cannot be read as a picture.', { cause });
  }
  const levels = [full];
  try {
    let last = full;
    while (last.width / 2 >= LEVEL_WIDTH_MIN && !signal.aborted) {
      const resizeWidth = Math.round(last.width / 2);
      const resizeHeight = Math.round(last.height / 2);
      const half = await createImageBitmap(last, { resizeWidth, resizeHeight, resizeQuality: 'medium' });
      levels.push(half);
      // Some browsers hand back the full size: then the large copies must do for small views too.
      if (half.width >= last.width) break;
      last = half;
    }
  } catch (cause) {
    closePhoto({ levels });
    throw new PhotoProblem('There is not enough memory to show this photo.', { cause });
  }
  if (signal.aborted) {
    closePhoto({ levels });
    throw signal.reason;
  }
  return { levels };
}

async function fetchBlob(url: string, signal: AbortSignal): Promise<Blob> {
  let reply: Response;
  try {
    reply = await fetch(url, { signal });
  } catch (cause) {
    if (signal.aborted) throw cause;
    throw new PhotoProblem(
      'The photo could not be fetched: no connection, or it is no longer on this device.',
      {
        cause,
      },
    );
  }
  if (!reply.ok) throw new PhotoProblem(`The photo could not be fetched (answer ${reply.status}).`);
  return reply.blob();
}

/** Whether a picture has the proportions stated for it, to a hundredth: if not, marks would lie in wrong places. */
export function hasProportions(photo: PhotoLevels, widthPx: number, heightPx: number): boolean {
  const full = photo.levels[0];
  if (!full) return false;
  const ratio = (full.width * heightPx) / (full.height * widthPx);
  return Math.abs(ratio - 1) <= PROPORTION_TOLERANCE;
}

/** Gives the memory of a photo back. */
export function closePhoto(photo: PhotoLevels): void {
  for (const level of photo.levels) level.close();
}

/** The smallest copy with at least about one of its px per px of the screen, for a photo shown `widthDevicePx` wide. */
export function levelFor(photo: PhotoLevels, widthDevicePx: number): ImageBitmap | undefined {
  let best = photo.levels[0];
  for (const level of photo.levels) {
    if (level.width >= widthDevicePx * 0.8) best = level;
  }
  return best;
}
