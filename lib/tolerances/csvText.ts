import type { MatchRow } from './table.ts';

/** What a spreadsheet would take for the beginning of a formula (or of one after white space). */
const FORMULA = /^'*(?:[\t\r\n]|\s*[=+\-@＝＋－＠])/;

/** Text that a spreadsheet shows as it is: an apostrophe goes before what would begin a formula. */
export function guarded(text: string): string {
  return FORMULA.test(text) ? `'${text}` : text;
}

/** The text that `guarded` was given. */
export function unguarded(text: string): string {
  return text.startsWith("'") && FORMULA.test(text) ? text.slice(1) : text;
}

/** A character, or a backslash with the character that it escapes. */
const TOKEN = /\\[\s\S]?|[^\\]/g;
const ESCAPABLE = /^\\[\s;+|\\]$/;
const BLANK = /^\s/;

function tokensOf(text: string): string[] {
  return text.match(TOKEN) ?? [];
}

/** The pieces of a text between unescaped separators, still escaped. */
function splitAt(text: string, separator: string): string[] {
  const pieces = [''];
  for (const token of tokensOf(text)) {
    if (token === separator) pieces.push('');
    else pieces.push(`${pieces.pop()}${token}`);
  }
  return pieces;
}

/** One entry of a list as it was meant: white space about it goes unless it is escaped. Null: a wrong backslash. */
function unescaped(piece: string): string | null {
  const tokens = tokensOf(piece);
  const first = tokens.findIndex((token) => !BLANK.test(token));
  const last = tokens.findLastIndex((token) => !BLANK.test(token));
  const kept = tokens.slice(first, last + 1);
  if (kept.some((token) => token.startsWith('\\') && !ESCAPABLE.test(token))) return null;
  return unguarded(kept.map((token) => (token.startsWith('\\') ? token.slice(1) : token)).join(''));
}

/** The pieces of a text between unescaped separators as they were meant. Null: a wrong backslash in one of them. */
function piecesOf(text: string, separator: string): string[] | null {
  const pieces = splitAt(text, separator).map(unescaped);
  const sound = pieces.filter((piece) => piece !== null);
  return sound.length < pieces.length ? null : sound;
}

function escaped(text: string): string {
  return guarded(text)
    .replace(/[;+|\\]/g, '\\$&')
    .replace(/^\s|\s$/g, '\\$&');
}

/** What is wrong with a list in a cell, as a sentence without its full stop. */
export type ListFault = { readonly message: string };

const BACKSLASH: ListFault = { message: 'A backslash stands before something that needs none' };

/** A list as one cell: entries separated by `;`. */
export function listText(items: readonly (string | number)[]): string {
  return items.map((item) => escaped(String(item))).join('; ');
}

/** The entries of a cell that `listText` wrote, or a person: `;` between them, a backslash before a `;` that is meant. */
export function listIn(text: string): string[] | ListFault {
  const items = piecesOf(text, ';');
  if (items === null) return BACKSLASH;
  if (items.includes('')) return { message: 'An entry between two semicolons, or at an end, is empty' };
  return items;
}

type Pair = MatchRow['pairs'][number];
type MadeBy = Pair[number];

/** Pairs as one cell: "maker | series + maker | series; …"; a maker alone stands for any series. */
export function pairsText(pairs: readonly Pair[]): string {
  const made = ({ maker, series }: MadeBy) =>
    series === '' ? escaped(maker) : `${escaped(maker)} | ${escaped(series)}`;
  return pairs.map((pair) => pair.map(made).join(' + ')).join('; ');
}

function madeIn(text: string): MadeBy | ListFault {
  const pieces = piecesOf(text, '|');
  if (pieces === null) return BACKSLASH;
  const [maker, series = '', more] = pieces;
  if (more !== undefined) return { message: 'More than a maker and a series stand on one side of a pair' };
  return maker ? { maker, series } : { message: 'One side of a pair names no maker' };
}

/** The pairs in a cell that `pairsText` wrote, or a person. */
export function pairsIn(text: string): Pair[] | ListFault {
  const pairs: Pair[] = [];
  for (const piece of splitAt(text, ';')) {
    const [one, other, more] = splitAt(piece, '+').map(madeIn);
    if (one === undefined || other === undefined || more !== undefined)
      return { message: 'Not every entry is a pair, two sides with a + between them' };
    if ('message' in one) return one;
    if ('message' in other) return other;
    pairs.push([one, other]);
  }
  return pairs;
}

/** How lists are written, for the way out of a problem. */
export const LIST_NOTATION = 'Separate the entries by semicolons; write \\; for a semicolon that is meant.';
export const PAIR_NOTATION =
  'Write maker | series + maker | series, pairs separated by semicolons; put a backslash before ; + | or \\ in a name.';
