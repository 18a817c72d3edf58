/**
 * Reads the few EXIF tags needed from a TIFF block (EXIF 2.32, CIPA DC-008; TIFF 6.0 for the layout).
 * Everything is bounds-checked: a broken block gives what could be read, and never throws.
 */
export interface ExifFacts {
  /** EXIF orientation 1–8; 1 when absent or out of range. */
  readonly orientation: number;
  /** ISO 8601 local time of exposure; with the offset from UTC when the camera wrote one. */
  readonly capturedAt?: string;
  readonly focalLengthMm?: number;
  readonly focalLength35Mm?: number;
  /** Position tags, ready to be written again; absent when the photo has no latitude and longitude. */
  readonly location?: Readonly<Record<string, string>>;
}

interface Field {
  readonly text: string;
  readonly numbers: readonly number[];
  readonly rationals: ReadonlyArray<readonly [number, number]>;
}

const TYPE_BYTES: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1, 9: 4, 10: 8 };
const FIELD_BYTES_MAX = 1024;
const FIELDS_MAX = 500;
const TAG = {
  orientation: 0x0112,
  exifFolder: 0x8769,
  gpsFolder: 0x8825,
  takenAt: 0x9003,
  offset: 0x9011,
  focalLength: 0x920a,
  focalLength35: 0xa405,
} as const;

/** Facts of an EXIF block with or without its `Exif\0\0` prefix; of nothing: orientation 1 alone. */
export function readExif(block: Uint8Array | undefined): ExifFacts {
  const tiff = block === undefined ? undefined : withoutPrefix(block);
  if (tiff === undefined || tiff.length < 8) return { orientation: 1 };
  const view = new DataView(tiff.buffer, tiff.byteOffset, tiff.byteLength);
  const mark = view.getUint16(0);
  if (mark !== 0x4949 && mark !== 0x4d4d) return { orientation: 1 };
  const little = mark === 0x4949;
  const main = readFolder(view, view.getUint32(4, little), little);
  const exif = readFolder(view, main.get(TAG.exifFolder)?.numbers[0], little);
  const gps = readFolder(view, main.get(TAG.gpsFolder)?.numbers[0], little);
  const orientation = main.get(TAG.orientation)?.numbers[0] ?? 1;
  const capturedAt = isoTime(exif.get(TAG.takenAt)?.text, exif.get(TAG.offset)?.text);
  const focalLengthMm = ratio(exif.get(TAG.focalLength));
  const focalLength35Mm = exif.get(TAG.focalLength35)?.numbers[0];
  const location = locationOf(gps);
  return {
    orientation: orientation >= 1 && orientation <= 8 ? orientation : 1,
    ...(capturedAt === undefined ? {} : { capturedAt }),
    ...(focalLengthMm === undefined ? {} : { focalLengthMm }),
    ...(focalLength35Mm === undefined || focalLength35Mm === 0 ? {} : { focalLength35Mm }),
    ...(location === undefined ? {} : { location }),
  };
}

function withoutPrefix(block: Uint8Array): Uint8Array {
  const prefix = 'Exif\0\0';
  return String.fromCharCode(...block.subarray(0, prefix.length)) === prefix
    ? block.subarray(prefix.length)
    : block;
}

function readFolder(view: DataView, offset: number | undefined, little: boolean): Map<number, Field> {
  const fields = new Map<number, Field>();
  if (offset === undefined || offset < 8 || offset + 2 > view.byteLength) return fields;
  const count = Math.min(view.getUint16(offset, little), FIELDS_MAX);
  for (let i = 0; i < count; i += 1) {
    const at = offset + 2 + i * 12;
    if (at + 12 > view.byteLength) break;
    const field = readField(view, at, little);
    if (field !== undefined) fields.set(view.getUint16(at, little), field);
  }
  return fields;
}

function readField(view: DataView, at: number, little: boolean): Field | undefined {
  const type = view.getUint16(at + 2, little);
  const count = view.getUint32(at + 4, little);
  const size = TYPE_BYTES[type];
  if (size === undefined || count * size > FIELD_BYTES_MAX) return undefined;
  const from = count * size <= 4 ? at + 8 : view.getUint32(at + 8, little);
  if (from + count * size > view.byteLength) return undefined;
  const numbers: number[] = [];
  const rationals: Array<readonly [number, number]> = [];
  for (let i = 0; i < count; i += 1) {
    const place = from + i * size;
    if (size === 1) numbers.push(view.getUint8(place));
    else if (size === 2) numbers.push(view.getUint16(place, little));
    else if (size === 4) numbers.push(view.getUint32(place, little));
    else rationals.push([view.getUint32(place, little), view.getUint32(place + 4, little)]);
  }
  const text = type === 2 ? String.fromCharCode(...numbers).replace(/\0[\s\S]*$/, '') : '';
  return { text, numbers, rationals };
}

function ratio(field: Field | undefined): number | undefined {
  const [above, below] = field?.rationals[0] ?? [0, 0];
  return above === 0 || below === 0 ? undefined : above / below;
}

/** `2026:03:01 10:11:12` and `+02:00` as `2026-03-01T10:11:12+02:00`; nothing for blanks and impossible dates. */
function isoTime(taken: string | undefined, offset: string | undefined): string | undefined {
  const parts = /^(\d{4}):(\d{2}):(\d{2})[ T](\d{2}:\d{2}:\d{2})$/.exec(taken?.trim() ?? '');
  if (parts === null) return undefined;
  const local = `${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}`;
  const time = new Date(`${local}Z`);
  if (Number.isNaN(time.getTime()) || time.toISOString().slice(0, 19) !== local) return undefined;
  const zone = /^([+-]\d{2}:\d{2}|Z)$/.exec(offset?.trim() ?? '');
  return zone === null ? local : `${local}${zone[1]}`;
}

function locationOf(gps: Map<number, Field>): Record<string, string> | undefined {
  const latitude = gps.get(2)?.rationals ?? [];
  const longitude = gps.get(4)?.rationals ?? [];
  if (latitude.length !== 3 || longitude.length !== 3) return undefined;
  const parts: Record<string, string> = {
    GPSLatitudeRef: gps.get(1)?.text === 'S' ? 'S' : 'N',
    GPSLatitude: rationalText(latitude),
    GPSLongitudeRef: gps.get(3)?.text === 'W' ? 'W' : 'E',
    GPSLongitude: rationalText(longitude),
  };
  const altitude = gps.get(6)?.rationals ?? [];
  if (altitude.length === 1) {
    parts.GPSAltitudeRef = String(gps.get(5)?.numbers[0] === 1 ? 1 : 0);
    parts.GPSAltitude = rationalText(altitude);
  }
  return parts;
}

function rationalText(rationals: ReadonlyArray<readonly [number, number]>): string {
  return rationals.map(([above, below]) => `${above}/${below}`).join(' ');
}
