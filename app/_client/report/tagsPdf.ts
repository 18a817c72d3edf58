import type { InspectionReport, ReportPart } from '../../../lib/report/index.ts';
import { Sheet } from './sheet.ts';

/** Width and height of a tag, mm: four on an A4 page. */
const TAG_MM = { width: 90, height: 128 } as const;
const CODE_MM = 32;
const POINTS_PER_MM = 72 / 25.4;

/** Words beside the class, and its safety colour after ISO 3864-4: red prohibition, yellow caution. */
const WORDS = {
  scrap: ['SCRAP', 'Out of service. Never to be fitted again.', [155, 36, 35]],
  repair: ['REPAIR', 'Not to be fitted before a qualified facility has dealt with it.', [249, 168, 0]],
  hold: ['HOLD', 'Not to be fitted: what is missing stands in the report.', [249, 168, 0]],
} as const;
type Tagged = keyof typeof WORDS;

/** Parts that get a tag, by what holds for them or, while nothing is settled, by what was submitted. */
export function partsToTag(report: InspectionReport): (ReportPart & { readonly word: Tagged })[] {
  return report.parts.flatMap((part) => {
    const word = part.settled ?? part.submitted;
    return word === null || word === 'keep' ? [] : [{ ...part, word }];
  });
}

/** Tags to hang on parts that must not be used, four to a page, each with a QR code that opens the inspection. */
export async function tagsPdf(report: InspectionReport, tag: string, address: string): Promise<ArrayBuffer> {
  const [{ create }, { pdf }] = await Promise.all([import('qrcode'), Sheet.begin(`Tags, ${report.title}`)]);
  const { modules } = create(address, { errorCorrectionLevel: 'M' });
  for (const [i, part] of partsToTag(report).entries()) {
    if (i > 0 && i % 4 === 0) pdf.addPage();
    const left = 10 + (i % 2) * (TAG_MM.width + 8);
    const top = 12 + (Math.floor(i / 2) % 2) * (TAG_MM.height + 10);
    const [word, means, [red, green, blue]] = WORDS[part.word];
    pdf.setDrawColor(0);
    pdf.setLineWidth(0.6);
    pdf.rect(left, top, TAG_MM.width, TAG_MM.height);
    pdf.circle(left + TAG_MM.width / 2, top + 7, 3);
    pdf.setFillColor(red, green, blue);
    pdf.rect(left, top + 14, TAG_MM.width, 22, 'F');
    pdf.setTextColor(part.word === 'scrap' ? '#ffffff' : '#000000');
    const write = (text: string, y: number, sizeMm: number, bold = false) => {
      pdf.setFont('DejaVuSans', bold ? 'bold' : 'normal');
      pdf.setFontSize(sizeMm * POINTS_PER_MM);
      const lines = pdf.splitTextToSize(text, TAG_MM.width - 10) as string[];
      pdf.text(lines, left + 5, top + y);
      return y + lines.length * sizeMm * 1.35;
    };
    write(word, 30, 13, true);
    pdf.setTextColor(0);
    let y = write(means, 43, 3.6, true);
    y = write(part.slot, y + 2, 5, true);
    y = write(part.identity, y, 3);
    y = write(`Wheel ${tag}. ${report.standing}`, y + 1, 3);
    if (report.demonstration) write('DEMONSTRATION: not for real rims.', y + 1, 3, true);
    const side = CODE_MM / modules.size;
    pdf.setFillColor(0, 0, 0);
    modules.data.forEach((dark, n) => {
      if (dark === 0) return;
      pdf.rect(
        left + 5 + (n % modules.size) * side,
        top + TAG_MM.height - CODE_MM - 5 + Math.floor(n / modules.size) * side,
        side,
        side,
        'F',
      );
    });
    pdf.setFontSize(2.7 * POINTS_PER_MM);
    pdf.setFont('DejaVuSans', 'normal');
    pdf.text(
      pdf.splitTextToSize(
        'Never weld, heat or strike a part with a tyre mounted or air in it. The decision belongs to a competent person.',
        TAG_MM.width - CODE_MM - 14,
      ) as string[],
      left + CODE_MM + 9,
      top + TAG_MM.height - CODE_MM,
    );
  }
  return pdf.output('arraybuffer');
}
