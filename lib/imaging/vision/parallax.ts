import {
  gatheredNet,
  isInside,
  mapPoint,
  mapThrough,
  netNodes,
  type PhotoMap,
  type Point,
  type PointPair,
  warped,
} from '../../photo/index.ts';
import { COST_MAX, censusOf, UNSEEN, windowCost } from './census.ts';
import type { Epipolar } from './epipolar.ts';
import type { Looked } from './features.ts';

/** One pass: copies made smaller by `shrink`, cells every `cellPx`, candidates along the line; px of the copies looked at. */
interface Pass {
  readonly shrink: number;
  readonly cellPx: number;
  readonly reachPx: number;
  readonly labelPx: number;
  readonly onLines: boolean;
}

/** Own choices. `onLines`: whether every place is put on its line first, or left beside it where the map has it. */
export const FROM_FAR: readonly Pass[] = [
  { shrink: 4, cellPx: 8, reachPx: 132, labelPx: 6, onLines: true },
  { shrink: 2, cellPx: 4, reachPx: 24, labelPx: 2, onLines: true },
];
export const FROM_NEAR: readonly Pass[] = [{ shrink: 1, cellPx: 4, reachPx: 8, labelPx: 1, onLines: false }];
const labelsOf = ({ reachPx, labelPx }: Pass) => (2 * reachPx) / labelPx + 1;
/** Penalties for a neighbour that lies one step and more steps aside, as shares of the worst cost. */
const NEXT_SHARE = 0.07;
const JUMP_SHARE = 0.3;
/** A cell counts when going there and back ends within this, labels … */
const BACK_LABELS = 1.5;
/** … and its own place is by so much better than the others, as a share of the worst cost (mean of cells around). */
const CLEAR_SHARE = 0.055;
const NODE_COLUMNS = 64;
const NODE_ROWS = 48;
/** Share of the cells round a node that must count for the node to be known. */
const KNOWN_SHARE = 0.3;

/**
 * Follows steps that a smooth map cannot: for every place of the first photo it looks along the line on which the second
 * one must show it (`Epipolar`), holds small windows against each other by census, and lets neighbours agree (semi-global
 * matching, Hirschmüller 2008). What does not come back to where it began, or has nothing to be told by, is not known in the
 * map that comes out; close beside a step some of what is hidden still counts as known, which the patches then sort out.
 */
export function followSteps(
  first: Looked,
  second: Looked,
  rough: PhotoMap,
  epipolar: Epipolar,
  passes: readonly Pass[],
): PhotoMap {
  return passes.reduce((map, pass) => followedOnce(first, second, map, epipolar, pass), rough);
}

function followedOnce(
  first: Looked,
  second: Looked,
  rough: PhotoMap,
  epipolar: Epipolar,
  pass: Pass,
): PhotoMap {
  const onLines = pass.onLines ? projected(rough, epipolar) : rough;
  const laid = warped({ ...second.picture, channels: 1 }, onLines);
  const free = warped({ ...second.picture, values: second.usable, channels: 1 }, onLines).raster.values;
  const grid = gridOf(first, onLines, epipolar, pass);
  const costs = costsOf(first, laid.raster.values, laid.inside, free, grid);
  const sums = aggregated(costs.values, grid);
  const cells = chosen(costs, sums, grid);
  return mapOfCells(rough, onLines, grid, cells);
}

interface Grid extends Pass {
  readonly labels: number;
  readonly columns: number;
  readonly rows: number;
  /** Unit direction, px of the first copy, in which each cell’s place moves when its depth changes. */
  readonly alongX: Float32Array;
  readonly alongY: Float32Array;
}

const placeOf = (grid: Grid, cell: number): Point => [
  (cell % grid.columns) * grid.cellPx + grid.cellPx / 2,
  Math.floor(cell / grid.columns) * grid.cellPx + grid.cellPx / 2,
];

/** The map with every node put on its line. */
function projected(map: PhotoMap, { lineOf }: Epipolar): PhotoMap {
  const shiftsPx = netNodes(map.from, NODE_COLUMNS, NODE_ROWS).map((at): Point => {
    const [x, y] = mapThrough(map, at);
    const [a, b, c] = lineOf(at);
    const off = a * x + b * y + c;
    const [u, v] = mapPoint(map.homography, at);
    return [x - a * off - u, y - b * off - v];
  });
  const known = shiftsPx.map(() => true);
  return { ...map, net: { columns: NODE_COLUMNS, rows: NODE_ROWS, shiftsPx, known } };
}

function gridOf({ picture }: Looked, map: PhotoMap, { lineOf }: Epipolar, pass: Pass): Grid {
  const [columns, rows] = [
    Math.floor(picture.widthPx / pass.cellPx),
    Math.floor(picture.heightPx / pass.cellPx),
  ];
  const [alongX, alongY] = [new Float32Array(columns * rows), new Float32Array(columns * rows)];
  const grid = { ...pass, labels: labelsOf(pass), columns, rows, alongX, alongY };
  for (let cell = 0; cell < columns * rows; cell += 1) {
    const at = placeOf(grid, cell);
    const [a, b] = lineOf(at);
    const o = mapThrough(map, at);
    const r = mapThrough(map, [at[0] + 8, at[1]]);
    const d = mapThrough(map, [at[0], at[1] + 8]);
    const [xx, yx, xy, yy] = [r[0] - o[0], r[1] - o[1], d[0] - o[0], d[1] - o[1]];
    // The line’s direction (−b, a) in the first picture: by the inverse of the derivative.
    const [u, v] = [-b * yy - a * xy, b * yx + a * xx];
    const size = Math.hypot(u, v);
    const turn = Math.sign(xx * yy - xy * yx) || 1;
    alongX[cell] = size > 0 ? (turn * u) / size : 1;
    alongY[cell] = size > 0 ? (turn * v) / size : 0;
  }
  return grid;
}

interface Costs {
  readonly values: Uint16Array;
  /** Cells that may be used at all. */
  readonly usable: Uint8Array;
}

function costsOf(
  first: Looked,
  laid: Uint8Array | Uint8ClampedArray,
  inside: Uint8Array,
  free: Uint8Array | Uint8ClampedArray,
  grid: Grid,
): Costs {
  const [a, b] = [
    censusOf(first.picture.values, first.picture, grid.shrink),
    censusOf(laid, first.picture, grid.shrink),
  ];
  const { labels, shrink } = grid;
  const cells = grid.columns * grid.rows;
  const values = new Uint16Array(cells * labels);
  const usable = new Uint8Array(cells);
  const { widthPx } = first.picture;
  const seen = (x: number, y: number) => {
    const pixel = shrink * y * widthPx + shrink * x;
    return inside[pixel] === 1 && free[pixel] === 255;
  };
  for (let cell = 0; cell < cells; cell += 1) {
    const [x, y] = placeOf(grid, cell);
    const [hx, hy] = [Math.floor(x / shrink), Math.floor(y / shrink)];
    usable[cell] = first.usable[Math.floor(y) * widthPx + Math.floor(x)] === 255 ? 1 : 0;
    for (let label = 0; label < labels; label += 1) {
      const shift = shiftOf(grid, label) / shrink;
      const tx = Math.round(hx + shift * (grid.alongX[cell] ?? 0));
      const ty = Math.round(hy + shift * (grid.alongY[cell] ?? 0));
      values[cell * labels + label] = seen(tx, ty) ? windowCost(a, b, hx, hy, tx, ty) : UNSEEN;
    }
  }
  return { values, usable };
}

const WAYS = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
  [1, 1],
  [-1, -1],
  [1, -1],
  [-1, 1],
] as const;

/** Costs summed along eight ways through the picture, with penalties for neighbours that differ. */
function aggregated(costs: Uint16Array, { columns, rows, labels }: Grid): Float32Array {
  const sums = new Float32Array(costs.length);
  const [next, jump] = [NEXT_SHARE * COST_MAX, JUMP_SHARE * COST_MAX];
  for (const [dx, dy] of WAYS) {
    const paths = new Float32Array(costs.length);
    const [x0, x1, sx] = dx >= 0 ? [0, columns, 1] : [columns - 1, -1, -1];
    const [y0, y1, sy] = dy >= 0 ? [0, rows, 1] : [rows - 1, -1, -1];
    for (let y = y0; y !== y1; y += sy)
      for (let x = x0; x !== x1; x += sx) {
        const at = (y * columns + x) * labels;
        const [px, py] = [x - dx, y - dy];
        const starts = px < 0 || py < 0 || px >= columns || py >= rows;
        const before = (py * columns + px) * labels;
        let least = Number.POSITIVE_INFINITY;
        if (!starts) for (let l = 0; l < labels; l += 1) least = Math.min(least, paths[before + l] as number);
        for (let l = 0; l < labels; l += 1) {
          let path = costs[at + l] as number;
          if (!starts) {
            let way = Math.min(paths[before + l] as number, least + jump);
            if (l > 0) way = Math.min(way, (paths[before + l - 1] as number) + next);
            if (l + 1 < labels) way = Math.min(way, (paths[before + l + 1] as number) + next);
            path += way - least;
          }
          paths[at + l] = path;
          sums[at + l] = (sums[at + l] as number) + path;
        }
      }
  }
  return sums;
}

interface Cells {
  /** Label of each cell, between labels too. */
  readonly label: Float32Array;
  readonly counts: Uint8Array;
}

function bestOf(sums: Float32Array, at: number, labels: number): number {
  let best = 0;
  for (let l = 1; l < labels; l += 1) if ((sums[at + l] as number) < (sums[at + best] as number)) best = l;
  return best;
}

function chosen({ values, usable }: Costs, sums: Float32Array, grid: Grid): Cells {
  const { labels } = grid;
  const cells = grid.columns * grid.rows;
  const label = new Float32Array(cells);
  const clear = new Float32Array(cells);
  // The way back: of all cells that could be seen at a place, the cheapest one.
  const back = new Float32Array(cells).fill(Number.NaN);
  const backSum = new Float32Array(cells).fill(Number.POSITIVE_INFINITY);
  for (let cell = 0; cell < cells; cell += 1) {
    const at = cell * labels;
    const best = bestOf(sums, at, labels);
    const [s0, s1, s2] = [sums[at + best - 1], sums[at + best] as number, sums[at + best + 1]];
    const inner = best > 0 && best < labels - 1 && s0 !== undefined && s2 !== undefined;
    const bend = inner ? s0 - 2 * s1 + s2 : 0;
    label[cell] = best + (bend > 0 && inner ? (s0 - s2) / (2 * bend) : 0);
    let [sum, seen] = [0, 0];
    for (let l = 0; l < labels; l += 1) {
      const cost = values[at + l] as number;
      if (cost === UNSEEN) continue;
      sum += cost;
      seen += 1;
    }
    clear[cell] = inner && seen > 0 && usable[cell] === 1 ? sum / seen - (values[at + best] as number) : 0;
    for (let l = 0; l < labels; l += 1) {
      const there = cellNear(grid, cell, l);
      if (there !== null && (sums[at + l] as number) < (backSum[there] as number)) {
        backSum[there] = sums[at + l] as number;
        back[there] = l;
      }
    }
  }
  const smooth = boxMean(clear, grid, 2);
  const counts = new Uint8Array(cells);
  for (let cell = 0; cell < cells; cell += 1) {
    const there = cellNear(grid, cell, Math.round(label[cell] as number));
    const returns =
      there !== null && Math.abs((back[there] as number) - (label[cell] as number)) <= BACK_LABELS;
    counts[cell] = returns && usable[cell] === 1 && (smooth[cell] as number) > CLEAR_SHARE * COST_MAX ? 1 : 0;
  }
  return { label, counts };
}

const shiftOf = ({ labelPx, reachPx }: Pass, label: number) => label * labelPx - reachPx;

/** Where a cell’s place comes to lie on the laid copy with a label, px of the first copy. */
function movedPlace(grid: Grid, cell: number, label: number): Point {
  const [x, y] = placeOf(grid, cell);
  const shift = shiftOf(grid, label);
  return [x + shift * (grid.alongX[cell] ?? 0), y + shift * (grid.alongY[cell] ?? 0)];
}

function cellNear(grid: Grid, cell: number, label: number): number | null {
  const [x, y] = movedPlace(grid, cell, label);
  const [column, row] = [Math.floor(x / grid.cellPx), Math.floor(y / grid.cellPx)];
  return column >= 0 && row >= 0 && column < grid.columns && row < grid.rows
    ? row * grid.columns + column
    : null;
}

function boxMean(values: Float32Array, { columns, rows }: Grid, reach: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let y = 0; y < rows; y += 1)
    for (let x = 0; x < columns; x += 1) {
      let [sum, count] = [0, 0];
      for (let v = Math.max(0, y - reach); v <= Math.min(rows - 1, y + reach); v += 1)
        for (let u = Math.max(0, x - reach); u <= Math.min(columns - 1, x + reach); u += 1) {
          sum += values[v * columns + u] as number;
          count += 1;
        }
      out[y * columns + x] = sum / count;
    }
  return out;
}

function mapOfCells(
  { from, to, homography }: PhotoMap,
  onLines: PhotoMap,
  grid: Grid,
  cells: Cells,
): PhotoMap {
  const pairs: PointPair[] = [];
  for (let cell = 0; cell < grid.columns * grid.rows; cell += 1) {
    if (cells.counts[cell] !== 1) continue;
    const there = mapThrough(onLines, movedPlace(grid, cell, cells.label[cell] as number));
    if (isInside(to, there)) pairs.push({ from: placeOf(grid, cell), to: there });
  }
  const cellsANode = (grid.columns / (NODE_COLUMNS - 1)) * (grid.rows / (NODE_ROWS - 1));
  const net = gatheredNet(from, homography, pairs, {
    columns: NODE_COLUMNS,
    rows: NODE_ROWS,
    least: Math.max(1, KNOWN_SHARE * cellsANode),
  });
  return { from, to, homography, net };
}
