import { DefectKind, FindMethod } from '../marks/index.ts';
import { CharacteristicId, ComponentKind, ConstructionId, RingState, ZoneId } from '../wheel/index.ts';
import type { LineKind } from './csvColumns.ts';
import { SourceKind } from './table.ts';

/** Words that each column takes, whatever the kind of line. */
const BY_COLUMN: Readonly<Record<string, readonly string[]>> = {
  components: ComponentKind.options,
  between: ComponentKind.options,
  zones: ZoneId.options,
  constructions: ConstructionId.options,
  characteristic: CharacteristicId.options,
  states: RingState.options,
  state: RingState.options,
  defects: DefectKind.options,
  'decision rule': ['guarded', 'simple acceptance'],
  'bounds of': ['value', 'from nominal', 'percent lost'],
  unit: ['mm', 'in'],
  'repair needs': ['rework', 'upkeep'],
  verdict: ['repair', 'scrap'],
  beyond: ['repair', 'scrap'],
  unknown: ['hold', 'repair', 'scrap'],
  together: ['may', 'may not'],
  'source kind': SourceKind.options,
};

/** The words that a column takes in a kind of line; null where anything may be written. */
export function optionsOf(column: string, kind: LineKind): readonly string[] | null {
  if (column === 'methods') {
    return kind === 'limit' ? ['gauge', 'photo'] : FindMethod.exclude(['visual']).options;
  }
  return BY_COLUMN[column] ?? null;
}
