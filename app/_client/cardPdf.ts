import type { jsPDF } from 'jspdf';
import {
  type CardDrawing,
  type CardShade,
  type CardSheet,
  drawingOf,
  GREY_SRGB,
  type Point,
} from '../../lib/photo/index.ts';

/** Points of PDF (1/72 in) in a millimetre. */
const POINTS_PER_MM = 72 / 25.4;

/** Values of sRGB, 0 to 255. */
const SHADES: Readonly<Record<CardShade, number>> = {
  white: 255,
  black: 0,
  grey: Math.round(GREY_SRGB * 255),
};
const CUT_GREY = 110;
const CUT_WIDTH_MM = 0.1;

/**
 * The printable page as a PDF, drawn in vectors at true size. The file asks viewers to print it without scaling; not
 * all of them do. The writer is loaded here so that no other page carries it.
 */
export async function cardPdf(sheet: CardSheet): Promise<ArrayBuffer> {
  const { jsPDF: Writer } = await import('jspdf');
  const pdf = new Writer({
    unit: 'mm',
    format: [sheet.widthMm, sheet.heightMm],
    orientation: sheet.widthMm > sheet.heightMm ? 'landscape' : 'portrait',
    compress: false,
    putOnlyUsedFonts: true,
  });
  pdf.setProperties({ title: `Rimbook scale cards, ${sheet.paper}` });
  pdf.viewerPreferences({ PrintScaling: 'None' });
  pdf.setTextColor(0);
  for (const { at, text, sizeMm } of sheet.notes) {
    pdf.setFont('helvetica', 'normal');
    pdf.setFontSize(sizeMm * POINTS_PER_MM);
    pdf.text(text, at[0], at[1]);
  }
  for (const { layout, leftMm, topMm } of sheet.cards) drawCard(pdf, drawingOf(layout), [leftMm, topMm]);
  pdf.setDrawColor(CUT_GREY);
  pdf.setLineWidth(CUT_WIDTH_MM);
  for (const { from, to } of sheet.cuts) pdf.line(...from, ...to);
  return pdf.output('arraybuffer');
}

function drawCard(pdf: jsPDF, drawing: CardDrawing, [left, top]: Point): void {
  for (const { leftMm, topMm, widthMm, heightMm, shade } of drawing.boxes) {
    pdf.setFillColor(SHADES[shade], SHADES[shade], SHADES[shade]);
    pdf.rect(left + leftMm, top + topMm, widthMm, heightMm, 'F');
  }
  pdf.setDrawColor(0);
  pdf.setLineCap('butt');
  for (const { from, to, widthMm } of drawing.lines) {
    pdf.setLineWidth(widthMm);
    pdf.line(left + from[0], top + from[1], left + to[0], top + to[1]);
  }
  for (const { at, text, sizeMm, bold } of drawing.texts) {
    pdf.setFont('helvetica', bold ? 'bold' : 'normal');
    pdf.setFontSize(sizeMm * POINTS_PER_MM);
    pdf.text(text, left + at[0], top + at[1], { align: 'center' });
  }
}
