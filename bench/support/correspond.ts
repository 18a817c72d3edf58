import { must } from '../../lib/base/index.ts';
import { type Point, profileOf } from '../../lib/photo/index.ts';
import { seen, zoneWay } from './marks.ts';
import { sectionFor, type Truth } from './truth.ts';

/** A point of the metal that both pictures show, px of each. */
export interface Common {
  readonly from: Point;
  readonly to: Point;
  readonly zone: string | null;
}

/** Points of the part, 8 mm apart along its section and 10 mm round the rim, that both pictures show. */
export function commonPoints(a: Truth, b: Truth): Common[] {
  const section = sectionFor(a);
  const part = must(
    section.parts.find(({ slot }) => slot === a.slot),
    a.slot,
  );
  const profile = profileOf(section, part);
  return profile.pieces.flatMap((piece) => {
    const [inA, inB] = [zoneWay(a, profile, [piece]), zoneWay(b, profile, [piece])];
    const found: Common[] = [];
    for (let way = Math.min(4, inA.way.lengthMm / 2); way < inA.way.lengthMm; way += 8) {
      for (let round = -200; round <= 200; round += 10) {
        const at = [[way, (a.clock * Math.PI) / 6 + round / piece.from[1]]] as const;
        const [from, to] = [seen(inA, at)?.px[0], seen(inB, at)?.px[0]];
        if (from !== undefined && to !== undefined) found.push({ from, to, zone: piece.zone });
      }
    }
    return found;
  });
}
