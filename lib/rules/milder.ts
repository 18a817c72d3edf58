import { characteristicOf } from '../readings/index.ts';
import {
  boundsAsSize,
  type LimitRow,
  type LintFinding,
  type PartFacts,
  placesOfLimit,
  rowsFor,
  type Table,
} from '../tolerances/index.ts';
import type { ReadingEvidence } from './evidence.ts';
import { CLASSES, type Class, worstClass } from './finding.ts';
import { contextOf, judgeLimits, type PartContext } from './limits.ts';
import { sizeText } from './words.ts';

/** Values at which an answer can change, and others over all that is plausible for the characteristic. */
function valuesToTry(table: Table, row: LimitRow): number[] {
  const { plausible } = characteristicOf(row.characteristic);
  const ends = table.rows.flatMap((one) => {
    if (one.type !== 'limit' || one.characteristic !== row.characteristic) return [];
    const keep = boundsAsSize(one, one.keep);
    const repair = one.repair === null ? {} : boundsAsSize(one, one.repair);
    return [keep.min, keep.max, repair.min, repair.max].filter((end) => end !== undefined);
  });
  const span = plausible.max - plausible.min;
  const steps = Array.from({ length: 41 }, (_, i) => plausible.min + (span * i) / 40);
  const near = ends.flatMap((end) => [end - span / 1000, end, end + span / 1000]);
  return [...new Set([...steps, ...near])].sort((a, b) => a - b);
}

function classAt(
  valueMm: number,
  uMm: number,
  row: LimitRow,
  place: { zone: ReadingEvidence['zone']; state: ReadingEvidence['state'] },
  context: PartContext,
): Class | null {
  const reading: ReadingEvidence = {
    id: 'tried',
    characteristic: row.characteristic,
    zone: place.zone,
    clock: null,
    state: place.state,
    valueMm,
    uMm,
    method: row.methods[0] ?? 'gauge',
    typed: '',
    instrument: { name: 'tried', calibrationDue: null, expired: false },
  };
  return worstClass(judgeLimits([reading], context).findings);
}

/** The first pair of neighbouring values of which the worse one has the milder class. */
function firstMilder(
  values: readonly number[],
  classes: readonly (Class | null)[],
  worseIs: 'higher' | 'lower',
): readonly [number, number] | null {
  const severity = classes.map((one) => (one === null ? -1 : CLASSES.indexOf(one)));
  for (let i = 1; i < values.length; i += 1) {
    const [before = -1, after = -1] = [severity[i - 1], severity[i]];
    const [low = 0, high = 0] = [values[i - 1], values[i]];
    if (worseIs === 'higher' && after < before) return [high, low];
    if (worseIs === 'lower' && after > before) return [low, high];
  }
  return null;
}

/**
 * Searches every limit of a table for a worse reading that gets a milder verdict: readings over the plausible range of
 * the characteristic, closely about every bound, with and without uncertainty, judged by the engine itself. Which way
 * is worse comes from the characteristic; where both are, keep lies within repair and nothing farther out is milder.
 */
export function findWorseButMilder(table: Table): LintFinding[] {
  const told = new Set<string>();
  const tried = new Set<string>();
  return table.rows.flatMap((row, index): LintFinding[] => {
    if (row.type !== 'limit') return [];
    const { label, worse: worseIs, plausible } = characteristicOf(row.characteristic);
    if (worseIs === 'either') return [];
    const values = valuesToTry(table, row);
    for (const { component, zone, state, diameterCode } of placesOfLimit(table, row)) {
      if (zone === null) continue;
      const part: PartFacts = {
        componentKind: component,
        maker: table.scope.makers[0] ?? '',
        series: table.scope.series[0] ?? '',
        construction: table.scope.constructions[0] ?? 'five-piece',
        diameterCode,
      };
      const context = contextOf([table], part, table.effectiveFrom);
      const method = row.methods[0] ?? 'gauge';
      const deciding = rowsFor(context.tables, 'limit', part, context.on, zone).map((one) => one.row.row);
      // Places where the same rows decide get the same answers.
      const alike = JSON.stringify([row.characteristic, state, method, context.noRework?.row, deciding]);
      if (tried.has(alike)) continue;
      tried.add(alike);
      const key = [row.characteristic, component, zone, state].join('|');
      for (const u of [0, (plausible.max - plausible.min) / 200]) {
        const classes = values.map((value) => classAt(value, u, row, { zone, state }, context));
        const milder = firstMilder(values, classes, worseIs);
        if (milder === null || told.has(key)) continue;
        told.add(key);
        const [bad, good] = milder.map((value) => sizeText(row.characteristic, value));
        return [
          {
            lint: 'worse is milder',
            severity: 'error',
            rows: [row.row],
            field: `rows.${index}`,
            message: `${label}, ${zone}: ${bad} gets a milder verdict than ${good}, though it is worse`,
            wayOut: `A ${worseIs} value is worse here: check which bounds are min and which are max.`,
          },
        ];
      }
    }
    return [];
  });
}
