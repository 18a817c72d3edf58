import { lettersOf } from '../../_drawings/glyphs.tsx';
import { type Group, type Item, shareOfRound } from '../../_drawings/unrolled.ts';
import { FONT, PAGE_MM, type Sheet } from './sheet.ts';

const NAME_MM = 42;
const ROW_MM = 6;
const POINTS_PER_MM = 72 / 25.4;
const HOURS = [12, 3, 6, 9] as const;

/** What stands at a place: the figure of a reading, the letters of a defect, a square for a photo. */
function signOf({ what, figure, defect }: Item): string {
  if (what === 'photo') return '▫';
  return what === 'reading' ? figure : lettersOf(defect ?? 'measure');
}

/** Everything that was found, on the rim laid flat: the places of the screen's drawing, a row for each zone. */
export function writeUnrolled(sheet: Sheet, groups: readonly Group[]): void {
  const { pdf } = sheet;
  const left = PAGE_MM.margin + NAME_MM;
  const round = sheet.width - NAME_MM - 10;
  const write = (text: string, x: number, y: number, bold = false, align: 'left' | 'center' = 'left') => {
    pdf.setFont(FONT, bold ? 'bold' : 'normal');
    pdf.setFontSize(2.6 * POINTS_PER_MM);
    pdf.text(text, x, y, { align });
  };
  for (const { slot, rows } of groups) {
    sheet.need(2 * ROW_MM + 4);
    sheet.y += ROW_MM;
    write(slot, PAGE_MM.margin, sheet.y, true);
    for (const hour of HOURS) write(`${hour}`, left + shareOfRound(hour) * round, sheet.y, false, 'center');
    for (const { zone, items, look } of rows) {
      sheet.need(ROW_MM);
      sheet.y += ROW_MM;
      pdf.setDrawColor(190);
      pdf.setLineWidth(0.1);
      pdf.line(left, sheet.y + 1.2, left + round, sheet.y + 1.2);
      write(zone, PAGE_MM.margin, sheet.y);
      const places = new Map<number | null, string[]>();
      for (const item of items) places.set(item.clock, [...(places.get(item.clock) ?? []), signOf(item)]);
      for (const [clock, signs] of places) {
        const text = [...new Set(signs)].join(' ');
        if (clock === null) write(text, left + round + 2, sheet.y);
        else write(text, left + shareOfRound(clock) * round, sheet.y, true, 'center');
      }
      if (items.length === 0) write(look ?? 'not looked at', left + 2, sheet.y);
    }
  }
  sheet.text(
    'Clock positions seen from the gutter side, 12 at the valve; at the right end what has no position. ▫ photo.',
    {
      sizeMm: 2.6,
    },
  );
}
