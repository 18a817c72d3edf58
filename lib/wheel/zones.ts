import type { ZoneId } from './ids.ts';

/** What a zone is and what to look for there. Mechanisms as named in the trade's published guidance and handbooks. */
export interface ZoneInfo {
  readonly where: string;
  readonly lookFor: string;
}

const ZONES: Readonly<Record<ZoneId, ZoneInfo>> = {
  'gutter groove': {
    where: 'The groove the lock ring sits in, floor and corner radius.',
    lookFor: 'Cracks along the corner radius, worn or stepped floor, projections, rust, dirt.',
  },
  'gutter lip': {
    where: 'The edge outside the lock-ring groove.',
    lookFor: 'Fractures, chips, a rolled or worn edge.',
  },
  'O-ring groove': {
    where: 'The groove of the sealing ring.',
    lookFor: 'Rust, dirt, nicks that would leak.',
  },
  'gutter weld': {
    where: 'The round weld between gutter section and centre band.',
    lookFor: 'Cracks at the weld toe, all round.',
  },
  'butt weld': { where: 'The weld across the band.', lookFor: 'Cracks across or beside the weld.' },
  'centre band': {
    where: 'The plain middle of the rim base.',
    lookFor: 'Corrosion, pits, dents, cracks round the rim.',
  },
  'back weld': {
    where: 'The round weld between centre band and back section.',
    lookFor: 'Cracks at the weld toe, all round.',
  },
  'back bead seat': {
    where: 'The tapered seat at the back section.',
    lookFor: 'Worn taper, pits, corrosion, nicks.',
  },
  'back flange': {
    where: 'The fixed flange, or the stop that holds the loose one.',
    lookFor: 'Fretting, bends, nicks near the edge.',
  },
  'back flange radius': {
    where: 'The curve between bead seat and back flange.',
    lookFor: 'Cracks running round the rim.',
  },
  'mounting taper': {
    where: 'The slope that the hub or clamps bear on.',
    lookFor: 'Galling, cracks, uneven contact.',
  },
  'valve slot': { where: 'The opening for the valve.', lookFor: 'Cracks from the corners, burrs.' },
  'stud holes': {
    where: 'The holes in the disc for the wheel studs.',
    lookFor:
      'Cracks that start at a hole or run from hole to hole, elongated holes, a rust streak from a hole (a loose nut).',
  },
  'ring ends': {
    where: 'The two ends of the split ring.',
    lookFor: 'Ends that touch, burrs, chips, cracks.',
  },
  'ring body': {
    where: 'The ring all round, thinnest section first.',
    lookFor: 'Cracks running round, flat spots, twist, out of round.',
  },
  'ring seat face': {
    where: 'The face that bears in the gutter and on the band.',
    lookFor: 'Uneven wear, polish, rust.',
  },
  'flange lip': { where: 'The outer edge of the flange.', lookFor: 'Bends, nicks, cracks from the edge.' },
  'flange face': { where: 'The side towards the tyre.', lookFor: 'Wear from the tyre, dents, corrosion.' },
  'flange contact face': {
    where: 'The face that bears on the base or the band.',
    lookFor: 'Fretting, a worn step, cracks in the corner.',
  },
  'bead seat': {
    where: 'The tapered seat of the tyre bead.',
    lookFor: 'Worn taper, pits, corrosion, distortion.',
  },
  'band contact face': {
    where: 'Where the band meets lock ring and gutter.',
    lookFor: 'Fretting, a worn step, cracks.',
  },
  'seal body': { where: 'The O-ring itself.', lookFor: 'A new ring of the right size at every assembly.' },
};

/** Where the zone is and what to look for, in plain words. */
export function zoneInfo(zone: ZoneId): ZoneInfo {
  return ZONES[zone];
}
