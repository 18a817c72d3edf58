/**
 * Decodes HEIC where the browser cannot. libheif-js is LGPL-3.0: it is loaded only when needed, as a file of its own
 * that can be replaced, and nothing of it is copied into this code.
 */
interface HeifImage {
  get_width(): number;
  get_height(): number;
  display(target: ImageData, done: (drawn: ImageData | null) => void): void;
  free?(): void;
}
interface Heif {
  readonly HeifDecoder: new () => { decode(bytes: Uint8Array): HeifImage[] };
}

/** The upright first picture of a HEIC file, or null when it cannot be decoded or has more than `pixelsMax` pixels. */
export async function decodeHeic(blob: Blob, pixelsMax: number): Promise<ImageBitmap | null> {
  const module = (await import('libheif-js/wasm-bundle')) as unknown as { default: Heif };
  const [image] = new module.default.HeifDecoder().decode(new Uint8Array(await blob.arrayBuffer()));
  if (image === undefined) return null;
  const [width, height] = [image.get_width(), image.get_height()];
  if (width * height > pixelsMax || width * height === 0) return null;
  const pixels = new ImageData(width, height);
  const drawn = await new Promise<ImageData | null>((resolve) => image.display(pixels, resolve));
  image.free?.();
  return drawn === null ? null : createImageBitmap(drawn);
}
