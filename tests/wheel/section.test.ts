import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { polygonArea } from '../../lib/photo/index.ts';
import {
  type Construction,
  constructionOf,
  constructions,
  distanceToLine,
  isInside,
  type Line,
  type Point,
  parseDesignation,
  type Section,
  sectionOf,
  zonesNear,
} from '../../lib/wheel/index.ts';

const SIZES = [
  '25-13.00/2.5',
  '25-14.00/1.5',
  '25-22.00/3.0',
  '35-17.00/3.5',
  '49-17.00/3.5',
  '51-24.00/5.0',
  '57-29.00/6.0',
  '63-44.00/5.0',
  '44.00/5.0 [6.0]',
];
const OVERLAP_MM = 0.5;

function drawn(construction: Construction, text: string): Section {
  const size = parseDesignation(text);
  if (!size.ok) throw new Error(size.error.message);
  return sectionOf(construction, size.value);
}

const CASES = constructions.flatMap((construction) =>
  SIZES.map((text) => [construction.id, text, drawn(construction, text)] as const),
);

/** Points along an outline no further apart than `stepMm`. */
function sampled(outline: Line, stepMm: number): Point[] {
  return outline.flatMap(([x, y], index) => {
    const [nextX, nextY] = outline[(index + 1) % outline.length] ?? [x, y];
    const count = Math.max(1, Math.ceil(Math.hypot(nextX - x, nextY - y) / stepMm));
    return Array.from({ length: count }, (_, step): Point => {
      return [x + ((nextX - x) * step) / count, y + ((nextY - y) * step) / count];
    });
  });
}

function turn([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number {
  return Math.sign((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));
}

/** Whether two pieces of an outline cross; pieces that share an end do not count. */
function crossings(outline: Line): number {
  const pieces = outline.map((at, index) => [at, outline[(index + 1) % outline.length] ?? at] as const);
  let count = 0;
  pieces.forEach(([a, b], first) => {
    pieces.slice(first + 2).forEach(([c, d], later) => {
      if (first === 0 && first + 2 + later === pieces.length - 1) return;
      if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) count += 1;
    });
  });
  return count;
}

/** How deep a part's outline reaches into another part, mm; 0 when they at most touch. */
function depthInto(outline: Line, other: Line): number {
  return Math.max(
    0,
    ...sampled(outline, 0.4)
      .filter((point) => isInside(point, other))
      .map((point) => distanceToLine(point, other, true)),
  );
}

/** Inner faces of the flanges: upright pieces of metal in the line between tyre and flange, at half height. */
function facesAtHalfHeight(section: Section): readonly [number, number] {
  const y = section.seatY + 0.3 * section.flangeHeightMm;
  const xs = section.parts.flatMap((part) =>
    part.outlines.flatMap((outline) =>
      outline.flatMap(([ax, ay], index): number[] => {
        const [bx, by] = outline[(index + 1) % outline.length] ?? [ax, ay];
        return ay > y === by > y ? [] : [ax + ((y - ay) * (bx - ax)) / (by - ay)];
      }),
    ),
  );
  const middle = section.widthMm / 2;
  return [Math.max(...xs.filter((x) => x < middle)), Math.min(...xs.filter((x) => x > middle))];
}

describe.each(CASES)('the section of a %s rim %s', (_, text, section) => {
  const size = parseDesignation(text);
  const inches = size.ok ? size.value : null;

  test('has simple outlines with metal in them', () => {
    for (const part of section.parts) {
      for (const outline of part.outlines) {
        expect(polygonArea(outline), part.slot).toBeGreaterThan(5);
        expect(crossings(outline), part.slot).toBe(0);
      }
    }
  });

  test('has parts that touch and do not overlap', () => {
    for (const part of section.parts) {
      for (const other of section.parts) {
        if (part === other) continue;
        for (const outline of part.outlines) {
          for (const against of other.outlines) {
            expect(depthInto(outline, against), `${part.slot} into ${other.slot}`).toBeLessThan(OVERLAP_MM);
          }
        }
      }
    }
  });

  test('has no part that floats: each touches another', () => {
    for (const part of section.parts) {
      const others = section.parts.filter((other) => other !== part).flatMap((other) => other.outlines);
      const gap = Math.min(
        ...part.outlines
          .flatMap((outline) => sampled(outline, 0.4))
          .flatMap((point) => others.map((other) => distanceToLine(point, other, true))),
      );
      expect(gap, part.slot).toBeLessThan(OVERLAP_MM);
    }
  });

  test('has its zones on the outline of their own part', () => {
    for (const part of section.parts) {
      for (const zone of part.zones) {
        expect(zone.lines.length, zone.zone).toBeGreaterThan(0);
        expect(zone.anchors).toHaveLength(zone.lines.length);
        for (const point of [...zone.lines.flat(), ...zone.anchors]) {
          const away = Math.min(...part.outlines.map((outline) => distanceToLine(point, outline, true)));
          expect(away, `${part.slot}: ${zone.zone}`).toBeLessThan(1);
        }
      }
    }
  });

  test('has a name point inside each part', () => {
    for (const part of section.parts) {
      expect(
        part.outlines.some((outline) => isInside(part.namedAt, outline)),
        part.slot,
      ).toBe(true);
    }
  });

  test('is to scale: width between the flange faces and flange height above the seat', () => {
    const [back, gutter] = facesAtHalfHeight(section);
    expect(gutter - back).toBeCloseTo((inches?.widthIn ?? 0) * 25.4, 6);
    expect(section.gutterFaceX - section.backFaceX).toBeCloseTo((inches?.widthIn ?? 0) * 25.4, 6);
    expect(section.bounds.high - section.seatY).toBeCloseTo((inches?.flangeHeightIn ?? 0) * 25.4, 6);
  });

  test('has seats that slope five degrees towards the middle', () => {
    const seats = section.parts.flatMap((part) =>
      part.zones.filter(({ zone }) => zone === 'bead seat' || zone === 'back bead seat'),
    );
    expect(seats).toHaveLength(2);
    for (const { lines } of seats) {
      const [from, to] = [lines[0]?.[0], lines[0]?.at(-1)];
      if (from === undefined || to === undefined) throw new Error('a seat without a line');
      const degrees = (Math.atan(Math.abs((to[1] - from[1]) / (to[0] - from[0]))) * 180) / Math.PI;
      expect(degrees).toBeCloseTo(5, 1);
      const [inner, outer] =
        Math.abs(from[0] - section.widthMm / 2) < Math.abs(to[0] - section.widthMm / 2)
          ? [from, to]
          : [to, from];
      expect(outer[1]).toBeGreaterThan(inner[1]);
    }
  });

  test('has mounting tapers of twenty-eight degrees', () => {
    const tapers = section.parts.flatMap((part) =>
      part.zones.filter(({ zone }) => zone === 'mounting taper').flatMap(({ lines }) => lines),
    );
    expect(tapers.length).toBe(2);
    for (const line of tapers) {
      const [from, to] = [line[0], line.at(-1)];
      if (from === undefined || to === undefined) throw new Error('a taper without a line');
      expect((Math.atan(Math.abs((to[1] - from[1]) / (to[0] - from[0]))) * 180) / Math.PI).toBeCloseTo(28, 3);
    }
  });
});

describe('the section of a rim', () => {
  test.each(constructions.map((one) => [one.id, one] as const))(
    'of %s shows every slot and zone',
    (_, one) => {
      const section = drawn(one, '25-22.00/3.0');
      expect(section.parts.map((part) => [part.slot, part.zones.map(({ zone }) => zone)])).toEqual(
        one.slots.map((slot) => [slot.slot, slot.zones.map(({ zone }) => zone)]),
      );
    },
  );

  test('says what it assumed', () => {
    const [three] = constructions;
    if (three === undefined) throw new Error('no construction');
    expect(sectionOf(three, null).assumed).toEqual(['width', 'flange height', 'diameter']);
    expect(drawn(three, '44.00/5.0 [6.0]').assumed).toEqual(['diameter']);
    expect(drawn(three, '25-22.00').assumed).toEqual(['flange height']);
    expect(drawn(three, '25-22.00/3.0').assumed).toEqual([]);
  });

  test('uses the flange width of the designation', () => {
    const five = constructionOf('five-piece');
    const section = drawn(five, '44.00/5.0 [6.0]');
    expect(section.bounds.right - section.gutterFaceX).toBeCloseTo(152.4, 3);
    expect(section.backFaceX - section.bounds.left).toBeCloseTo(152.4, 3);
  });

  test('of a double-gutter rim is its own mirror image', () => {
    const double = constructionOf('double-gutter seven-piece');
    const section = drawn(double, '57-29.00/6.0');
    for (const name of ['side flange', 'bead seat band', 'lock ring', 'O-ring']) {
      const front = section.parts.find((part) => part.slot === `front ${name}`)?.outlines[0] ?? [];
      const rear = section.parts.find((part) => part.slot === `rear ${name}`)?.outlines[0] ?? [];
      expect(front.length).toBeGreaterThan(3);
      front.forEach(([x, y], index) => {
        expect(rear[index]?.[0]).toBeCloseTo(section.widthMm - x, 6);
        expect(rear[index]?.[1]).toBeCloseTo(y, 6);
      });
    }
  });

  test('with a disc shows it under the bore, with a hole for a stud through it', () => {
    const section = drawn(constructionOf('three-piece with disc'), '25-22.00/3.0');
    const plain = drawn(constructionOf('three-piece'), '25-22.00/3.0');
    expect([plain.bounds.low, section.bounds.low < -40]).toEqual([0, true]);
    expect(plain.features.some(({ zone }) => zone === 'stud holes')).toBe(false);
    const [hole, ...more] = section.features.filter(({ zone }) => zone === 'stud holes');
    const base = section.parts.find((part) => part.slot === 'rim base');
    const faces = base?.zones.find(({ zone }) => zone === 'stud holes')?.lines ?? [];
    expect([more.length, faces.length]).toEqual([0, 2]);
    for (const face of faces) {
      for (const end of face) expect(distanceToLine(end, hole?.outline ?? [], true)).toBeLessThan(1e-9);
    }
    const [x, y] = faces[0]?.[0] ?? [0, 0];
    expect(zonesNear(section, [x + 4, y - 4], { from: 0, to: section.bounds.right })[0]?.zone).toBe(
      'stud holes',
    );
  });

  test('holds together for every size that a designation can name', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...constructions),
        fc.constantFrom(25, 33, 45, 57, 63),
        fc.integer({ min: 500, max: 6000 }),
        fc.integer({ min: 50, max: 1200 }),
        (construction, code, width, height) => {
          const section = drawn(
            construction,
            `${code}-${(width / 100).toFixed(2)}/${(height / 100).toFixed(2)}`,
          );
          expect(section.plainTo).toBeGreaterThan(section.plainFrom);
          for (const part of section.parts) {
            for (const outline of part.outlines) {
              expect(crossings(outline), part.slot).toBe(0);
              expect(outline.flat().every(Number.isFinite)).toBe(true);
            }
          }
        },
      ),
      { seed: 20260301, numRuns: 150 },
    );
  });
});

describe('the nearest zone', () => {
  const five = constructionOf('five-piece');
  const section = drawn(five, '25-22.00/3.0');
  const all = { from: section.bounds.left, to: section.bounds.right };

  test.each(
    section.parts.flatMap((part) =>
      part.zones.map(({ zone, anchors }) => [part.slot, zone, anchors] as const),
    ),
  )('at the anchor of %s, %s is that zone or one in contact with it', (slot, zone, anchors) => {
    for (const anchor of anchors) {
      const near = zonesNear(section, anchor, all);
      const own = near.find((one) => one.slot === slot && one.zone === zone);
      expect(own?.distanceMm).toBeLessThan(0.01);
      expect(near[0]?.distanceMm).toBeLessThan(0.01);
    }
  });

  test('of two faces in contact is that of the part pointed into', () => {
    const ring = section.parts.find((part) => part.slot === 'lock ring');
    const wall = ring?.zones.find(({ zone }) => zone === 'ring seat face')?.lines.at(-1) ?? [];
    const [x, y] = wall[0] ?? [0, 0];
    expect(zonesNear(section, [x - 1, y - 2], all)[0]?.slot).toBe('lock ring');
    expect(zonesNear(section, [x + 1, y - 2], all)[0]?.slot).toBe('rim base');
  });

  test('leaves out what a broken drawing does not show', () => {
    const back = zonesNear(section, [0, 40], { from: section.bounds.left, to: section.plainFrom });
    expect(back.some(({ zone }) => zone === 'back bead seat')).toBe(true);
    expect(back.some(({ slot }) => slot === 'lock ring')).toBe(false);
  });
});
