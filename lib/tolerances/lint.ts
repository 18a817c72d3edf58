import { characteristicOf } from '../readings/index.ts';
import { DIAMETER_CODES } from '../wheel/index.ts';
import { boundsAsSize } from './bounds.ts';
import { codesIn, componentsOf, placeKey, placesOf, placesOfLimit } from './reach.ts';
import type { Bounds, DefectRow, LimitRow, MatchRow, Row, Source, Table } from './table.ts';

/** What the linter looks for. */
const LINTS = [
  'reaches nothing',
  'overlap',
  'contradiction',
  'shadowed',
  'gap',
  'mixed units',
  'source',
  'worse is milder',
] as const;
export type Lint = (typeof LINTS)[number];

/** Something wrong (`error`) or doubtful (`warning`) in a table that can be read. */
export interface LintFinding {
  readonly lint: Lint;
  readonly severity: 'error' | 'warning';
  /** Names of the rows concerned, in the order of the table. */
  readonly rows: readonly string[];
  /** Where to put it right: "rows.3.keep.min". */
  readonly field: string;
  readonly message: string;
  readonly wayOut: string;
}

interface LimitAt {
  readonly row: LimitRow;
  readonly index: number;
  readonly places: ReadonlySet<string>;
  readonly keep: Bounds;
  /** Values that are not scrap. */
  readonly usable: Bounds;
}

const low = (bounds: Bounds) => bounds.min ?? Number.NEGATIVE_INFINITY;
const high = (bounds: Bounds) => bounds.max ?? Number.POSITIVE_INFINITY;
const within = (inner: Bounds, outer: Bounds) => low(inner) >= low(outer) && high(inner) <= high(outer);
const meet = (a: Bounds, b: Bounds) => Math.max(low(a), low(b)) <= Math.min(high(a), high(b));

function limitsOf(table: Table): LimitAt[] {
  return table.rows.flatMap((row, index) => {
    if (row.type !== 'limit') return [];
    const keep = boundsAsSize(row, row.keep);
    return [
      {
        row,
        index,
        places: new Set(placesOfLimit(table, row).map(placeKey)),
        keep,
        usable: row.repair === null ? keep : boundsAsSize(row, row.repair),
      },
    ];
  });
}

function reachesNothing(table: Table): LintFinding[] {
  return table.rows.flatMap((row, index): LintFinding[] => {
    const base = { lint: 'reaches nothing', severity: 'error', rows: [row.row] } as const;
    if (row.diameterCodes !== undefined && codesIn(row.diameterCodes).length === 0) {
      const { min, max } = row.diameterCodes;
      return [
        {
          ...base,
          field: `rows.${index}.diameterCodes`,
          message: `No diameter code of earthmover rims lies between ${min} and ${max}`,
          wayOut: `Give a range that takes in some of ${DIAMETER_CODES.join(', ')}.`,
        },
      ];
    }
    if (row.type === 'match') return [];
    if (componentsOf(table, row).length === 0) {
      return [
        {
          ...base,
          field: `rows.${index}.components`,
          message: 'None of these components is in the scope of the table',
          wayOut: 'Name other components, or widen the scope.',
        },
      ];
    }
    if (row.type !== 'limit' || placesOfLimit(table, row).length > 0) return [];
    const { label, zones } = characteristicOf(row.characteristic);
    const where = Object.entries(zones).map(([kind, list]) => `${kind} (${list.join(', ')})`);
    return [
      {
        ...base,
        field: `rows.${index}`,
        message: `${label} is not taken in the places this row names`,
        wayOut: `It is taken on: ${where.join('; ')}. Correct components, zones, states or diameterCodes.`,
      },
    ];
  });
}

function shares(a: ReadonlySet<string>, b: ReadonlySet<string>): boolean {
  for (const key of a) if (b.has(key)) return true;
  return false;
}

/** Whether a row never decides beside another: it speaks of nothing more, is never stricter, and accepts no other way of measuring. */
function neverDecides(a: LimitAt, b: LimitAt): boolean {
  return (
    [...a.places].every((key) => b.places.has(key)) &&
    a.row.methods.every((method) => b.row.methods.includes(method)) &&
    within(b.keep, a.keep) &&
    within(b.usable, a.usable) &&
    (a.row.repairNeeds === b.row.repairNeeds || b.row.repairNeeds === 'rework')
  );
}

function limitPair(a: LimitAt, b: LimitAt): LintFinding[] {
  if (a.row.characteristic !== b.row.characteristic || !shares(a.places, b.places)) return [];
  const rows = [a.row.row, b.row.row];
  if (!meet(a.keep, b.keep)) {
    return [
      {
        lint: 'contradiction',
        severity: 'error',
        rows,
        field: `rows.${b.index}.keep`,
        message: 'No value lies within keep of both rows: such a part can never be kept',
        wayOut: 'Correct the bounds, or let the rows speak of different parts.',
      },
    ];
  }
  const hidden = neverDecides(b, a) ? b : neverDecides(a, b) ? a : null;
  if (hidden !== null) {
    return [
      {
        lint: 'shadowed',
        severity: 'warning',
        rows,
        field: `rows.${hidden.index}`,
        message: `"${hidden.row.row}" never decides: "${(hidden === a ? b : a).row.row}" speaks of the same parts and is as strict or stricter`,
        wayOut: 'Remove the row, or let the other speak of different parts.',
      },
    ];
  }
  return [
    {
      lint: 'overlap',
      severity: 'warning',
      rows,
      field: `rows.${b.index}`,
      message: 'Both rows speak of the same parts; the stricter answer will win',
      wayOut: 'Narrow components, zones, states or diameterCodes if only one is meant.',
    },
  ];
}

function defectPair(table: Table, a: DefectRow, b: DefectRow, index: number): LintFinding[] {
  const kinds = a.defects.filter((kind) => b.defects.includes(kind));
  if (kinds.length === 0) return [];
  const where = new Set(placesOf(table, a).map(placeKey));
  const other = placesOf(table, b);
  // A row of any zone meets a row of a named one.
  const met = other.some(
    (place) =>
      where.has(placeKey(place)) ||
      where.has(placeKey({ ...place, zone: null })) ||
      (place.zone === null && [...where].some((key) => sameButZone(key, placeKey(place)))),
  );
  if (!met) return [];
  const same =
    a.verdict === b.verdict && a.repairUpToMm === b.repairUpToMm && a.repairUpToMm2 === b.repairUpToMm2;
  return [
    {
      lint: same ? 'overlap' : 'contradiction',
      severity: 'warning',
      rows: [a.row, b.row],
      field: `rows.${index}`,
      message: same
        ? `Both rows say the same of ${kinds.join(', ')}`
        : `The rows say different things of ${kinds.join(', ')} in the same place; the stricter will win`,
      wayOut: same ? 'Keep one of them.' : 'Let them speak of different zones or parts, or keep one.',
    },
  ];
}

function sameButZone(a: string, b: string): boolean {
  const [kindA, , stateA, codeA] = a.split('|');
  const [kindB, , stateB, codeB] = b.split('|');
  return kindA === kindB && stateA === stateB && codeA === codeB;
}

function matchPair(a: MatchRow, b: MatchRow, index: number): LintFinding[] {
  if (a.together === b.together) return [];
  const key = (row: MatchRow) =>
    row.pairs.map((pair) => {
      const ends = pair.map((made, end) => `${row.between[end]}:${made.maker}:${made.series}`.toLowerCase());
      return ends.sort().join('|');
    });
  const other = new Set(key(b));
  const codes = codesIn(a.diameterCodes).some((code) => codesIn(b.diameterCodes).includes(code));
  const both = codes ? key(a).filter((one) => other.has(one)) : [];
  return both.map((pair) => ({
    lint: 'contradiction' as const,
    severity: 'error' as const,
    rows: [a.row, b.row],
    field: `rows.${index}.pairs`,
    message: `The same pair may and may not go together: ${pair.replace('|', ' with ')}`,
    wayOut: 'Remove the pair from one of the rows.',
  }));
}

function pairs(table: Table): LintFinding[] {
  const limits = limitsOf(table);
  const found: LintFinding[] = [];
  const each = <T>(list: readonly T[], look: (a: T, b: T) => LintFinding[]) => {
    list.forEach((b, j) => {
      for (const a of list.slice(0, j)) found.push(...look(a, b));
    });
  };
  each(limits, limitPair);
  const indexed = table.rows.map((row, index) => ({ row, index }));
  each(
    indexed.filter((one): one is { row: DefectRow; index: number } => one.row.type === 'defect'),
    (a, b) => defectPair(table, a.row, b.row, b.index),
  );
  each(
    indexed.filter((one): one is { row: MatchRow; index: number } => one.row.type === 'match'),
    (a, b) => matchPair(a.row, b.row, b.index),
  );
  return found;
}

/** Diameter codes between those that the limits of one quantity speak of, and that none of them speaks of. */
function gaps(table: Table): LintFinding[] {
  const groups = new Map<string, { index: number; rows: string[]; codes: Set<number>; what: string }>();
  table.rows.forEach((row, index) => {
    if (row.type !== 'limit' || row.diameterCodes === undefined) return;
    for (const { component, zone, state, diameterCode } of placesOfLimit(table, row)) {
      const key = [row.characteristic, component, zone, state].join('|');
      const what = `${characteristicOf(row.characteristic).label}${state === null ? '' : ` (${state})`}, ${component}`;
      const group = groups.get(key) ?? { index, rows: [], codes: new Set<number>(), what };
      group.codes.add(diameterCode);
      if (!group.rows.includes(row.row)) group.rows.push(row.row);
      groups.set(key, group);
    }
  });
  const covered = (key: string) =>
    table.rows.some(
      (row) =>
        row.type === 'limit' &&
        row.diameterCodes === undefined &&
        placesOfLimit(table, row).some(
          (place) => [row.characteristic, place.component, place.zone, place.state].join('|') === key,
        ),
    );
  const told = new Set<string>();
  return [...groups].flatMap(([key, { index, rows, codes, what }]): LintFinding[] => {
    const [first, last] = [Math.min(...codes), Math.max(...codes)];
    const left = codesIn({ min: first, max: last }).filter((code) => !codes.has(code));
    const text = `${what}: no limit for diameter ${left.join(', ')}, though smaller and larger rims have one`;
    if (left.length === 0 || covered(key) || told.has(text)) return [];
    told.add(text);
    return [
      {
        lint: 'gap',
        severity: 'warning',
        rows,
        field: `rows.${index}.diameterCodes`,
        message: text,
        wayOut: 'Widen a row, or add one for these diameters; without a limit such a part is held.',
      },
    ];
  });
}

/** Bounds of one quantity that differ by the factor between inches and millimetres. */
function mixedUnits(table: Table): LintFinding[] {
  const limits = table.rows.flatMap((row, index) => (row.type === 'limit' ? [{ row, index }] : []));
  const found: LintFinding[] = [];
  limits.forEach(({ row: b, index }, j) => {
    for (const { row: a } of limits.slice(0, j)) {
      if (a.characteristic !== b.characteristic || a.boundsOf !== b.boundsOf) continue;
      const factor = characteristicOf(a.characteristic).quantity === 'area' ? 25.4 ** 2 : 25.4;
      for (const end of ['min', 'max'] as const) {
        const [x, y] = [a.keep[end], b.keep[end]];
        if (x === undefined || y === undefined || x * y <= 0) continue;
        const ratio = Math.max(x / y, y / x) / factor;
        if (ratio < 0.9 || ratio > 1.1) continue;
        found.push({
          lint: 'mixed units',
          severity: 'warning',
          rows: [a.row, b.row],
          field: `rows.${index}.keep.${end}`,
          message: `${x} and ${y} differ by the factor between inches and millimetres`,
          wayOut: 'Bounds are in mm and mm². Convert the one that is in inches.',
        });
      }
    }
  });
  return found;
}

/** Whether a reader could find the passage again. */
function traceable(source: Source): boolean {
  return source.section !== '' || source.page !== '';
}

function sources(table: Table): LintFinding[] {
  return table.rows.flatMap((row, index): LintFinding[] => {
    const { source } = row;
    const base = { lint: 'source', severity: 'warning', rows: [row.row] } as const;
    if (!['published', 'maker', 'site'].includes(source.kind)) return [];
    return [
      ...(traceable(source)
        ? []
        : [
            {
              ...base,
              field: `rows.${index}.source.section`,
              message: `A ${source.kind} source without section or page cannot be found again`,
              wayOut: 'Give the section or the page, or mark the source "from memory".',
            },
          ]),
      ...(source.edition === ''
        ? [
            {
              ...base,
              field: `rows.${index}.source.edition`,
              message: `A ${source.kind} source without its edition cannot be checked later`,
              wayOut: 'Give the edition or the date of issue.',
            },
          ]
        : []),
    ];
  });
}

/**
 * Looks through a table that `parseTable` accepted for what is wrong or doubtful about it, in the order of the rows.
 * The search for worse readings with a milder verdict needs the engine and stands beside it, in `lib/rules`.
 */
export function lintTable(table: Table): LintFinding[] {
  const found = [
    ...reachesNothing(table),
    ...pairs(table),
    ...gaps(table),
    ...mixedUnits(table),
    ...sources(table),
  ];
  const firstRow = ({ rows }: LintFinding) => table.rows.findIndex((row: Row) => row.row === rows[0]);
  return found.sort((a, b) => firstRow(a) - firstRow(b) || LINTS.indexOf(a.lint) - LINTS.indexOf(b.lint));
}
