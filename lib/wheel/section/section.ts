import { must } from '../../base/index.ts';
import type { SizeDesignation } from '../designation.ts';
import type { ComponentKind, ConstructionId, ZoneId } from '../ids.ts';
import type { Construction, Slot } from '../slot.ts';
import { discPlaces, fixedFlangeEnd, gutterEnd, gutterPlaces, stopEnd } from './base.ts';
import { sideFlangeCorners } from './flange.ts';
import { bandCorners, lockRingCorners, oRingCorners, seatFlangeCorners } from './loose.ts';
import { type AssumedSize, type Measures, measuresOf, seatHeight } from './measures.ts';
import { backwards, type Corner, placed, type Traced, trace } from './outline.ts';
import { type Box, boxOf, type Line, midpointOf, type Point } from './plane.ts';

/** A zone on the section: where its surface is cut, and a point of each line to point at. */
export interface SectionZone {
  readonly zone: ZoneId;
  readonly lines: readonly Line[];
  readonly anchors: readonly Point[];
}

/** A component as the cut shows it. */
export interface SectionPart {
  readonly slot: string;
  readonly kind: ComponentKind;
  readonly outlines: readonly Line[];
  readonly zones: readonly SectionZone[];
  /** A point inside it, for the end of a leader line. */
  readonly namedAt: Point;
}

/** Something drawn inside the rim base: weld metal, or an opening, for the valve or for a wheel stud. */
export interface SectionFeature {
  readonly zone: ZoneId;
  readonly outline: Line;
}

/** The cross-section of a rim: mm, x from the back side to the gutter side, y outward from the rim base's bore. */
export interface Section {
  readonly construction: ConstructionId;
  readonly widthMm: number;
  readonly flangeHeightMm: number;
  readonly diameterCode: number;
  /** What of the size is assumed because no designation gave it. */
  readonly assumed: readonly AssumedSize[];
  readonly bounds: Box;
  /** Inner faces of the flanges; their distance is the width. */
  readonly backFaceX: number;
  readonly gutterFaceX: number;
  /** Height of the nominal bead seat at the flange faces, from which the flange height counts. */
  readonly seatY: number;
  readonly flangeTopY: number;
  /** The plain centre that may be left out of a broken drawing. */
  readonly plainFrom: number;
  readonly plainTo: number;
  readonly parts: readonly SectionPart[];
  readonly features: readonly SectionFeature[];
}

/** Everything of one side: the way along x and the shapes placed there. */
interface Place {
  readonly faceX: number;
  readonly outboard: 1 | -1;
}

/**
 * The section of a rim of this construction. Width between flanges, flange height, the 5° seats and the 28°
 * mounting taper are to scale; walls and curls are schematic, our own choice. `null` is a size that is not
 * understood: a common size is drawn and `assumed` says so.
 */
export function sectionOf(construction: Construction, size: SizeDesignation | null): Section {
  const m = measuresOf(size);
  const parts = construction.slots.map((slot) => partOf(construction, slot, m));
  return {
    construction: construction.id,
    widthMm: m.widthMm,
    flangeHeightMm: m.flangeHeightMm,
    diameterCode: m.diameterCode,
    assumed: m.assumed,
    bounds: boxOf(parts.flatMap((part) => part.outlines.flat())),
    backFaceX: 0,
    gutterFaceX: m.widthMm,
    seatY: m.seatY,
    flangeTopY: m.seatY + m.flangeHeightMm,
    plainFrom: m.endLength,
    plainTo: m.widthMm - m.endLength,
    parts,
    features: featuresOf(construction, m),
  };
}

function partOf(construction: Construction, slot: Slot, m: Measures): SectionPart {
  const back: Place = { faceX: 0, outboard: -1 };
  const place: Place = slot.side === 'back side' ? back : { faceX: m.widthMm, outboard: 1 };
  const { corners, namedAt } = shapeOf(construction, slot, m, place);
  const traced = trace(corners);
  return {
    slot: slot.slot,
    kind: slot.kind,
    outlines: [traced.outline],
    zones: slot.zones.map(({ zone }) => zoneOf(traced, zone, slot.slot)),
    namedAt,
  };
}

function zoneOf(traced: Traced, zone: ZoneId, slot: string): SectionZone {
  const lines = must(traced.zones.get(zone), `zone ${zone} on the section of ${slot}`);
  return { zone, lines, anchors: lines.map(midpointOf) };
}

function shapeOf(
  construction: Construction,
  slot: Slot,
  m: Measures,
  place: Place,
): { corners: readonly Corner[]; namedAt: Point } {
  const at = (corners: readonly Corner[]) => placed(corners, place.faceX, place.outboard);
  const point = (u: number, y: number): Point => [place.faceX + place.outboard * u, y];
  const g = gutterPlaces(m);
  switch (slot.kind) {
    case 'rim base':
      return { corners: baseCorners(construction, m), namedAt: [m.widthMm - 62 * m.k, m.centreWall / 2] };
    case 'side flange': {
      const corners = carriesSeat(slot) ? seatFlangeCorners(m) : sideFlangeCorners(m);
      const top = corners.reduce((best, one) => (one.y > best.y ? one : best));
      return { corners: at(corners), namedAt: point(top.x, top.y - m.flangeWall / 2) };
    }
    case 'bead seat band':
      return {
        corners: at(bandCorners(m)),
        namedAt: point(-0.6 * m.seatLength, (m.boreY + seatHeight(m, -0.6 * m.seatLength)) / 2),
      };
    case 'lock ring':
      return { corners: at(lockRingCorners(m)), namedAt: point(m.bandEnd + 5 * m.k, m.boreY + 4 * m.k) };
    case 'O-ring':
      return { corners: at(oRingCorners(m)), namedAt: point(g.sealX, (g.sealFloorY + m.boreY) / 2) };
  }
}

function carriesSeat(slot: Slot): boolean {
  return slot.zones.some(({ zone }) => zone === 'bead seat');
}

/** The kind of back end follows from the construction's other slots: a loose part there stands in for a fixed one. */
function baseCorners(construction: Construction, m: Measures): Corner[] {
  const atBack = construction.slots.filter((slot) => slot.side === 'back side');
  const back = atBack.some((slot) => slot.kind === 'lock ring')
    ? gutterEnd(m, 'butt weld')
    : atBack.some((slot) => slot.kind === 'side flange')
      ? stopEnd(m)
      : fixedFlangeEnd(m);
  const centre = { zone: 'centre band' } as const;
  const front = placed(gutterEnd(m, 'valve slot', hasZone(construction, 'stud holes')), m.widthMm, 1);
  const rear = backwards(placed(back, 0, -1));
  return [
    ...front.slice(0, -1),
    { ...must(front.at(-1), 'the end of the gutter side'), ...centre },
    ...rear.slice(0, -1),
    { ...must(rear.at(-1), 'the end of the back side'), ...centre },
  ];
}

/** Whether the rim base of a construction has a zone. */
function hasZone(construction: Construction, zone: ZoneId): boolean {
  const base = construction.slots.find((slot) => slot.kind === 'rim base');
  return base?.zones.some((one) => one.zone === zone) === true;
}

/** Weld metal as a seam that is wider at the outer surface, the valve opening through the wall, a stud hole. */
function featuresOf(construction: Construction, m: Measures): SectionFeature[] {
  const has = (zone: ZoneId) => hasZone(construction, zone);
  const hole = discPlaces(m);
  const { k, centreWall: wall } = m;
  const seam = (zone: ZoneId, middle: number): SectionFeature => ({
    zone,
    outline: [
      [middle - 5 * k, wall],
      [middle + 5 * k, wall],
      [middle + 2 * k, 0],
      [middle - 2 * k, 0],
    ],
  });
  const box = (zone: ZoneId, from: number, to: number, low = 0, high = wall): SectionFeature => ({
    zone,
    outline: [
      [from, low],
      [to, low],
      [to, high],
      [from, high],
    ],
  });
  return [
    seam('gutter weld', m.widthMm - 122 * k),
    seam(has('back weld') ? 'back weld' : 'gutter weld', 122 * k),
    box('butt weld', 138 * k, 156 * k),
    box('valve slot', m.widthMm - 156 * k, m.widthMm - 138 * k),
    box('stud holes', m.widthMm + hole.from, m.widthMm + hole.to, hole.holeLowY, hole.holeTopY),
  ].filter((feature) => has(feature.zone));
}
