import type { WheelState } from '../../lib/record/index.ts';

const PAGE_MM = { width: 210, height: 297 } as const;
const MARGIN_MM = 10;
const LABEL_MM = { width: 95, height: 40 } as const;
const CODE_MM = 34;
const POINTS_PER_MM = 72 / 25.4;

/** The address that a label's code holds: the book of the wheel with this tag. */
export function labelAddress(tag: string, origin: string): string {
  return `${origin}/wheel?tag=${tag}`;
}

/** Labels of wheels on A4, two beside each other: QR code (ISO/IEC 18004, drawn in vectors), tag, machine and position. */
export async function labelsPdf(wheels: readonly WheelState[], origin: string): Promise<ArrayBuffer> {
  const [{ jsPDF: Writer }, { create }] = await Promise.all([import('jspdf'), import('qrcode')]);
  const pdf = new Writer({ unit: 'mm', format: 'a4', compress: true, putOnlyUsedFonts: true });
  pdf.setProperties({ title: 'Rimbook wheel labels' });
  const rows = Math.floor((PAGE_MM.height - 2 * MARGIN_MM) / LABEL_MM.height);
  for (const [i, { tag, machine, position, designation }] of wheels.entries()) {
    const place = i % (2 * rows);
    if (i > 0 && place === 0) pdf.addPage();
    const left = MARGIN_MM + (place % 2) * LABEL_MM.width;
    const top = MARGIN_MM + Math.floor(place / 2) * LABEL_MM.height;
    pdf.setDrawColor(170, 170, 170);
    pdf.setLineWidth(0.1);
    pdf.rect(left, top, LABEL_MM.width, LABEL_MM.height);
    const { modules } = create(labelAddress(tag, origin), { errorCorrectionLevel: 'M' });
    const side = CODE_MM / modules.size;
    pdf.setFillColor(0, 0, 0);
    modules.data.forEach((dark, n) => {
      if (dark === 0) return;
      const [x, y] = [n % modules.size, Math.floor(n / modules.size)];
      pdf.rect(left + 3 + x * side, top + 3 + y * side, side, side, 'F');
    });
    const words = left + CODE_MM + 8;
    pdf.setFont('courier', 'bold');
    pdf.setFontSize(9 * POINTS_PER_MM);
    pdf.text(tag, words, top + 14);
    pdf.setFont('helvetica', 'normal');
    pdf.setFontSize(3.6 * POINTS_PER_MM);
    pdf.text([`${machine} ${position}`.trim(), designation], words, top + 23, {
      maxWidth: LABEL_MM.width - CODE_MM - 10,
    });
  }
  return pdf.output('arraybuffer');
}
