import type { jsPDF } from 'jspdf';

/** Page of a report, mm. */
export const PAGE_MM = { width: 210, height: 297, margin: 16, foot: 14 } as const;
const POINTS_PER_MM = 72 / 25.4;
const LINE_SHARE = 1.35;
/** Room that the beginning of a table takes: its head and one row. */
export const TABLE_START_MM = 16;

/** Fonts with every sign that the sentences use; the built-in ones turn ≥ into other letters. */
const FONTS = [
  ['DejaVuSans.ttf', 'normal', () => new URL('dejavu-fonts-ttf/ttf/DejaVuSans.ttf', import.meta.url)],
  ['DejaVuSans-Bold.ttf', 'bold', () => new URL('dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf', import.meta.url)],
] as const;
export const FONT = 'DejaVuSans';

function base64(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let at = 0; at < bytes.length; at += 32_768)
    pieces.push(String.fromCharCode(...bytes.subarray(at, at + 32_768)));
  return btoa(pieces.join(''));
}

/** A PDF being written from top to bottom, A4, in mm; a page ends when what comes next does not fit. */
export class Sheet {
  readonly pdf: jsPDF;
  y: number = PAGE_MM.margin;

  constructor(pdf: jsPDF) {
    this.pdf = pdf;
  }

  /** Begins one with its fonts; rejects when they cannot be fetched. */
  static async begin(title: string): Promise<Sheet> {
    const { jsPDF: Writer } = await import('jspdf');
    const pdf = new Writer({ unit: 'mm', format: 'a4', compress: true, putOnlyUsedFonts: true });
    pdf.setProperties({ title, creator: 'Rimbook' });
    for (const [file, style, address] of FONTS) {
      const response = await fetch(address());
      if (!response.ok) throw new Error(`The font of the report could not be fetched (${response.status})`);
      pdf.addFileToVFS(file, base64(new Uint8Array(await response.arrayBuffer())));
      pdf.addFont(file, FONT, style);
    }
    pdf.setFont(FONT, 'normal');
    return new Sheet(pdf);
  }

  get width(): number {
    return PAGE_MM.width - 2 * PAGE_MM.margin;
  }

  /** Goes to a new page unless this height is left on the page. */
  need(heightMm: number): void {
    if (this.y + heightMm > PAGE_MM.height - PAGE_MM.margin - PAGE_MM.foot) this.newPage();
  }

  newPage(): void {
    this.pdf.addPage();
    this.y = PAGE_MM.margin;
  }

  heading(text: string, sizeMm = 5): void {
    // A heading never stands alone at the foot of a page.
    this.need(3 * sizeMm + TABLE_START_MM);
    this.y += sizeMm * 0.6;
    this.text(text, { sizeMm, bold: true });
    this.y += 1;
  }

  text(text: string, { sizeMm = 3.3, bold = false, indentMm = 0 } = {}): void {
    this.pdf.setFont(FONT, bold ? 'bold' : 'normal');
    this.pdf.setFontSize(sizeMm * POINTS_PER_MM);
    const lines = this.pdf.splitTextToSize(text, this.width - indentMm) as string[];
    for (const line of lines) {
      this.need(sizeMm * LINE_SHARE);
      this.y += sizeMm * LINE_SHARE;
      this.pdf.text(line, PAGE_MM.margin + indentMm, this.y);
    }
  }

  rows(rows: readonly { readonly label: string; readonly value: string }[]): void {
    this.table(
      ['', ''],
      rows.map(({ label, value }) => [label, value]),
      { plain: true },
    );
  }

  /** Filled in by `reportPdf`, which loads the writer of tables. */
  table: (
    head: readonly string[],
    body: readonly (readonly string[])[],
    options?: { plain?: boolean },
  ) => void = () => {
    throw new Error('Broken invariant: tables are not loaded');
  };

  picture(data: string, format: 'PNG' | 'JPEG', widthMm: number, heightMm: number): void {
    this.need(heightMm + 2);
    this.y += 2;
    this.pdf.addImage(data, format, PAGE_MM.margin, this.y, widthMm, heightMm);
    this.y += heightMm;
  }

  /** A line at the foot of every page: what it is, page of pages, and a mark of demonstration. */
  foot(text: string): void {
    const pages = this.pdf.getNumberOfPages();
    for (let page = 1; page <= pages; page += 1) {
      this.pdf.setPage(page);
      this.pdf.setFont(FONT, 'normal');
      this.pdf.setFontSize(2.6 * POINTS_PER_MM);
      this.pdf.setTextColor(70, 70, 70);
      const lines = this.pdf.splitTextToSize(text, this.width - 24) as string[];
      this.pdf.text(lines, PAGE_MM.margin, PAGE_MM.height - PAGE_MM.margin);
      this.pdf.text(`${page} / ${pages}`, PAGE_MM.width - PAGE_MM.margin, PAGE_MM.height - PAGE_MM.margin, {
        align: 'right',
      });
      this.pdf.setTextColor(0);
    }
  }
}
