import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { Point } from './homography.ts';
import { cellAt, type Net, type PictureSize } from './photoMap.ts';

/** What was seen of a shift at a point: a symmetric 2 × 2 weight [xx, xy, yy], as along an edge only one direction shows. */
export interface Seen {
  readonly at: Point;
  readonly overPx: Point;
  readonly weight: readonly [number, number, number];
}

const COLUMNS = 17;
const ROWS = 13;
/** How stiff the net is: weight of its second differences against one match. Our own choice. */
const STIFFNESS = 0.6;
/** Keeps the net in place where nothing is seen at all. */
const REST = 1e-4;
/** Weight round a node from which it counts as known. */
const KNOWN_MIN = 0.5;

/** Normal equations over two coordinates of every node. */
class Equations {
  readonly #left = Matrix.zeros(2 * COLUMNS * ROWS, 2 * COLUMNS * ROWS);
  readonly #right = Matrix.zeros(2 * COLUMNS * ROWS, 1);

  /** Σ weights·shift of these nodes is `over`, in both coordinates. */
  put(nodes: readonly number[], weights: readonly number[], [xx, xy, yy]: Seen['weight'], over: Point): void {
    nodes.forEach((a, i) => {
      const wa = weights[i] ?? 0;
      nodes.forEach((b, k) => {
        const w = wa * (weights[k] ?? 0);
        this.#add(2 * a, 2 * b, w * xx);
        this.#add(2 * a, 2 * b + 1, w * xy);
        this.#add(2 * a + 1, 2 * b, w * xy);
        this.#add(2 * a + 1, 2 * b + 1, w * yy);
      });
      this.#addRight(2 * a, wa * (xx * over[0] + xy * over[1]));
      this.#addRight(2 * a + 1, wa * (xy * over[0] + yy * over[1]));
    });
  }

  solved(): number[] {
    return new CholeskyDecomposition(this.#left).solve(this.#right).getColumn(0);
  }

  #add(row: number, column: number, value: number): void {
    this.#left.set(row, column, this.#left.get(row, column) + value);
  }

  #addRight(row: number, value: number): void {
    this.#right.set(row, 0, this.#right.get(row, 0) + value);
  }
}

/**
 * The net that takes what a homography leaves over at the places seen: weighted least squares with second differences
 * held small (a thin plate on a grid; Terzopoulos 1986, from memory). Places lie in the first picture, px.
 */
export function netThrough(size: PictureSize, places: readonly Seen[]): Net {
  const equations = new Equations();
  const known = new Array<number>(COLUMNS * ROWS).fill(0);
  for (const { at, overPx, weight } of places) {
    const { nodes, weights } = cellAt({ columns: COLUMNS, rows: ROWS }, size, at);
    equations.put(nodes, weights, weight, overPx);
    for (const node of nodes) known[node] = (known[node] ?? 0) + (weight[0] + weight[2]) / 2;
  }
  const stiff = [STIFFNESS, 0, STIFFNESS] as const;
  for (const three of bendings()) equations.put(three, [1, -2, 1], stiff, [0, 0]);
  for (const four of twists()) equations.put(four, [1, -1, -1, 1], stiff, [0, 0]);
  for (let node = 0; node < COLUMNS * ROWS; node += 1) equations.put([node], [1], [REST, 0, REST], [0, 0]);
  const shifts = equations.solved();
  return {
    columns: COLUMNS,
    rows: ROWS,
    shiftsPx: known.map((_, node) => [shifts[2 * node] ?? 0, shifts[2 * node + 1] ?? 0] as const),
    known: known.map((weight) => weight > KNOWN_MIN),
  };
}

function bendings(): number[][] {
  const found: number[][] = [];
  for (let k = 0; k < ROWS; k += 1) {
    for (let i = 0; i < COLUMNS; i += 1) {
      const node = k * COLUMNS + i;
      if (i > 0 && i < COLUMNS - 1) found.push([node - 1, node, node + 1]);
      if (k > 0 && k < ROWS - 1) found.push([node - COLUMNS, node, node + COLUMNS]);
    }
  }
  return found;
}

function twists(): number[][] {
  const found: number[][] = [];
  for (let k = 0; k + 1 < ROWS; k += 1)
    for (let i = 0; i + 1 < COLUMNS; i += 1) {
      const node = k * COLUMNS + i;
      found.push([node, node + 1, node + COLUMNS, node + COLUMNS + 1]);
    }
  return found;
}
