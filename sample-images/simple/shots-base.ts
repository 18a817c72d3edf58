import { CREAM, camera, cracked, FILM, finish, GREY, OXIDE, part, plateOn, rusted, scene } from './kit.ts';
import { unit } from './noise.ts';
import { backSection, gutterSection } from './sections.ts';
import type { Shot } from './shot.ts';

const GROOVE_FLOOR = { a: [15, 34], r: [-4, 1.5] } as const;
/** Where the top of the lip is worn bright. */
export const LIP_TOP = { a: [-1, 14], r: [8, 11] } as const;

/** The gutter side of rim bases. */
export function gutterShots(): Shot[] {
  const sound = part(gutterSection(), 615, {
    finish: finish({ paint: OXIDE, worn: 0.42, rust: 0.55, polished: [GROOVE_FLOOR, LIP_TOP] }),
  });
  const broken = cracked(
    part(gutterSection(0.5, 1.6), 615, {
      finish: finish({ paint: GREY, worn: 0.6, rust: 0.5, polished: [GROOVE_FLOOR] }),
    }),
    [32.6, -34],
    [33.2, 27],
    41,
    0.6,
    1.1,
  );
  const chipped = part(gutterSection(0.8), 615, {
    finish: finish({ paint: GREY, worn: 0.6, rust: 0.5, polished: [GROOVE_FLOOR, LIP_TOP] }),
    bites: [
      { at: [0, 10, 14], radiusMm: 11 },
      { at: [-1, 24, 14], radiusMm: 9 },
    ],
  });
  return [
    {
      name: 'gutter-groove',
      component: 'rim base',
      zone: 'gutter groove',
      shows: 'Lock-ring groove with lip, O-ring groove and round weld; floor polished by the ring',
      scene: scene([sound], 101, { sun: unit([-0.5, 0.55, 0.7]) }),
      camera: camera([-62, -45, 150], [34, 0, 0], { widthPx: 1500, heightPx: 2000, focal35Mm: 35 }),
      development: FILM,
      orientation: 6,
      takenAt: '2026:03:11 09:12:40',
      subject: 0,
    },
    {
      name: 'gutter-groove-crack',
      component: 'rim base',
      zone: 'gutter groove',
      shows:
        'Lock-ring groove with a worn step in the floor and a crack along its inner corner; ID-1 card on the land',
      scene: scene([broken], 102, {
        plates: [plateOn(broken, [160, 6], {})],
        sun: unit([-0.35, -0.5, 0.8]),
      }),
      camera: camera([-66, 34, 178], [72, 0, 0], { focal35Mm: 30 }),
      development: { ...FILM, noise: 9 },
      orientation: 1,
      takenAt: '2026:09:02 07:41:05',
      subject: 0,
    },
    {
      name: 'gutter-lip',
      component: 'rim base',
      zone: 'gutter lip',
      shows: 'Outer edge of the gutter from the front, paint worn off the top of the lip',
      scene: scene([sound], 112, { sun: unit([-0.7, -0.45, 0.6]) }),
      camera: camera([-96, -38, 104], [16, -6, 0], { focal35Mm: 33 }),
      development: FILM,
      orientation: 1,
      takenAt: '2026:03:11 09:16:20',
      subject: 0,
    },
    {
      name: 'gutter-lip-chipped',
      component: 'rim base',
      zone: 'gutter lip',
      shows: 'Outer edge of the gutter from the front, two pieces broken out of the lip',
      scene: scene([chipped], 103, { sun: unit([-0.75, 0.35, 0.6]) }),
      camera: camera([-118, 46, 86], [14, 12, 0], { focal35Mm: 34 }),
      development: FILM,
      orientation: 1,
      takenAt: '2026:03:11 09:14:02',
      subject: 0,
    },
    {
      name: 'centre-band',
      component: 'rim base',
      zone: 'centre band',
      shows: 'Plain middle of the rim base beside the round gutter weld, paint worn off, rust; steel rule',
      scene: scene([sound], 104, {
        plates: [
          plateOn(sound, [186, 4], { kind: 'rule', along: [0.14, -1, 0], widthMm: 212, heightMm: 19 }),
        ],
        sun: unit([-0.2, 0.75, 0.6]),
      }),
      camera: camera([95, -30, 255], [146, 0, 0], {
        up: [1, 0, 0.2],
        widthPx: 4000,
        heightPx: 3000,
        focal35Mm: 26,
      }),
      development: { ...FILM, noise: 5, blurPx: 1.5 },
      orientation: 1,
      takenAt: '2026:03:11 09:18:31',
      subject: 0,
    },
  ];
}

/** The back side of rim bases. */
export function backShots(): Shot[] {
  const polished = [{ a: [-66, -22], r: [2, 9] }] as const;
  const rusty = rusted(
    part(backSection(), 620, { finish: finish({ paint: CREAM, worn: 0.55, rust: 0.3, polished }) }),
    [-44, -10],
    44,
    58,
    77,
  );
  const plain = part(backSection(), 620, {
    finish: finish({ paint: CREAM, worn: 0.5, rust: 0.55, polished }),
  });
  return [
    {
      name: 'back-bead-seat-rust',
      component: 'rim base',
      zone: 'back bead seat',
      shows: 'Tapered seat at the back section with a rust patch; ID-1 card on the seat',
      scene: scene([rusty], 105, {
        plates: [plateOn(rusty, [-48, 66], { along: [0.08, -1, 0] })],
        sun: unit([-0.6, -0.3, 0.75]),
      }),
      camera: camera([-160, 26, 178], [-38, 22, 8], { focal35Mm: 30 }),
      development: FILM,
      orientation: 1,
      takenAt: '2026:03:11 09:21:10',
      subject: 0,
    },
    {
      name: 'back-flange-radius',
      component: 'rim base',
      zone: 'back flange radius',
      shows: 'Curve between bead seat and fixed back flange, flange rising behind it',
      scene: scene([plain], 106, { sun: unit([-0.7, 0.4, 0.65]) }),
      camera: camera([-135, -60, 135], [-2, 0, 24], { focal35Mm: 28 }),
      development: { ...FILM, exposure: 0.58 },
      orientation: 1,
      takenAt: '2026:03:11 09:23:44',
      subject: 0,
    },
  ];
}
