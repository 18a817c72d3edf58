import { characteristicOf } from '../readings/index.ts';
import { rowsFor } from '../tolerances/index.ts';
import type { Slot } from '../wheel/index.ts';
import type { Evidence, PartEvidence } from './evidence.ts';
import type { Missing } from './finding.ts';
import type { PartContext } from './limits.ts';
import { supportsKeep } from './support.ts';
import { testsMissing } from './tests.ts';
import { atClock, sourceText } from './words.ts';

function looksMissing(slot: Slot, part: PartEvidence): Missing[] {
  return slot.zones.flatMap(({ zone }) => {
    const look = part.looks.find((one) => one.zone === zone);
    const missing = (text: string) => [{ what: 'look' as const, text: `${zone}: ${text}`, zone }];
    if (look?.result === 'could not be seen') return missing('could not be seen.');
    if (part.defects.some((defect) => defect.zone === zone) || look?.result === 'nothing seen') return [];
    return look?.result === 'defect recorded'
      ? missing('a defect is said to be recorded, and none is. Record it, or look again.')
      : missing('not looked at yet.');
  });
}

function photosMissing(slot: Slot, part: PartEvidence): Missing[] {
  return slot.zones
    .filter(({ zone, photo }) => photo && !part.photos.some((one) => one.zone === zone))
    .map(({ zone }) => ({ what: 'photo' as const, text: `${zone}: no photo yet.`, zone }));
}

function readingsMissing(slot: Slot, part: PartEvidence): Missing[] {
  return slot.readings.flatMap(({ characteristic, positions, states }) => {
    const definition = characteristicOf(characteristic);
    const zone = definition.zones[slot.kind]?.find((candidate) =>
      slot.zones.some((one) => one.zone === candidate),
    );
    return (positions.length > 0 ? positions : [null]).flatMap((clock) =>
      (states.length > 0 ? states : [null])
        .filter(
          (state) =>
            !part.readings.some(
              (reading) =>
                reading.characteristic === characteristic &&
                (clock === null || reading.clock === clock) &&
                reading.state === state,
            ),
        )
        .map((state) => ({
          what: 'reading' as const,
          text: `${definition.label}${state === null ? '' : `, ${state}`}${atClock(clock)}: not measured yet.`,
          ...(zone === undefined ? {} : { zone }),
          characteristic,
          clock,
          state,
        })),
    );
  });
}

/** What the rows of the tables ask for beyond the construction. */
function askedByTables(slot: Slot, part: PartEvidence, context: PartContext): Missing[] {
  return rowsFor(context.tables, 'evidence', context.part, context.on).flatMap(({ row }): Missing[] => {
    const { ask } = row;
    const zones = slot.zones
      .map(({ zone }) => zone)
      .filter((zone) => row.zones === undefined || row.zones.includes(zone));
    if (ask.what === 'photo') {
      return zones
        .filter((zone) => !part.photos.some((photo) => photo.zone === zone))
        .map((zone) => ({
          what: 'photo' as const,
          text: `${zone}: no photo yet (${sourceText(row.source)}).`,
          zone,
        }));
    }
    const label = characteristicOf(ask.characteristic).label;
    // A reading that cannot support keep does not stand in for one that is asked for.
    const wanted = part.readings.filter(
      (reading) =>
        supportsKeep(reading) &&
        reading.characteristic === ask.characteristic &&
        (row.zones === undefined || row.zones.includes(reading.zone)) &&
        (ask.state === undefined || reading.state === ask.state),
    );
    return (ask.positions.length > 0 ? ask.positions : [null]).flatMap((clock): Missing[] => {
      const found = wanted.filter((reading) => clock === null || reading.clock === clock).length;
      if (found >= ask.repeats) return [];
      const state = ask.state === undefined ? '' : `, ${ask.state}`;
      const text = `${label}${state}${atClock(clock)}: ${found} of ${ask.repeats} readings (${sourceText(row.source)}).`;
      const zone = row.zones?.[0];
      return [
        {
          what: 'reading',
          text,
          ...(zone === undefined ? {} : { zone }),
          characteristic: ask.characteristic,
          clock,
          state: ask.state ?? null,
        },
      ];
    });
  });
}

/** Evidence that a full inspection of this part needs and does not have. */
export function missingOf(
  slot: Slot,
  part: PartEvidence,
  evidence: Evidence,
  context: PartContext,
): Missing[] {
  const missing: Missing[] = [];
  if (evidence.gateOpen.length > 0) {
    missing.push({
      what: 'gate',
      text: `Walk-around only: the safety gate is open at "${evidence.gateOpen.join('", "')}".`,
    });
  }
  for (const name of evidence.tablesWithout ?? []) {
    missing.push({
      what: 'rule',
      text: `"${name}" is named among the limits in force, and no edition of it is in effect.`,
    });
  }
  if (evidence.unreadable > 0) {
    missing.push({
      what: 'record',
      text: `${evidence.unreadable} entries come from a newer version and cannot be read here.`,
    });
  }
  if (evidence.elsewhere.length > 0) {
    const what = [...new Set(evidence.elsewhere.map((one) => one.what))].join(', ');
    missing.push({
      what: 'record',
      text: `This inspection holds findings (${what}) about a component that is not in the wheel now. Put the part back in the book, or withdraw them with a reason.`,
    });
  }
  if (part.claims > 1) {
    missing.push({
      what: 'part',
      text: `${part.claims} components are said to be the ${slot.slot}. Take out those that are not.`,
    });
  }
  if (part.absent) missing.push({ what: 'part', text: `The ${slot.slot} was not found at the wheel.` });
  if (part.component === null)
    missing.push({ what: 'part', text: `Nobody has said which ${slot.slot} is fitted.` });
  return [
    ...missing,
    ...looksMissing(slot, part),
    ...photosMissing(slot, part),
    ...readingsMissing(slot, part),
    ...testsMissing(slot, part, context),
    ...askedByTables(slot, part, context),
  ];
}
