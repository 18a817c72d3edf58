/**
 * Writes what the renderer shares with the program, as JSON on stdout: the sections of the rims in the pictures and
 * the layouts of the scale cards. `node tools/run.mjs sample-images/render/geometry.ts > FILE`
 */
import { must } from '../../lib/base/index.ts';
import { cardLayouts, markerCells } from '../../lib/photo/index.ts';
import { constructions, parseDesignation, sectionOf } from '../../lib/wheel/index.ts';

const DESIGNATIONS = [
  '25-13.00/2.5',
  '25-22.00/3.0',
  '33-28.00/3.5',
  '45-36.00/4.5',
  '49-19.50/4.0',
  '57-29.00/6.0',
];

const rims = DESIGNATIONS.flatMap((designation) => {
  const size = parseDesignation(designation);
  if (!size.ok) throw new Error(`${designation}: ${size.error.message}`);
  return constructions.map((construction) => {
    const section = sectionOf(construction, size.value);
    return {
      designation,
      construction: construction.id,
      widthMm: section.widthMm,
      flangeHeightMm: section.flangeHeightMm,
      // The specified diameter lies on the bead seat where it meets the flange's inner face.
      seatRadiusMm: (must(size.value.diameterCode, 'diameter code') * 25.4) / 2,
      seatY: section.seatY,
      parts: section.parts.map((part) => ({
        slot: part.slot,
        kind: part.kind,
        outline: part.outlines[0],
        zones: Object.fromEntries(part.zones.map(({ zone, lines }) => [zone, lines])),
      })),
      features: section.features.map(({ zone, outline }) => ({ zone, outline })),
    };
  });
});

const cards = cardLayouts.map((card) => ({
  ...card,
  markers: card.markers.map((marker) => ({ ...marker, cells: markerCells(marker.id) })),
}));

process.stdout.write(`${JSON.stringify({ rims, cards })}\n`);
