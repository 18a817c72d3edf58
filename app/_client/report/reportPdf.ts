import {
  type InspectionReport,
  momentWords,
  type ReportPart,
  type ReportPhoto,
  type WheelReport,
} from '../../../lib/report/index.ts';
import type { Group } from '../../_drawings/unrolled.ts';
import type { PagePicture } from './pictures.ts';
import { FONT, PAGE_MM, Sheet, TABLE_START_MM } from './sheet.ts';
import { writeUnrolled } from './unrolledPages.ts';

/** What a report needs beside its words. */
export interface ReportPictures {
  readonly drawings: readonly { readonly title: string; readonly picture: PagePicture }[];
  /** Everything that was found, by part, zone and clock position. */
  readonly unrolled: readonly Group[];
  /** The photo with its marks; null where it cannot be had now. */
  photo(photo: ReportPhoto): Promise<PagePicture | null>;
}

/** The end of the record's chain, as it was checked when the report was made. */
export interface ReportChain {
  readonly entries: number;
  readonly hash: string;
  readonly whole: boolean;
}

async function withTables(sheet: Sheet): Promise<void> {
  const { autoTable } = await import('jspdf-autotable');
  sheet.table = (head, body, { plain = false } = {}) => {
    if (body.length === 0) return;
    sheet.need(TABLE_START_MM);
    autoTable(sheet.pdf, {
      startY: sheet.y + 2,
      margin: { left: PAGE_MM.margin, right: PAGE_MM.margin, bottom: PAGE_MM.margin + PAGE_MM.foot },
      ...(plain ? { showHead: 'never' as const } : { head: [[...head]] }),
      body: body.map((row) => [...row]),
      theme: 'grid',
      rowPageBreak: 'avoid',
      styles: {
        font: FONT,
        fontSize: 8,
        cellPadding: 1.2,
        lineColor: 190,
        textColor: 0,
        overflow: 'linebreak',
      },
      headStyles: { font: FONT, fontStyle: 'bold', fillColor: 235, textColor: 0 },
      columnStyles: plain ? { 0: { cellWidth: 70, fontStyle: 'bold' } } : {},
    });
    const { lastAutoTable } = sheet.pdf as unknown as { lastAutoTable: { finalY: number } };
    sheet.y = lastAutoTable.finalY;
  };
}

function writePart(sheet: Sheet, part: ReportPart): void {
  sheet.heading(part.slot, 4.2);
  sheet.text(part.identity);
  const call = (one: string | null) => one ?? 'none';
  sheet.table(
    ['Submitted class', 'Inspector’s call', 'Reviewer’s call', 'What holds'],
    [[call(part.submitted), call(part.inspector), call(part.reviewer), part.settled ?? 'not settled']],
  );
  sheet.table(
    ['Reason', 'Limit and whose it is'],
    part.reasons.map(({ sentence, limit }) => [sentence, limit]),
  );
  sheet.table(
    ['Missing'],
    part.missing.map((one) => [one]),
  );
  sheet.table(
    ['Reading', 'As typed', 'mm', 'Instrument', 'Read by', 'When'],
    part.readings.map(({ where, typed, valueMm, instrument, by, at }) => [
      where,
      typed,
      valueMm.toFixed(2),
      instrument,
      by,
      momentWords(at),
    ]),
  );
}

async function writePhoto(sheet: Sheet, photo: ReportPhoto, pictures: ReportPictures): Promise<void> {
  const picture = await pictures.photo(photo);
  const widthMm = photo.marks.length > 0 ? sheet.width : sheet.width / 2;
  if (picture === null) sheet.text('This photo could not be fetched when the report was made.');
  else {
    const heightMm = (widthMm * picture.heightPx) / picture.widthPx;
    sheet.need(heightMm + 14);
    sheet.picture(picture.data, 'JPEG', widthMm, heightMm);
  }
  sheet.text(photo.caption, { sizeMm: 2.8 });
  for (const [i, { words }] of photo.marks.entries())
    sheet.text(`${i + 1}: ${words}`, { sizeMm: 3, indentMm: 4 });
  sheet.y += 3;
}

async function writeInspection(
  sheet: Sheet,
  report: InspectionReport,
  pictures: ReportPictures,
  chain: ReportChain | null,
): Promise<void> {
  sheet.text(report.title, { sizeMm: 7, bold: true });
  if (report.demonstration)
    sheet.text('DEMONSTRATION: this verdict rests on invented limits. It is not for real rims.', {
      sizeMm: 4,
      bold: true,
    });
  sheet.text(report.standing, { sizeMm: 4, bold: true });
  sheet.rows(report.identity);
  sheet.heading('Cautions');
  for (const caution of report.cautions) sheet.text(`• ${caution}`);
  sheet.heading('Verdict part by part');
  for (const part of report.parts) writePart(sheet, part);
  sheet.heading(report.assembly.fit ? 'Fit to go together' : 'Not fit to go together', 4.2);
  for (const reason of report.assembly.reasons) sheet.text(`• ${reason}`);
  for (const { title, picture } of pictures.drawings) {
    const heightMm = Math.min(150, (sheet.width * picture.heightPx) / picture.widthPx);
    sheet.need(heightMm + 14);
    sheet.heading(title, 4.2);
    sheet.picture(picture.data, 'PNG', (heightMm * picture.widthPx) / picture.heightPx, heightMm);
  }
  sheet.heading('The rim laid flat', 4.2);
  writeUnrolled(sheet, pictures.unrolled);
  sheet.heading(`Photos (${report.photos.length})`);
  for (const photo of report.photos) await writePhoto(sheet, photo, pictures);
  sheet.heading('Conditions');
  sheet.rows(report.conditions);
  sheet.heading('Tables in force');
  sheet.table(
    ['Table', 'Edition', 'SHA-256 of its content'],
    report.limits.map(({ title, edition, hash }) => [title, edition, hash]),
  );
  sheet.heading('Signatures');
  sheet.table(
    ['What', 'Who', 'When', 'How'],
    report.signatures.map(({ what, by, at, words }) => [what, by, momentWords(at), words]),
  );
  sheet.heading('Hashes');
  sheet.rows([
    ...(report.verdict === null
      ? []
      : [
          { label: 'Submitted verdict, SHA-256', value: report.verdict.hash },
          { label: 'Rule engine', value: report.verdict.engine },
        ]),
    ...(chain === null
      ? [{ label: 'Record', value: 'not checked: it could not be fetched when the report was made' }]
      : [
          { label: 'Record, end of its chain of hashes', value: chain.hash },
          {
            label: 'Record, checked when the report was made',
            value: chain.whole
              ? `whole, ${chain.entries} entries`
              : 'BROKEN: entries were changed, removed or moved',
          },
        ]),
  ]);
}

/** One inspection with all that its pages need. */
export interface InspectionPages {
  readonly report: InspectionReport;
  readonly pictures: ReportPictures;
  readonly chain: ReportChain | null;
}

/** The report of one inspection as a PDF (A4): for an auditor, with everything its verdict rests on. */
export async function reportPdf(
  { report, pictures, chain }: InspectionPages,
  madeAt: string,
): Promise<ArrayBuffer> {
  const sheet = await Sheet.begin(report.title);
  await withTables(sheet);
  await writeInspection(sheet, report, pictures, chain);
  sheet.foot(
    `${report.title}, ${report.standing}${report.demonstration ? ' Demonstration limits: not for real rims.' : ''} Made ${momentWords(madeAt)}.`,
  );
  return sheet.pdf.output('arraybuffer');
}

/** A wheel's whole history as a PDF: what it is, its parts, every inspection in a line, then each of them in full. */
export async function wheelPdf(
  book: WheelReport,
  count: number,
  inspection: (n: number) => Promise<InspectionPages>,
  madeAt: string,
): Promise<ArrayBuffer> {
  const sheet = await Sheet.begin(book.title);
  await withTables(sheet);
  sheet.text(book.title, { sizeMm: 7, bold: true });
  sheet.rows(book.identity);
  sheet.heading('Parts and when they were in it');
  sheet.table(
    ['Place', 'Part', 'From', 'Until', 'Hours on duty'],
    book.stays.map(({ slot, part, from, until, hours }) => [slot, part, from, until, hours]),
  );
  if (book.works.length > 0) {
    sheet.heading('Tests and repairs of its parts');
    sheet.table(
      ['Day', '', 'What'],
      book.works.map(({ on, what, words }) => [on, what, words]),
    );
  }
  sheet.heading(`Inspections (${book.history.length})`);
  sheet.table(
    ['Begun', 'Reason', 'By', 'Classes', 'Review'],
    book.history.map(({ at, reason, by, results, review }) => [at, reason, by, results, review]),
  );
  let demonstration = false;
  for (let n = 0; n < count; n += 1) {
    const { report, pictures, chain } = await inspection(n);
    demonstration ||= report.demonstration;
    sheet.newPage();
    await writeInspection(sheet, report, pictures, chain);
  }
  sheet.foot(
    `${book.title}.${demonstration ? ' Demonstration limits: not for real rims.' : ''} Made ${momentWords(madeAt)}.`,
  );
  return sheet.pdf.output('arraybuffer');
}
