'use client';
import { counted } from '../../../lib/base/index.ts';
import { characteristicOf } from '../../../lib/readings/index.ts';
import type { CallPair, PairFilter, ReadingPair } from '../../../lib/review/index.ts';
import type { CharacteristicId } from '../../../lib/wheel/index.ts';
import { NAME_UNKNOWN, usePeople } from '../../_client/people.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import figures from '../../_ui/figures.module.css';
import { Card, Field } from '../../_ui/kit.tsx';

interface Props {
  readonly filter: PairFilter;
  onFilter(filter: PairFilter): void;
  readonly all: readonly (ReadingPair | CallPair)[];
  /** Whether the server left pairs out. */
  readonly more: boolean;
  /** Pairs of the choice that were not measured blind. */
  readonly leftOut: number;
}

/** What is chosen, in words for the printed page, and fields to choose it with. */
export function Filters({ filter, onFilter, all, more, leftOut }: Props) {
  const people = usePeople();
  const { register } = useWorkplace();
  const name = (id: string) => people.get(id) ?? NAME_UNKNOWN;
  const readings = all.filter((pair) => 'characteristic' in pair);
  const set = (change: Partial<PairFilter>) => onFilter({ ...filter, ...change });
  const instruments = readings.flatMap((pair) => [pair.first.instrument, pair.second.instrument]);
  return (
    <Card title="Which pairs">
      <div className={figures.filters}>
        <Day label="Concluded from" value={filter.from} onChange={(from) => set({ from })} />
        <Day label="Concluded up to" value={filter.to} onChange={(to) => set({ to })} />
        <OneOf
          label="Inspector"
          value={filter.inspector}
          options={all.map((pair) => pair.inspector)}
          words={name}
          onChange={(inspector) => set({ inspector })}
        />
        <OneOf
          label="Second person"
          value={filter.reviewer}
          options={all.map((pair) => pair.reviewer)}
          words={name}
          onChange={(reviewer) => set({ reviewer })}
        />
        <OneOf
          label="Instrument (readings)"
          value={filter.instrument}
          options={instruments.filter((id) => id !== null)}
          words={(id) => register.instruments.get(id)?.name ?? 'not known here'}
          onChange={(instrument) => set({ instrument })}
        />
        <OneOf
          label="Characteristic (readings)"
          value={filter.characteristic}
          options={readings.map((pair) => pair.characteristic)}
          words={(id) => characteristicOf(id as CharacteristicId).label}
          onChange={(id) => set({ characteristic: id as CharacteristicId | null })}
        />
      </div>
      <label className={figures.check}>
        <input
          type="checkbox"
          checked={!filter.blindOnly}
          onChange={(event) => set({ blindOnly: !event.target.checked })}
        />
        Also pairs of which the second was not measured blind ({leftOut})
      </label>
      {more ? (
        <p role="status">
          Only the last {counted(all.length, 'pair')} are shown; choose a shorter period to see the others.
        </p>
      ) : null}
    </Card>
  );
}

function Day({
  label,
  value,
  onChange,
}: {
  label: string;
  value: string | null;
  onChange(day: string | null): void;
}) {
  return (
    <Field label={label}>
      <input
        type="date"
        value={value ?? ''}
        onChange={(event) => onChange(event.target.value === '' ? null : event.target.value)}
      />
    </Field>
  );
}

function OneOf({
  label,
  value,
  options,
  words,
  onChange,
}: {
  label: string;
  value: string | null;
  options: readonly string[];
  words(id: string): string;
  onChange(id: string | null): void;
}) {
  // What is chosen stays among the choices when a shorter period no longer has it.
  const each = [...new Set([...options, ...(value === null ? [] : [value])])].sort((a, b) =>
    words(a).localeCompare(words(b)),
  );
  return (
    <Field label={label}>
      <select
        value={value ?? ''}
        onChange={(event) => onChange(event.target.value === '' ? null : event.target.value)}
      >
        <option value="">All</option>
        {each.map((id) => (
          <option key={id} value={id}>
            {words(id)}
          </option>
        ))}
      </select>
    </Field>
  );
}
