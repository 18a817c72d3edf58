import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Point } from '../../lib/photo/index.ts';
import type { Truth } from './truth.ts';

/** A spot of the metal that both pictures show, px of each. */
export interface Common {
  readonly from: Point;
  readonly to: Point;
}

type Spot = readonly [roundMm: number, alongMm: number, x: number, y: number];

/** Spots of the metal, 10 mm apart round the rim and along its section, that both pictures show. The renderer wrote where they are. */
export function commonSpots(a: Truth, b: Truth): Common[] {
  const [ofA, ofB] = [spotsOf(a), spotsOf(b)];
  return [...ofA].flatMap(([address, from]) => {
    const to = ofB.get(address);
    return to === undefined ? [] : [{ from, to }];
  });
}

function spotsOf({ folder, name }: Truth): Map<string, Point> {
  const spots = JSON.parse(readFileSync(join(folder, 'spots', `${name}.json`), 'utf8')) as Spot[];
  return new Map(spots.map(([round, along, x, y]) => [`${round} ${along}`, [x, y]]));
}
