import { dot, layers, minus, type Vec } from './noise.ts';
import { type Plate, plateFrame } from './scene.ts';
import type { Skin } from './surface.ts';

/** Digits as rows of five dots, for the numbers of a rule. */
const DIGITS: readonly (readonly string[])[] = [
  ['01110', '10001', '10001', '10001', '10001', '10001', '01110'],
  ['00100', '01100', '00100', '00100', '00100', '00100', '01110'],
  ['01110', '10001', '00001', '00110', '01000', '10000', '11111'],
  ['01110', '10001', '00001', '00110', '00001', '10001', '01110'],
  ['00010', '00110', '01010', '10010', '11111', '00010', '00010'],
  ['11111', '10000', '11110', '00001', '00001', '10001', '01110'],
  ['00110', '01000', '10000', '11110', '10001', '10001', '01110'],
  ['11111', '00001', '00010', '00100', '01000', '01000', '01000'],
  ['01110', '10001', '10001', '01110', '10001', '10001', '01110'],
  ['01110', '10001', '10001', '01111', '00001', '00010', '01100'],
];
const DOT_MM = 0.62;

/** Where the zero line of a rule lies, mm from its end. */
export const RULE_ZERO_MM = 6;

function digitAt(mark: number, dx: number, dy: number): boolean {
  const text = String(mark);
  const widthMm = text.length * 6 * DOT_MM;
  const column = Math.floor((dx + widthMm / 2) / DOT_MM);
  const row = Math.floor(dy / DOT_MM);
  if (column < 0 || row < 0 || row > 6) return false;
  const digit = text[Math.floor(column / 6)];
  return digit !== undefined && column % 6 < 5 && DIGITS[Number(digit)]?.[row]?.[column % 6] === '1';
}

/** Whether a rule is black at `along` mm from its zero and `up` mm from its lower edge. */
function ruleInk(along: number, up: number, lengthMm: number): boolean {
  const nearest = Math.max(0, Math.min(lengthMm, Math.round(along)));
  const tickMm = nearest % 10 === 0 ? 8 : nearest % 5 === 0 ? 5.6 : 3.6;
  if (Math.abs(along - nearest) < 0.13 && up < tickMm) return true;
  const mark = Math.round(along / 10) * 10;
  return mark > 0 && digitAt(mark / 10, along - mark, 14.2 - up);
}

/** Face of a card, a sheet or a rule at a point of it. */
export function plateSkin(plate: Plate, point: Vec, seed: number): Skin {
  const [u, v] = plateFrame(plate);
  const q = minus(point, plate.centre);
  const [x, y] = [dot(q, u) + plate.widthMm / 2, dot(q, v) + plate.heightMm / 2];
  const smudge = layers(x / 14, y / 14, 0, 4, seed + 61);
  const dirt = 1 - Math.max(0, smudge - 0.52) * 1.1;
  if (plate.kind !== 'rule') {
    const white = 0.6 * dirt;
    return { colour: [white, white * 0.985, white * 0.95], metal: 0, rough: 0.55, heightMm: 0 };
  }
  const ink = ruleInk(x - RULE_ZERO_MM, y, plate.widthMm - 2 * RULE_ZERO_MM);
  const brushed = 0.5 + 0.08 * layers(x / 40, y * 2.5, 0, 2, seed + 62);
  const face = brushed * dirt;
  return ink
    ? { colour: [0.015, 0.015, 0.015], metal: 0, rough: 0.7, heightMm: 0 }
    : { colour: [face, face, face * 0.985], metal: 0.35, rough: 0.5, heightMm: 0 };
}
