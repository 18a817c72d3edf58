import { describe, expect, test } from 'vitest';
import {
  bothUnits,
  heightLabels,
  type Label,
  nameLabels,
  placeRow,
  widthLabel,
} from '../../app/_drawings/labels.ts';
import { meant, TOUCH_DOUBT_PX, zonesAt } from '../../app/_drawings/picking.ts';
import { MARKS_APART_PX, placeMarks } from '../../app/_drawings/placing.ts';
import { sheetFor, toMm, toPx, viewAt } from '../../app/_drawings/views.ts';
import {
  constructions,
  distanceToLine,
  isInside,
  parseDesignation,
  sectionOf,
} from '../../lib/wheel/index.ts';

const SIZES = [
  '25-22.00/3.0',
  '25-13.00/2.5',
  '49-17.00/3.5',
  '57-29.00/6.0',
  '44.00/5.0 [6.0]',
  'as stamped',
];
const WIDTHS = [320, 366, 736, 1276];

const CASES = constructions.flatMap((construction) =>
  SIZES.flatMap((text) => {
    const size = parseDesignation(text);
    const section = sectionOf(construction, size.ok ? size.value : null);
    return WIDTHS.map((width) => [construction.id, text, width, section, sheetFor(section, width)] as const);
  }),
);

function overlap(one: Label, other: Label): boolean {
  return (
    Math.abs(one.middle - other.middle) < (one.width + other.width) / 2 &&
    Math.abs(one.baseline - other.baseline) < 14
  );
}

describe.each(CASES)('the sheet of a %s rim %s at %i px', (_, __, width, section, sheet) => {
  test('keeps every view inside its width and at one scale', () => {
    for (const view of sheet.views) {
      expect(view.left).toBeGreaterThanOrEqual(0);
      expect(view.left + view.width).toBeLessThanOrEqual(width);
      expect(view.top + view.height).toBeLessThanOrEqual(sheet.height);
      expect(view.scale).toBe(sheet.scale);
      expect(view.width / (view.to - view.from)).toBeCloseTo(sheet.scale, 9);
    }
  });

  test('leaves only plain centre out', () => {
    const [first, second] = [...sheet.views].sort((a, b) => a.from - b.from);
    expect(first?.from).toBe(section.bounds.left);
    expect((second ?? first)?.to).toBe(section.bounds.right);
    if (first === undefined || second === undefined) return;
    expect(first.to).toBeGreaterThan(section.plainFrom);
    expect(second.from).toBeLessThan(section.plainTo);
    expect(first.to).toBeLessThanOrEqual(second.from);
  });

  test('gives every zone a mark, apart from the others', () => {
    const marks = sheet.views.map((view) => ({ view, marks: placeMarks(section, view, sheet) }));
    const all = marks.flatMap((one) => one.marks);
    for (const part of section.parts) {
      for (const { zone } of part.zones) {
        expect(
          all.some((mark) => mark.slot === part.slot && mark.zone === zone),
          `${part.slot}: ${zone}`,
        ).toBe(true);
      }
    }
    all.forEach((mark, index) => {
      for (const other of all.slice(index + 1)) {
        const apart = Math.hypot(mark.at[0] - other.at[0], mark.at[1] - other.at[1]);
        expect(apart, `${mark.zone} and ${other.zone}`).toBeGreaterThanOrEqual(MARKS_APART_PX - 0.001);
      }
      expect(mark.at[0]).toBeGreaterThan(7);
      expect(mark.at[0]).toBeLessThan(width - 7);
    });
  });

  test('keeps the marks off the metal', () => {
    for (const view of sheet.views) {
      for (const mark of placeMarks(section, view, sheet)) {
        for (const outline of section.parts.flatMap((part) => part.outlines)) {
          const line = outline.map((point) => toPx(view, point));
          expect(isInside(mark.at, line), mark.zone).toBe(false);
          expect(distanceToLine(mark.at, line, true), mark.zone).toBeGreaterThanOrEqual(9.9);
        }
      }
    }
  });

  test('has texts that do not lie on each other', () => {
    for (const view of sheet.views) {
      const wide = widthLabel(section, view, sheet);
      const texts = [
        ...nameLabels(section, view, sheet),
        ...heightLabels(section, view),
        ...(wide ? [wide] : []),
      ];
      texts.forEach((one, index) => {
        for (const other of texts.slice(index + 1)) {
          expect(overlap(one, other), `${one.text} and ${other.text}`).toBe(false);
        }
      });
    }
  });

  test('names every part with leaders that do not cross', () => {
    const named = sheet.views.flatMap((view) => nameLabels(section, view, sheet));
    expect(new Set(named.map(({ text }) => text))).toEqual(new Set(section.parts.map(({ slot }) => slot)));
    for (const view of sheet.views) {
      for (const row of ['above', 'seat', 'below'] as const) {
        const inRow = nameLabels(section, view, sheet).filter((label) => label.row === row);
        inRow.slice(1).forEach((label, index) => {
          const before = inRow[index];
          expect(label.middle).toBeGreaterThan(before?.middle ?? 0);
          expect(label.at[0]).toBeGreaterThanOrEqual(before?.at[0] ?? 0);
        });
      }
    }
  });

  test('opens a zone where its mark stands', () => {
    const marks = sheet.views.flatMap((view) => placeMarks(section, view, sheet));
    for (const mark of marks) {
      const near = zonesAt(section, sheet, marks, mark.at);
      expect(near[0]?.px).toBe(0);
      expect(near.some((one) => one.px === 0 && one.slot === mark.slot && one.zone === mark.zone)).toBe(true);
    }
  });
});

describe('a place on the sheet', () => {
  const [three] = constructions;
  if (three === undefined) throw new Error('no construction');
  const section = sectionOf(three, null);

  test('is the same place after going to mm and back', () => {
    for (const view of sheetFor(section, 366).views) {
      const [x, y] = toPx(view, toMm(view, [120, view.top + 90]));
      expect(x).toBeCloseTo(120, 9);
      expect(y).toBeCloseTo(view.top + 90, 9);
    }
  });

  test('belongs to the view it lies in, or the nearest', () => {
    const sheet = sheetFor(section, 366);
    for (const view of sheet.views) {
      expect(viewAt(sheet, [view.left + 5, view.top + 5])).toBe(view);
    }
    expect(viewAt(sheet, [180, sheet.height + 40])).toBe(sheet.views.at(-1));
  });
});

describe('a touch', () => {
  const at = (zone: 'gutter lip' | 'gutter groove' | 'bead seat' | 'ring body', px: number) => ({
    slot: 'rim base',
    zone,
    px,
  });

  test('opens the nearest zone when no other is within a gloved finger', () => {
    expect(meant([at('gutter lip', 5), at('gutter groove', TOUCH_DOUBT_PX)], TOUCH_DOUBT_PX)).toHaveLength(1);
  });

  test('asks between the zones within a gloved finger, three at most', () => {
    const near = [at('gutter lip', 5), at('gutter groove', TOUCH_DOUBT_PX - 1)];
    expect(meant(near, TOUCH_DOUBT_PX)).toEqual(near);
    const many = [at('gutter lip', 1), at('gutter groove', 2), at('bead seat', 3), at('ring body', 4)];
    expect(meant(many, TOUCH_DOUBT_PX)).toEqual(many.slice(0, 3));
  });

  test('asks even far off when two zones are equally near, and means nothing without a zone', () => {
    expect(meant([at('gutter lip', 40), at('gutter groove', 40.5)], TOUCH_DOUBT_PX)).toHaveLength(2);
    expect(meant([], TOUCH_DOUBT_PX)).toEqual([]);
  });
});

describe('a row of names', () => {
  test('stays where it wants to be when there is room', () => {
    expect(
      placeRow(
        [
          { middle: 50, width: 40 },
          { middle: 150, width: 60 },
        ],
        0,
        300,
        10,
      ),
    ).toEqual([50, 150]);
  });

  test('moves names apart and back inside the bounds', () => {
    const middles = placeRow(
      [
        { middle: 290, width: 60 },
        { middle: 292, width: 80 },
      ],
      0,
      300,
      10,
    );
    expect(middles).toEqual([180, 260]);
    expect(placeRow([{ middle: -20, width: 60 }], 0, 300, 10)).toEqual([30]);
  });

  test('says lengths in both units', () => {
    expect(bothUnits(558.8)).toBe('558.8 mm / 22.00 in');
  });
});
