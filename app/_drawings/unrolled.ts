import type { DefectKind } from '../../lib/marks/index.ts';
import type { InspectionState } from '../../lib/record/index.ts';
import { CLASSES, type Class, type Verdict } from '../../lib/rules/index.ts';
import { showNumber } from '../../lib/units/index.ts';
import type { Construction } from '../../lib/wheel/index.ts';

/** Something that was found or measured, ready to be put at its clock position. */
export interface Item {
  readonly id: string;
  readonly what: 'photo' | 'mark' | 'noted' | 'reading';
  readonly slot: string;
  readonly zone: string;
  /** Null when nobody said where round the rim it is. */
  readonly clock: number | null;
  /** What stands at the place: a figure, or nothing where a glyph or a picture stands. */
  readonly figure: string;
  readonly defect: DefectKind | null;
  /** The photo that shows it, when there is one. */
  readonly photo: string | null;
  readonly words: string;
  /** Class of the finding that rests on it and decides its zone. */
  readonly class: Class | null;
}

export interface Row {
  readonly zone: string;
  readonly items: readonly Item[];
  /** What the eye said, or null when nobody looked. */
  readonly look: string | null;
}

export interface Group {
  readonly slot: string;
  readonly rows: readonly Row[];
}

/** The slot of a component by its id; parts that are in no known slot get a name all the same. */
export type SlotName = (component: string) => string;

/** "3 o'clock", or that the place is not given. */
export function clockWords(clock: number | null): string {
  return clock === null ? 'clock not given' : `${clock} o’clock`;
}

/** Share of the way round from the left end: 12 is the left end, and 6 the middle. */
export function shareOfRound(clock: number): number {
  return (clock % 12) / 12;
}

function classesOf(verdict: Verdict | undefined): ReadonlyMap<string, Class> {
  const found = new Map<string, Class>();
  for (const finding of (verdict?.parts ?? []).flatMap((part) => part.findings)) {
    if (finding.about === 'age') continue;
    const ids = finding.about === 'limit' ? finding.governing.readings : [finding.defectId];
    for (const id of ids) {
      const known = found.get(id);
      if (known === undefined || CLASSES.indexOf(finding.class) > CLASSES.indexOf(known)) {
        found.set(id, finding.class);
      }
    }
  }
  return found;
}

function itemsOf(state: InspectionState, slotName: SlotName, verdict: Verdict | undefined): Item[] {
  const classes = classesOf(verdict);
  const photos = [...state.photos.values()].map(({ value }): Item => {
    const words = `Photo, ${clockWords(value.clock)}: ${value.name}`;
    return { ...base(value, slotName), id: value.photo, what: 'photo', photo: value.photo, words };
  });
  const marks = [...state.marks.values()].map(({ value }): Item => {
    // A mark without a place of its own is where its photo was taken.
    const byPhoto = value.clock === null ? (state.photos.get(value.photo)?.value.clock ?? null) : null;
    const clock = value.clock ?? byPhoto;
    const place = `${clockWords(clock)}${byPhoto === null ? '' : ', as its photo'}`;
    const note = value.note === '' ? '' : `: ${value.note}`;
    return {
      ...base(value, slotName),
      clock,
      id: value.mark,
      what: 'mark',
      defect: value.defect,
      photo: value.photo,
      words: `${value.defect ?? 'measure'} marked on a photo, ${place} (${value.method})${note}`,
      class: classes.get(value.mark) ?? null,
    };
  });
  const noted = [...state.defects.values()].map(({ value }): Item => {
    const note = value.note === '' ? '' : `: ${value.note}`;
    return {
      ...base(value, slotName),
      id: value.defectId,
      what: 'noted',
      defect: value.defect,
      words: `${value.defect} noted without a photo, ${clockWords(value.clock)} (${value.method})${note}`,
      class: classes.get(value.defectId) ?? null,
    };
  });
  const readings = [...state.readings.values()].map(({ value }): Item => {
    const how = value.state === null ? '' : ` (${value.state})`;
    return {
      ...base(value, slotName),
      id: value.reading,
      what: 'reading',
      figure: showNumber(value.valueMm, 2).replace(/0$/, ''),
      words: `${value.characteristic}${how} ${showNumber(value.valueMm, 1)} mm, ${clockWords(value.clock)}, typed “${value.typed}”`,
      class: classes.get(value.reading) ?? null,
    };
  });
  return [...marks, ...noted, ...readings, ...photos];
}

function base(
  value: { readonly component: string; readonly zone: string; readonly clock: number | null },
  slotName: SlotName,
): Omit<Item, 'id' | 'what' | 'words'> {
  return {
    slot: slotName(value.component),
    zone: value.zone,
    clock: value.clock,
    figure: '',
    defect: null,
    photo: null,
    class: null,
  };
}

/**
 * Everything of an inspection by part and zone, in the construction's order. Parts and zones that the construction
 * does not have come last; nothing is dropped. `verdict` tells which readings and defects decide.
 */
export function unroll(
  construction: Construction,
  state: InspectionState,
  slotName: SlotName,
  verdict?: Verdict,
): Group[] {
  const items = itemsOf(state, slotName, verdict);
  const looks = new Map(
    [...state.looks.values()].map(({ value }) => [
      `${slotName(value.component)}|${value.zone}`,
      value.result,
    ]),
  );
  const known: Map<string, Set<string>> = new Map(
    construction.slots
      .filter((slot) => slot.inspected || items.some((item) => item.slot === slot.slot))
      .map((slot) => [slot.slot, new Set<string>(slot.zones.map(({ zone }) => zone))]),
  );
  for (const { slot, zone } of items) known.set(slot, (known.get(slot) ?? new Set()).add(zone));
  return [...known].map(([slot, zones]) => ({
    slot,
    rows: [...zones].map((zone) => ({
      zone,
      items: items.filter((item) => item.slot === slot && item.zone === zone),
      look: looks.get(`${slot}|${zone}`) ?? null,
    })),
  }));
}

/** One thing at a place, or several that share it behind a count. */
export interface Token {
  readonly key: string;
  readonly clock: number | null;
  readonly items: readonly Item[];
}

const WHAT_ORDER = ['mark', 'noted', 'reading', 'photo'] as const;

/** Worst first, then marks, readings, photos: what may stand before a count hides the rest. */
export function byWeight(one: Item, other: Item): number {
  const weight = (item: Item) => (item.class === null ? -1 : CLASSES.indexOf(item.class));
  return weight(other) - weight(one) || WHAT_ORDER.indexOf(one.what) - WHAT_ORDER.indexOf(other.what);
}

/** Puts what is at one clock position together: at most `most` tokens there, the last one a count if need be. */
export function tokensOf(items: readonly Item[], most: number): Token[] {
  const byClock = new Map<number | null, Item[]>();
  for (const item of items) byClock.set(item.clock, [...(byClock.get(item.clock) ?? []), item]);
  return [...byClock].flatMap(([clock, here]) => {
    const sorted = here.sort(byWeight);
    const shown = sorted.length > most ? sorted.slice(0, most - 1) : sorted;
    const rest = sorted.slice(shown.length);
    return [
      ...shown.map((item) => ({ key: item.id, clock, items: [item] })),
      ...(rest.length === 0 ? [] : [{ key: `more at ${clock}`, clock, items: rest }]),
    ];
  });
}

/** A token's place in a row: middle in px and which lane below the first it takes. */
export interface Placed {
  readonly token: Token;
  readonly middle: number;
  readonly lane: number;
  /** True at the right end, where 12 o'clock comes round again. */
  readonly again: boolean;
}

/** Lays tokens along a track; those that would touch go one lane down. Things at 12 stand at both ends. */
export function layOut(
  tokens: readonly Token[],
  trackPx: number,
  edgePx: number,
  widthOf: (token: Token) => number,
): { placed: Placed[]; lanes: number } {
  const run = trackPx - 2 * edgePx;
  const wishes = tokens.flatMap((token) => {
    if (token.clock === null) return [];
    const share = shareOfRound(token.clock);
    const here = { token, middle: edgePx + share * run, again: false };
    return share === 0 ? [here, { token, middle: edgePx + run, again: true }] : [here];
  });
  const ends: number[] = [];
  const placed = wishes
    .sort((a, b) => a.middle - b.middle)
    .map((wish) => {
      const half = widthOf(wish.token) / 2;
      const from = Math.max(0, Math.min(wish.middle - half, trackPx - 2 * half));
      const found = ends.findIndex((end) => end + 2 <= from);
      const lane = found === -1 ? ends.length : found;
      ends[lane] = from + 2 * half;
      return { ...wish, middle: from + half, lane };
    });
  return { placed, lanes: ends.length };
}
