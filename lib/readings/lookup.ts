import { must } from '../base/index.ts';
import type { CharacteristicId, ComponentKind, ZoneId } from '../wheel/index.ts';
import type { Characteristic } from './characteristic.ts';
import { characteristics } from './data/characteristics.ts';

/** The definition of a characteristic. */
export function characteristicOf(id: CharacteristicId): Characteristic {
  return must(
    characteristics.find((candidate) => candidate.id === id),
    `characteristic ${id}`,
  );
}

/** Characteristics taken by hand in a zone of a component kind, in the order they are listed. */
export function gaugeCharacteristicsAt(kind: ComponentKind, zone: ZoneId): readonly Characteristic[] {
  return characteristics.filter(
    (candidate) => candidate.takenFrom === 'gauge' && (candidate.zones[kind]?.includes(zone) ?? false),
  );
}

/** The first zone of a component kind where a characteristic is taken, or undefined when it has none. */
export function zoneOf(id: CharacteristicId, kind: ComponentKind): ZoneId | undefined {
  return characteristicOf(id).zones[kind]?.[0];
}
