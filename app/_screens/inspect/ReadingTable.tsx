'use client';
import { useCallback, useState } from 'react';
import {
  type Characteristic,
  characteristicOf,
  characteristics,
  isExpired,
} from '../../../lib/readings/index.ts';
import type { ComponentState } from '../../../lib/record/index.ts';
import type { CharacteristicId, RingState, Slot, ZoneId } from '../../../lib/wheel/index.ts';
import { now, rememberedUnit, rememberUnit } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useStored } from '../../_client/useStored.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Choice, Empty, Field } from '../../_ui/kit.tsx';
import { useGate } from './Inspect.tsx';
import classes from './inspect.module.css';
import { ReadingRow } from './ReadingRow.tsx';

/** Gauge readings of a part, or of one of its zones: one card for each characteristic. */
export function ReadingTable({
  view,
  slot,
  component,
  zone,
}: {
  view: InspectionView;
  slot: Slot;
  component: ComponentState;
  zone?: ZoneId;
}) {
  const offered = characteristics.filter((one) => {
    if (one.takenFrom !== 'gauge') return false;
    const zones =
      one.zones[slot.kind]?.filter((candidate) =>
        slot.zones.some((slotZone) => slotZone.zone === candidate),
      ) ?? [];
    if (zone !== undefined) return zones.includes(zone);
    // On the part's own screen: what a full inspection asks for.
    return zones.length > 0 && slot.readings.some((required) => required.characteristic === one.id);
  });
  if (offered.length === 0) return null;
  return (
    <>
      {offered.map((one) => (
        <CharacteristicCard
          key={one.id}
          view={view}
          slot={slot}
          component={component}
          characteristic={one}
          zone={zone}
        />
      ))}
    </>
  );
}

interface CardProps {
  readonly view: InspectionView;
  readonly slot: Slot;
  readonly component: ComponentState;
  readonly characteristic: Characteristic;
  readonly zone: ZoneId | undefined;
}

/** Where each row of a card stands: a clock position or none, and a state of the ring or none. */
interface RowPlace {
  readonly clock: number | null;
  readonly state: RingState | null;
}

function requiredPlaces(slot: Slot, characteristic: CharacteristicId): RowPlace[] {
  const required = slot.readings.find((one) => one.characteristic === characteristic);
  const definition = characteristicOf(characteristic);
  const states = definition.states.length > 0 ? definition.states : [null];
  const positions = required !== undefined && required.positions.length > 0 ? required.positions : [null];
  return positions.flatMap((clock) => states.map((state) => ({ clock, state })));
}

function CharacteristicCard({ view, slot, component, characteristic, zone }: CardProps) {
  const { store } = useWorkplace();
  const gate = useGate(view);
  const [unit, setUnit] = useState(rememberedUnit);
  const [more, setMore] = useState<number[]>([]);
  const key = `instrument ${characteristic.id}`;
  const readInstrument = useCallback(() => store.note(key), [store, key]);
  const noted = useStored<unknown>(store, readInstrument, undefined);
  const at =
    zone ??
    characteristic.zones[slot.kind]?.find((candidate) => slot.zones.some((one) => one.zone === candidate));
  if (at === undefined) return null;
  const taken = [...view.state.readings.values()]
    .map(({ value }) => value)
    .filter(
      (reading) =>
        reading.component === component.id &&
        reading.characteristic === characteristic.id &&
        reading.zone === at,
    );
  const required = requiredPlaces(slot, characteristic.id);
  const places: RowPlace[] = [
    ...required,
    ...[...new Set([...taken.map((reading) => reading.clock).filter((clock) => clock !== null), ...more])]
      .filter((clock) => !required.some((one) => one.clock === clock))
      .sort((a, b) => a - b)
      .map((clock) => ({ clock, state: null })),
  ];
  const instrument = typeof noted === 'string' ? noted : null;
  return (
    <Card title={characteristic.label}>
      <p>
        {characteristic.meaning} {characteristic.how}
      </p>
      {gate.allows === 'walk-around' && characteristic.states.length === 0 ? (
        <Caution kind="danger">Measured by hand: closed until the safety gate is passed.</Caution>
      ) : (
        <>
          <Instruments chosen={instrument} onChoose={(id) => void store.setNote(key, id)} />
          <Choice
            legend="A number without a unit is in"
            options={['mm', 'in']}
            value={unit}
            onChoose={(chosen) => {
              rememberUnit(chosen);
              setUnit(chosen);
            }}
          />
          {places.map((place) => (
            <ReadingRow
              key={`${place.clock}|${place.state}`}
              view={view}
              slot={slot.slot}
              component={component.id}
              characteristic={characteristic}
              zone={at}
              place={place}
              unit={unit}
              instrument={instrument}
              closed={gate.allows === 'walk-around' && place.state !== 'inflated'}
              taken={taken.filter(
                (reading) => reading.clock === place.clock && reading.state === place.state,
              )}
            />
          ))}
          {characteristic.states.length > 0 ? null : (
            <OtherPlace
              onAdd={(clock) => setMore([...more, clock])}
              known={places.map((one) => one.clock).filter((clock) => clock !== null)}
            />
          )}
        </>
      )}
      {view.verdict.tables.length === 0 ? (
        <Empty>No table is in force at this site: there is no limit on file.</Empty>
      ) : null}
    </Card>
  );
}

function Instruments({ chosen, onChoose }: { chosen: string | null; onChoose(id: string): void }) {
  const { register } = useWorkplace();
  const all = [...register.instruments.values()].sort((a, b) => a.name.localeCompare(b.name));
  const one = chosen === null ? undefined : register.instruments.get(chosen);
  return (
    <>
      <Field label="Instrument">
        <select value={one === undefined ? '' : one.id} onChange={(event) => onChoose(event.target.value)}>
          <option value="">none named: cannot support keep</option>
          {all.map((instrument) => (
            <option key={instrument.id} value={instrument.id}>
              {instrument.name} ({instrument.kind}, {instrument.resolutionMm} mm)
              {isExpired(instrument, now()) ? ', calibration over' : ''}
            </option>
          ))}
        </select>
      </Field>
      {one !== undefined && isExpired(one, now()) ? (
        <Caution>
          The calibration of {one.name}{' '}
          {one.calibrationDue === null ? 'has no due date' : `ran out on ${one.calibrationDue}`}. You can go
          on, but its readings cannot support keep.
        </Caution>
      ) : null}
    </>
  );
}

function OtherPlace({ onAdd, known }: { onAdd(clock: number): void; known: readonly number[] }) {
  const [clock, setClock] = useState('');
  const free = Array.from({ length: 24 }, (_, i) => (i + 1) / 2).filter((one) => !known.includes(one));
  return (
    <div className={classes.tools}>
      <select
        aria-label="Another clock position"
        value={clock}
        onChange={(event) => setClock(event.target.value)}
        className={classes.select}
      >
        <option value="">Another clock position …</option>
        {free.map((one) => (
          <option key={one} value={one}>
            {one} o’clock
          </option>
        ))}
      </select>
      <Button
        disabled={clock === ''}
        onClick={() => {
          onAdd(Number(clock));
          setClock('');
        }}
      >
        Add
      </Button>
    </div>
  );
}
