import { camera, cracked, FILM, finish, GREEN, OXIDE, part, plateOn, rusted, scene } from './kit.ts';
import { unit } from './noise.ts';
import type { Corner } from './profile.ts';
import type { Scene } from './scene.ts';
import { bandSection, flangeSection, gutterSection, ringSection } from './sections.ts';
import type { Shot } from './shot.ts';
import { LIP_TOP } from './shots-base.ts';

/** Side flange and bead seat band, lying loose. */
export function looseShots(): Shot[] {
  const flange = part(flangeSection(1.4), 622, {
    finish: finish({ paint: OXIDE, worn: 0.5, rust: 0.5, polished: [{ a: [0.7, 3], r: [-8, 20] }] }),
  });
  const band = rusted(
    part(bandSection(), 618, {
      finish: finish({ paint: GREEN, worn: 0.5, rust: 0.3, polished: [{ a: [28, 120], r: [3, 13] }] }),
    }),
    [76, -16],
    52,
    70,
    55,
  );
  const lying: Partial<Scene> = { up: [-1, 0, 0] };
  return [
    {
      name: 'flange-contact-face',
      component: 'side flange',
      zone: 'flange contact face',
      shows:
        'Side flange lying contact face up: a bright step worn into the face, curl of the flange outside; steel rule',
      scene: scene([flange], 107, {
        ...lying,
        ground: { normal: [-1, 0, 0], offset: -32 },
        plates: [
          {
            kind: 'rule',
            centre: [-0.6, 10, 34],
            along: [0, -1, -0.06],
            normal: [-1, 0, 0],
            widthMm: 162,
            heightMm: 16,
          },
        ],
        sun: unit([-0.55, 0.6, 0.35]),
      }),
      camera: camera([-215, -50, -95], [4, 0, 36], { up: [-0.4, 0, 1], focal35Mm: 30 }),
      development: FILM,
      orientation: 3,
      takenAt: '2026:03:11 09:31:27',
      subject: 0,
    },
    {
      name: 'bead-seat',
      component: 'bead seat band',
      zone: 'bead seat',
      shows: 'Tapered seat of a bead seat band with a rust patch; ID-1 card on the seat',
      scene: scene([band], 108, {
        plates: [plateOn(band, [82, 68], { along: [1, -0.1, 0] })],
        sun: unit([-0.4, -0.5, 0.75]),
      }),
      camera: camera([-90, 30, 205], [70, 16, 4], { focal35Mm: 29 }),
      development: FILM,
      orientation: 1,
      takenAt: '2026:03:11 09:33:52',
      subject: 0,
    },
  ];
}

/** Lock rings, fitted and loose. */
export function ringShots(): Shot[] {
  const base = part(gutterSection(), 615, {
    finish: finish({ paint: OXIDE, worn: 0.5, rust: 0.6, polished: [LIP_TOP] }),
  });
  const fitted = part(ringSection(), 615, {
    halfGapMm: 5,
    finish: finish({ paint: GREEN, worn: 0.55, rust: 0.45, polished: [{ a: [26, 46], r: [12, 26] }] }),
  });
  // A ring of the larger sizes.
  const large = ringSection().map(([a, r, rounding = 0]): Corner => [a * 1.5, r * 1.5, rounding * 1.3]);
  const sound = part(large, 720, {
    finish: finish({ paint: GREEN, worn: 0.55, rust: 0.4, polished: [{ a: [46, 68], r: [18, 40] }] }),
  });
  const broken = cracked(sound, [33, -24], [41, 20], 91, 0.6, 3.4);
  const lying: Partial<Scene> = { up: [1, 0, 0], ground: { normal: [1, 0, 0], offset: 20 } };
  return [
    {
      name: 'lock-ring-ends',
      component: 'lock ring',
      zone: 'ring ends',
      shows: 'Lock ring in its groove with a gap of 10 mm between the ends',
      scene: scene([base, fitted], 109, { sun: unit([-0.6, 0.4, 0.7]) }),
      camera: camera([-92, -30, 140], [26, 0, 10], { focal35Mm: 32 }),
      development: FILM,
      orientation: 1,
      takenAt: '2026:03:11 09:26:15',
      subject: 1,
    },
    {
      name: 'lock-ring-body',
      component: 'lock ring',
      zone: 'ring body',
      shows: 'Lock ring lying on concrete, A5 sheet beside it',
      scene: scene([sound], 110, {
        ...lying,
        plates: [
          {
            kind: 'sheet',
            centre: [20.5, 0, 132],
            along: [0, -1, 0.05],
            normal: [1, 0, 0],
            widthMm: 210,
            heightMm: 148,
          },
        ],
        sun: unit([0.6, 0.5, 0.5]),
      }),
      camera: camera([262, -16, 242], [22, 0, 92], { up: [1, 0, 0], focal35Mm: 24 }),
      development: FILM,
      orientation: 1,
      takenAt: '2026:03:11 09:28:36',
      subject: 0,
    },
    {
      name: 'lock-ring-body-crack',
      component: 'lock ring',
      zone: 'ring body',
      shows: 'Outer face of a lock ring on blocks with a crack running round; ID-1 card against the ring',
      scene: scene([broken], 111, {
        ...lying,
        // The ring lies on blocks, so that the card hangs free.
        ground: { normal: [1, 0, 0], offset: -16 },
        plates: [plateOn(broken, [37, 68], { along: [0.04, -1, 0] }, 7)],
        sun: unit([0.35, -0.55, 0.7]),
      }),
      camera: camera([100, 44, 196], [38, 46, 30], { up: [1, 0, 0], focal35Mm: 36 }),
      development: { ...FILM, noise: 9 },
      orientation: 1,
      takenAt: '2026:09:02 07:52:20',
      subject: 0,
    },
  ];
}
