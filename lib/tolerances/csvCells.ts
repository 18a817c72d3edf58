import { fail, ok, type Result } from '../base/index.ts';
import { hasMm, parseTypedLength, parseTypedNumber, toMm, toMm2 } from '../units/index.ts';
import type { CellForm } from './csvColumns.ts';
import {
  guarded,
  LIST_NOTATION,
  type ListFault,
  listIn,
  listText,
  PAIR_NOTATION,
  pairsIn,
  pairsText,
  unguarded,
} from './csvText.ts';
import type { MatchRow } from './table.ts';

/** Units that the sizes of a line can be in; areas are then in mm² or in². */
export const UNITS = ['mm', 'in'] as const;
export type Unit = (typeof UNITS)[number];

/** What the rest of a line says about its numbers. */
export interface Measure {
  readonly unit: Unit;
  /** Whether the characteristic is an area. */
  readonly area: boolean;
  /** Whether the bounds are in percent. */
  readonly percent: boolean;
}

/** What is wrong with a cell; the place and the value are added by whoever knows them. */
export interface CellFault {
  readonly code: string;
  readonly message: string;
  readonly wayOut: string;
}

const NUMBER_WAY_OUT = 'Type one number, such as 10.5, 10,5, 7/16 or 1 3/16.';
/** Longer than any length that a person or a spreadsheet writes. */
const LENGTH_CHARS_MAX = 40;
/** A comma before exactly three digits: a decimal comma to some, thousands to others. */
const DECIMAL_OR_THOUSANDS = /^[-+−–]?\s*[1-9]\d{0,2},\d{3}(?!\d)/;
/** As spreadsheets write very large and very small numbers. */
const WITH_EXPONENT = /^[-+]?\d+(?:[.,]\d+)?e[-+]?\d+$/i;

function unreadable(message = 'This cannot be read as one number', wayOut = NUMBER_WAY_OUT) {
  return fail<CellFault>({ code: 'csv-number', message, wayOut });
}

function numberIn(text: string): Result<number, CellFault> {
  const trimmed = text.trim();
  if (DECIMAL_OR_THOUSANDS.test(trimmed)) {
    const message = 'The comma can stand for decimals or for thousands';
    const wayOut = `Write ${trimmed.replace(',', '.')} or ${trimmed.replace(',', '')}.`;
    return fail({ code: 'csv-comma', message, wayOut });
  }
  const value = WITH_EXPONENT.test(trimmed) ? Number(trimmed.replace(',', '.')) : parseTypedNumber(trimmed);
  return value === null ? unreadable() : scaled(value, 'mm', 1);
}

function percentIn(text: string): Result<number, CellFault> {
  return numberIn(text.trim().replace(/%$/, ''));
}

function areaIn(text: string, unit: Unit): Result<number, CellFault> {
  const read = numberIn(text);
  return read.ok ? scaled(read.value, unit, 2) : read;
}

/** A number of the unit's, or of its square's, in mm or mm². */
function scaled(value: number, unit: Unit, power: 1 | 2): Result<number, CellFault> {
  if (!hasMm(value, unit, power)) return unreadable('The number is too large');
  return ok(power === 1 ? toMm(value, unit) : toMm2(value, unit));
}

/** A length in mm, typed in the unit of the line; a unit behind the number is allowed when it is that of the line. */
function lengthIn(text: string, unit: Unit): Result<number, CellFault> {
  const trimmed = text.trim();
  if (trimmed.length > LENGTH_CHARS_MAX) return unreadable();
  const plain = numberIn(trimmed);
  if (plain.ok) return scaled(plain.value, unit, 1);
  const hasUnit = /\D$/.test(trimmed);
  if (plain.error.code !== 'csv-number' || !hasUnit) return plain;
  const typed = parseTypedLength(trimmed, unit);
  if (!typed.ok) return unreadable(typed.error.message);
  if (typed.value.unit === unit) return ok(typed.value.valueMm);
  return unreadable(
    `The cell is in ${typed.value.unit}, the line in ${unit}`,
    'Give the cell in the unit of its line, or change the unit.',
  );
}

function listed<T>(read: readonly T[] | ListFault, wayOut: string): Result<readonly T[], CellFault> {
  return 'message' in read ? fail({ code: 'csv-list', message: read.message, wayOut }) : ok(read);
}

function twoIn(text: string): Result<readonly string[], CellFault> {
  const items = listed(listIn(text), LIST_NOTATION);
  if (!items.ok || items.value.length === 2) return items;
  return fail({
    code: 'csv-list',
    message: `Two entries are needed, not ${items.value.length}`,
    wayOut:
      'Write two entries with a semicolon between them; their order is that of the two sides of each pair.',
  });
}

function numbersIn(text: string): Result<readonly number[], CellFault> {
  const items = listed(listIn(text), LIST_NOTATION);
  if (!items.ok) return items;
  const numbers: number[] = [];
  for (const item of items.value) {
    const read = numberIn(item);
    if (!read.ok) return read;
    numbers.push(read.value);
  }
  return ok(numbers);
}

/** The value of a filled cell, sizes in mm and areas in mm². Fails with what is wrong and the way out. */
export function cellValue(form: CellForm, text: string, measure: Measure): Result<unknown, CellFault> {
  switch (form) {
    case 'text':
      return ok(unguarded(text));
    case 'word':
      return ok(text.trim());
    case 'words':
      return listed(listIn(text), LIST_NOTATION);
    case 'two words':
      return twoIn(text);
    case 'pairs':
      return listed(pairsIn(text), PAIR_NOTATION);
    case 'number':
      return numberIn(text);
    case 'numbers':
      return numbersIn(text);
    case 'length':
      return lengthIn(text, measure.unit);
    case 'area':
      return areaIn(text, measure.unit);
    case 'bound':
      if (measure.percent) return percentIn(text);
      return cellValue('size', text, measure);
    case 'size':
      return measure.area ? areaIn(text, measure.unit) : lengthIn(text, measure.unit);
  }
}

/** The cell of a value, as it is written: numbers with full precision, text that no spreadsheet takes for a formula. */
export function cellText(form: CellForm, value: unknown): string {
  switch (form) {
    case 'text':
      return guarded(String(value));
    case 'words':
    case 'two words':
    case 'numbers':
      return listText(value as readonly (string | number)[]);
    case 'pairs':
      return pairsText(value as MatchRow['pairs']);
    case 'word':
    case 'number':
    case 'length':
    case 'area':
    case 'bound':
    case 'size':
      return String(value);
  }
}
