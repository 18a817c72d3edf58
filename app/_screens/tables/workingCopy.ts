'use client';
import { useCallback, useMemo } from 'react';
import { z } from 'zod';
import { LINE_KINDS, type Sheet, type SheetLine, sheetOf } from '../../../lib/tolerances/index.ts';
import { newId } from '../../_client/device.ts';
import { usePlace } from '../../_client/place.ts';
import { useStored } from '../../_client/useStored.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import type { ShownTable } from './shown.ts';

const Line = z.strictObject({
  id: z.string(),
  kind: z.enum(LINE_KINDS),
  cells: z.record(z.string(), z.string()),
});
const Stored = z.strictObject({
  sheet: z.strictObject({ table: Line, rows: z.array(Line) }),
  base: z.string().nullable(),
  note: z.string(),
});

/** What was typed of a table and not entered yet. */
export interface WorkingCopy {
  readonly sheet: Sheet;
  /** Hash of the draft it was begun from; null for a new table. */
  readonly base: string | null;
  /** What was changed and why, as typed so far. */
  readonly note: string;
}

/** A working copy in a list. */
export interface ListedCopy {
  /** Id of the subject in the record, which may not have any entry yet. */
  readonly id: string;
  readonly title: string;
}

const Ids = z.array(z.string());

/** Key of the text that a working copy is kept under on the device. */
function copyKey(id: string): string {
  return `table ${id}`;
}

/** The working copy in a text kept on the device; null where there is none. */
function copyIn(text: string): WorkingCopy | null {
  return text === '' ? null : Stored.parse(JSON.parse(text));
}

/** A row to begin with. */
export function emptyLine(kind: SheetLine['kind']): SheetLine {
  const cells: Record<string, string> = { 'source kind': 'site' };
  if (kind === 'limit') Object.assign(cells, { unit: 'mm', methods: 'gauge', 'repair needs': 'rework' });
  if (kind === 'evidence (reading)') cells.repeats = '1';
  return { id: newId(), kind, cells };
}

function emptySheet(): Sheet {
  return {
    table: { id: 'table', kind: 'table', cells: { 'decision rule': 'guarded', risk: '0.05' } },
    rows: [],
  };
}

/** A sheet to make the next edition from a table; a table of the program is copied under a name of its own. */
function nextEdition({ table, standing }: ShownTable): Sheet {
  const sheet = sheetOf(table);
  const cells: Record<string, string> = { ...sheet.table.cells, edition: '' };
  if (standing === 'with the program') cells.name = `${table.table}, own`;
  return { ...sheet, table: { ...sheet.table, cells } };
}

/** Tables being changed on this device and not entered yet. */
export function useWorkingCopies(): {
  readonly list: readonly ListedCopy[];
  /** Begins a new table, empty or from another, and opens it. */
  begin(from: ShownTable | null): Promise<void>;
  /** Begins a new table with this content, and opens it. */
  beginWith(sheet: Sheet): Promise<void>;
  keep(id: string, copy: WorkingCopy): Promise<void>;
  /** The copy kept for an id, or null. */
  read(id: string): Promise<WorkingCopy | null>;
  forget(id: string): Promise<void>;
} {
  const { store, site } = useWorkplace();
  const { go } = usePlace();
  const note = `tables being changed ${site.id}`;
  const readIds = useCallback(async () => Ids.catch([]).parse((await store.note(note)) ?? []), [store, note]);
  const readList = useCallback(async () => {
    const ids = await readIds();
    const texts = await Promise.all(ids.map((id) => store.draft(copyKey(id))));
    return ids.map((id, index) => ({ id, title: copyIn(texts[index] ?? '')?.sheet.table.cells.title ?? '' }));
  }, [store, readIds]);
  const list = useStored(store, readList, NO_COPIES);
  return useMemo(() => {
    const keep = async (id: string, copy: WorkingCopy) => {
      await store.setDraft(copyKey(id), JSON.stringify(copy));
      const ids = await readIds();
      if (!ids.includes(id)) await store.setNote(note, [...ids, id]);
    };
    const open = async (sheet: Sheet) => {
      const id = newId();
      await keep(id, { sheet, base: null, note: '' });
      go({ table: id, show: 'change' });
    };
    return {
      list,
      begin: (from) => open(from === null ? emptySheet() : nextEdition(from)),
      beginWith: open,
      keep,
      async read(id) {
        return copyIn(await store.draft(copyKey(id)));
      },
      async forget(id) {
        await store.setDraft(copyKey(id), '');
        await store.setNote(
          note,
          (await readIds()).filter((one) => one !== id),
        );
      },
    };
  }, [list, store, note, readIds, go]);
}

const NO_COPIES: ListedCopy[] = [];
