import { jsPDF } from 'jspdf';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { cardPdf } from '../../app/_client/cardPdf.ts';
import { must } from '../../lib/base/index.ts';
import {
  type CardBox,
  type CardLayout,
  type CardMarker,
  cardLayout,
  cardLayouts,
  cardPapers,
  cardSheet,
  cellSideMm,
  type DrawnText,
  drawingOf,
  markerCells,
  nominalRulerMm,
  readRuler,
  rulerLengthMm,
  rulerTicks,
} from '../../lib/photo/index.ts';

/** True widths: jspdf carries the metrics of Helvetica. */
const metrics = new jsPDF({ unit: 'mm' });

/** Box that a text takes: its width by the metrics, from the top of capitals to the bottom of descenders. */
function textBox({ at: [x, y], text, sizeMm, bold }: DrawnText): CardBox {
  metrics.setFont('helvetica', bold ? 'bold' : 'normal');
  metrics.setFontSize((sizeMm * 72) / 25.4);
  const widthMm = metrics.getTextWidth(text);
  return { leftMm: x - widthMm / 2, topMm: y - 0.75 * sizeMm, widthMm, heightMm: 0.97 * sizeMm };
}

/** What must stay white round a marker so that its border is found: one cell on every side. */
function quietZone(marker: CardMarker): CardBox {
  const cell = cellSideMm(marker);
  const sideMm = marker.sideMm + 2 * cell;
  return { leftMm: marker.leftMm - cell, topMm: marker.topMm - cell, widthMm: sideMm, heightMm: sideMm };
}

const overlap = (a: CardBox, b: CardBox) =>
  a.leftMm < b.leftMm + b.widthMm - 1e-9 &&
  b.leftMm < a.leftMm + a.widthMm - 1e-9 &&
  a.topMm < b.topMm + b.heightMm - 1e-9 &&
  b.topMm < a.topMm + a.heightMm - 1e-9;

/** Everything drawn beside the markers, with a name to be read in a failure. */
function besides(layout: CardLayout): { what: string; box: CardBox }[] {
  const { lines, texts } = drawingOf(layout);
  return [
    ...texts.map((text) => ({ what: text.text, box: textBox(text) })),
    ...lines.map(({ from, to, widthMm }) => {
      const [across, up] = from[0] === to[0] ? [widthMm, 0] : [0, widthMm];
      return {
        what: `line ${from} to ${to}`,
        box: {
          leftMm: Math.min(from[0], to[0]) - across / 2,
          topMm: Math.min(from[1], to[1]) - up / 2,
          widthMm: Math.abs(to[0] - from[0]) + across,
          heightMm: Math.abs(to[1] - from[1]) + up,
        },
      };
    }),
    { what: 'grey patch', box: layout.grey },
  ];
}

describe.each(cardLayouts)('the drawing of the $name', (layout) => {
  test('keeps everything inside the card, at least a millimetre from its edge', () => {
    const outside = besides(layout).filter(
      ({ box }) =>
        box.leftMm < 1 ||
        box.topMm < 1 ||
        box.leftMm + box.widthMm > layout.widthMm - 1 ||
        box.topMm + box.heightMm > layout.heightMm - 1,
    );
    expect(outside).toEqual([]);
    for (const zone of layout.markers.map(quietZone)) {
      expect(Math.min(zone.leftMm, zone.topMm)).toBeGreaterThan(0);
      expect(zone.leftMm + zone.widthMm).toBeLessThan(layout.widthMm);
      expect(zone.topMm + zone.heightMm).toBeLessThan(layout.heightMm);
    }
  });

  test('leaves a cell of white round every marker', () => {
    const zones = layout.markers.map(quietZone);
    const inside = besides(layout).filter(({ box }) => zones.some((zone) => overlap(box, zone)));
    expect(inside).toEqual([]);
    expect(must(zones[0], 'zone').widthMm).toBeCloseTo(must(layout.markers[0], 'marker').sideMm * (8 / 6), 9);
  });

  test('prints no text over another text, a tick or the patch', () => {
    const parts = besides(layout);
    const texts = drawingOf(layout).texts.length;
    const clashes = parts.slice(0, texts).flatMap((one, i) =>
      parts
        .slice(i + 1)
        .filter((other) => overlap(one.box, other.box))
        .map((other) => [one.what, other.what]),
    );
    expect(clashes).toEqual([]);
  });

  test('shows the bits of its markers when it is rendered', async () => {
    // That a detector finds these markers is tested with the detector itself.
    const perMm = 12;
    const { boxes, widthMm, heightMm } = drawingOf(layout);
    const shades = { white: '#fff', black: '#000', grey: '#767676' };
    const rectangles = boxes.map(
      (box) =>
        `<rect x="${box.leftMm}" y="${box.topMm}" width="${box.widthMm}" height="${box.heightMm}" fill="${shades[box.shade]}"/>`,
    );
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm * perMm}" height="${heightMm * perMm}" viewBox="0 0 ${widthMm} ${heightMm}"><rect width="100%" height="100%" fill="#fff"/>${rectangles.join('')}</svg>`;
    const { data, info } = await sharp(Buffer.from(svg))
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    for (const marker of layout.markers) {
      const cell = cellSideMm(marker);
      // From the white before the border over border, cells and border to the white after it.
      const row = (y: number) =>
        Array.from({ length: 8 }, (_, x) => {
          const px = Math.round((marker.leftMm + (x - 0.5) * cell) * perMm);
          const py = Math.round((marker.topMm + (y - 0.5) * cell) * perMm);
          return (data[(py * info.width + px) * info.channels] ?? 0) > 127;
        });
      const seen = Array.from({ length: 8 }, (_, y) => row(y));
      const border = [true, ...new Array<boolean>(6).fill(false), true];
      const white = new Array<boolean>(8).fill(true);
      const cells = markerCells(marker.id).map((line) => [true, false, ...line, false, true]);
      expect(seen).toEqual([white, border, ...cells, border, white]);
    }
  });

  test('has rulers with true spacing and numbers at their units', () => {
    for (const ruler of layout.rulers) {
      const ticks = rulerTicks(ruler);
      const step = ruler.unit === 'mm' ? 1 : 25.4 / 16;
      ticks.forEach((tick, i) => {
        expect(tick.alongMm).toBeCloseTo(i * step, 9);
      });
      expect(must(ticks.at(-1), 'tick').alongMm).toBeCloseTo(rulerLengthMm(ruler), 9);
      const numbers = ticks.filter((tick) => tick.number !== null);
      expect(numbers.map((tick) => Number(tick.number))).toEqual(
        ruler.unit === 'mm'
          ? Array.from({ length: ruler.length / 10 + 1 }, (_, i) => i * 10)
          : Array.from({ length: ruler.length + 1 }, (_, i) => i),
      );
      const drawn = drawingOf(layout).lines.filter(
        ({ from, to }) => from[1] === ruler.topMm && from[0] === to[0],
      );
      expect(drawn.map(({ from }) => from[0])).toEqual(ticks.map((tick) => ruler.leftMm + tick.alongMm));
      for (const tick of numbers) {
        expect(
          drawingOf(layout).texts.filter(
            ({ at, text }) =>
              text === tick.number && at[0] === ruler.leftMm + tick.alongMm && at[1] > ruler.topMm,
          ),
        ).toHaveLength(1);
      }
    }
  });
});

describe.each(cardPapers)('the page on %s', (paper) => {
  const sheet = cardSheet(paper);
  const content = async () => new TextDecoder('latin1').decode(await cardPdf(sheet));

  test('has its standard size in the PDF, one page, and no picture in it', async () => {
    const pdf = await content();
    const boxes = [...pdf.matchAll(/\/MediaBox \[([\d. ]+)\]/g)].map((match) =>
      (match[1] ?? '').trim().split(' ').map(Number),
    );
    expect(boxes).toHaveLength(1);
    // ISO 216, 8 1/2 × 11 in, ISO/IEC 7810 ID-1, in mm.
    const sizes = { A4: [210, 297], Letter: [215.9, 279.4], wallet: [85.6, 53.98] };
    expect(boxes[0]?.slice(0, 2)).toEqual([0, 0]);
    expect(((boxes[0]?.[2] ?? 0) * 25.4) / 72).toBeCloseTo(sizes[paper][0] ?? 0, 2);
    expect(((boxes[0]?.[3] ?? 0) * 25.4) / 72).toBeCloseTo(sizes[paper][1] ?? 0, 2);
    expect(pdf).not.toMatch(/\/Subtype\s*\/Image|\bDo\b|\bBI\b/);
    expect(pdf).toContain('/PrintScaling /None');
  });

  test('carries every box of its cards at true size and place', async () => {
    const pdf = await content();
    // x y width height re, in points from the bottom left; heights count downwards.
    const found = [...pdf.matchAll(/^(-?[\d.]+) (-?[\d.]+) (-?[\d.]+) (-?[\d.]+) re$/gm)].map((match) => {
      const [x = 0, y = 0, w = 0, h = 0] = match.slice(1).map((one) => (Number(one) * 25.4) / 72);
      return [x, sheet.heightMm - y, w, -h];
    });
    const wanted = sheet.cards.flatMap(({ layout, leftMm, topMm }) =>
      drawingOf(layout).boxes.map((box) => [
        leftMm + box.leftMm,
        topMm + box.topMm,
        box.widthMm,
        box.heightMm,
      ]),
    );
    expect(found).toHaveLength(wanted.length);
    found.forEach((box, i) => {
      box.forEach((side, k) => {
        expect(side).toBeCloseTo(wanted[i]?.[k] ?? Number.NaN, 3);
      });
    });
  });

  test('holds its cards, notes and cut lines apart and on the paper', () => {
    const cards = sheet.cards.map(({ layout, leftMm, topMm }) => ({
      leftMm,
      topMm,
      widthMm: layout.widthMm,
      heightMm: layout.heightMm,
    }));
    const room = paper === 'wallet' ? 0 : 10;
    for (const [i, card] of cards.entries()) {
      expect(Math.min(card.leftMm, card.topMm)).toBeGreaterThanOrEqual(room);
      expect(card.leftMm + card.widthMm).toBeLessThanOrEqual(sheet.widthMm - room);
      expect(card.topMm + card.heightMm).toBeLessThanOrEqual(sheet.heightMm - room);
      expect(cards.slice(i + 1).filter((other) => overlap(card, other))).toEqual([]);
      const inner = {
        leftMm: card.leftMm + 0.1,
        topMm: card.topMm + 0.1,
        widthMm: card.widthMm - 0.2,
        heightMm: card.heightMm - 0.2,
      };
      const through = sheet.cuts.filter(({ from, to }) =>
        overlap(inner, {
          leftMm: Math.min(from[0], to[0]),
          topMm: Math.min(from[1], to[1]),
          widthMm: Math.max(0.01, Math.abs(to[0] - from[0])),
          heightMm: Math.max(0.01, Math.abs(to[1] - from[1])),
        }),
      );
      expect(through).toEqual([]);
    }
    for (const { at, text, sizeMm } of sheet.notes) {
      const box = textBox({ at: [0, at[1]], text, sizeMm, bold: false });
      const note = { ...box, leftMm: at[0] };
      expect(note.leftMm + note.widthMm).toBeLessThan(sheet.widthMm - 10);
      expect(cards.filter((card) => overlap(card, note))).toEqual([]);
    }
    expect(sheet.cuts).toHaveLength(paper === 'wallet' ? 0 : 12);
  });
});

test('the grey patch is the sRGB of 18 % reflectance', async () => {
  const pdf = new TextDecoder('latin1').decode(await cardPdf(cardSheet('wallet')));
  const greys = [...pdf.matchAll(/^([\d.]+) g$/gm)].map((match) => Number(match[1]));
  const patch = greys.filter((grey) => grey > 0 && grey < 1);
  expect(patch).not.toEqual([]);
  for (const grey of patch) {
    // Linear light of IEC 61966-2-1; one step of 255 is half a percent of reflectance here.
    expect(((grey + 0.055) / 1.055) ** 2.4).toBeCloseTo(0.18, 2);
  }
});

describe('what a check ruler measures', () => {
  test('is taken as typed, in the unit typed', () => {
    expect(nominalRulerMm('rim card')).toBe(80);
    expect(nominalRulerMm('pocket card')).toBe(40);
    expect(readRuler('rim card', '79,6', 'mm')).toEqual({
      ok: true,
      value: { nominalMm: 80, measuredMm: 79.6 },
    });
    const inches = readRuler('rim card', '3 1/8 in', 'mm');
    expect(inches.ok && inches.value.measuredMm).toBeCloseTo(79.375, 9);
  });

  test.each([
    ['71.9', false],
    ['72', true],
    ['88', true],
    ['88.1', false],
    ['8', false],
    ['0', false],
    ['-80', false],
  ])('%s mm on an 80 mm ruler: taken %s', (typed, taken) => {
    const read = readRuler('rim card', typed, 'mm');
    expect(read.ok).toBe(taken);
    if (read.ok) return;
    expect(read.error).toMatchObject({ code: 'ruler-off', field: 'ruler of the rim card', value: typed });
    expect(read.error.wayOut).toContain('100 %');
  });

  test('is refused with the forms that are understood when it is no length', () => {
    expect(readRuler('pocket card', 'forty', 'mm')).toMatchObject({
      ok: false,
      error: { field: 'ruler of the pocket card', value: 'forty' },
    });
    expect(readRuler('pocket card', '', 'mm').ok).toBe(false);
  });

  test('only a layout that exists can be asked for', () => {
    expect(() => cardLayout('wall card' as never)).toThrow('wall card');
  });
});
