import { characteristicOf } from '../readings/index.ts';
import type { Bounds, LimitRow, MatchRow, Row, Table } from '../tolerances/index.ts';
import { showNumber, type UnitPreference } from '../units/index.ts';
import { boundsInWords, boundsText, listed, sizeText } from './words.ts';

type Selecting = Exclude<Row, MatchRow>;

function codesText(range: { readonly min: number; readonly max: number } | undefined): string {
  if (range === undefined) return '';
  return range.min === range.max
    ? `, diameter code ${range.min}`
    : `, diameter codes ${range.min} to ${range.max}`;
}

/** "rim base, gutter groove, diameter codes 25 to 35": the parts that a row speaks of. */
function whereText(row: Selecting): string {
  const parts = row.components === undefined ? 'any component' : listed(row.components);
  const zones = row.zones === undefined ? '' : `, ${listed(row.zones)}`;
  return `${parts}${zones}${codesText(row.diameterCodes)}`;
}

function needsText(row: { readonly repairNeeds: 'rework' | 'upkeep' }): string {
  return row.repairNeeds === 'rework' ? 'rework' : 'upkeep only';
}

function limitText(row: LimitRow, units: UnitPreference): string {
  const { characteristic, nominal } = row;
  const state = row.states === undefined ? '' : ` (${listed(row.states)})`;
  const one = (bounds: Bounds): string => {
    if (row.boundsOf !== 'percent lost') return boundsText(characteristic, bounds, units);
    return boundsInWords(bounds, (end) => `${showNumber(end, 1)} %`);
  };
  const from =
    nominal === undefined || row.boundsOf === undefined || row.boundsOf === 'value'
      ? ''
      : `, ${row.boundsOf === 'percent lost' ? 'lost of' : 'from'} the new size of ${sizeText(characteristic, nominal.value, units)}`;
  const repair =
    row.repair === null
      ? 'beyond that scrap'
      : `repair (${needsText(row)}) ${one(row.repair)}, beyond that scrap`;
  return `${characteristicOf(characteristic).label}${state} of ${whereText(row)}: keep ${one(row.keep)}; ${repair}${from}. Measured by ${listed(row.methods)}.`;
}

function matchText(row: MatchRow): string {
  const pairs = row.pairs.map((pair) =>
    pair.map(({ maker, series }) => (series === '' ? `any ${maker}` : `${maker} ${series}`)).join(' with '),
  );
  return `${listed(row.between)}${codesText(row.diameterCodes)} ${row.together} go together: ${pairs.join('; ')}. ${row.says}`;
}

function bothText(
  time: number | undefined,
  unit: string,
  hours: number | undefined,
  joined: 'and' | 'or',
): string {
  const both = [
    ...(time === undefined ? [] : [`${time} ${unit}`]),
    ...(hours === undefined ? [] : [`${hours} h on duty`]),
  ];
  return both.join(` ${joined} `);
}

/** What a row of a table says, in one or two sentences, sizes in the reader's units; the source stands apart. */
export function rowText(row: Row, units: UnitPreference = 'metric'): string {
  switch (row.type) {
    case 'limit':
      return limitText(row, units);
    case 'defect': {
      const upTo = [
        ...(row.repairUpToMm === undefined ? [] : [sizeText('crack length', row.repairUpToMm, units)]),
        ...(row.repairUpToMm2 === undefined ? [] : [sizeText('corrosion area', row.repairUpToMm2, units)]),
      ];
      const limit = upTo.length === 0 ? '' : ` up to ${upTo.join(' and ')}, larger scrap`;
      const verdict = row.verdict === 'scrap' ? 'scrap' : `repair (${needsText(row)})${limit}`;
      return `${listed(row.defects)}, ${whereText(row)}: ${verdict}. ${row.says}`;
    }
    case 'no rework':
      return `No rework, ${whereText(row)}. ${row.says}`;
    case 'test':
      return `${listed(row.methods)} test of ${whereText(row)} within ${bothText(row.withinMonths, 'months', row.withinHours, 'and')}.`;
    case 'age': {
      const beyond = row.beyond === 'scrap' ? 'scrap' : `repair (${needsText(row)})`;
      return `Age of ${whereText(row)}: up to ${bothText(row.upToYears, 'years', row.upToHours, 'or')}, beyond that ${beyond}; not known: ${row.unknown}. ${row.says}`;
    }
    case 'match':
      return matchText(row);
    case 'evidence': {
      if (row.ask.what === 'photo') return `A photo of ${whereText(row)} is asked for.`;
      const { characteristic, positions, repeats, state } = row.ask;
      const places = positions.length === 0 ? '' : ` at ${listed(positions)} o’clock`;
      const times = repeats === 1 ? 'once' : `${repeats} times`;
      return `${characteristicOf(characteristic).label}${state === undefined ? '' : ` (${state})`} of ${whereText(row)} is asked for ${times}${places}.`;
    }
  }
}

/** Which parts a table speaks of, and from when. */
export function scopeText({ scope, effectiveFrom, effectiveUntil }: Table): string {
  const { makers, series, constructions, components, diameterCodes } = scope;
  const any = (list: readonly string[] | undefined, all: string) =>
    list === undefined || list.length === 0 ? all : listed(list);
  return [
    any(makers, 'any maker'),
    ...(series.length === 0 ? [] : [`series ${listed(series)}`]),
    `${any(constructions, 'any construction')}${codesText(diameterCodes)}`,
    any(components, 'any component'),
    `from ${effectiveFrom}${effectiveUntil === undefined ? '' : ` to ${effectiveUntil}`}`,
  ].join('; ');
}
