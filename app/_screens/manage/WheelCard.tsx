'use client';
import { type FormEvent, useState } from 'react';
import { formatTag, type Problem, parseTag, problem, TAGS } from '../../../lib/base/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { constructions, parseDesignation } from '../../../lib/wheel/index.ts';
import { newId } from '../../_client/device.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { byMachine } from '../../_ui/machines.ts';
import inspect from '../inspect/inspect.module.css';

interface Values {
  readonly tag: string;
  readonly designation: string;
  readonly construction: (typeof constructions)[number]['id'];
  readonly maker: string;
  readonly series: string;
  readonly machine: string;
  readonly position: string;
  readonly dual: boolean;
}

function freshTag(): string {
  const [random = 0] = crypto.getRandomValues(new Uint32Array(1));
  return formatTag(random % TAGS);
}

function empty(): Values {
  return {
    tag: freshTag(),
    designation: '',
    construction: 'five-piece',
    maker: '',
    series: '',
    machine: '',
    position: '',
    dual: false,
  };
}

/** The wheels of the site, and the form that adds one or changes it. */
export function WheelCard() {
  const { register, write } = useWorkplace();
  const [editing, setEditing] = useState<{ id: string; values: Values } | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (editing === null) return;
    const tag = parseTag(editing.values.tag);
    if (!tag.ok) return setWrong(tag.error);
    const taken = [...register.wheels.values()].find(
      (wheel) => wheel.tag === tag.value && wheel.id !== editing.id,
    );
    if (taken !== undefined)
      return setWrong(
        problem(
          'tag-taken',
          'tag',
          tag.value,
          `${taken.machine} ${taken.position} has this tag`,
          'Give the wheel another tag.',
        ),
      );
    await write(kinds.wheelDescribed, editing.id, { ...editing.values, tag: tag.value });
    setEditing(null);
    setWrong(null);
  };
  return (
    <Card
      title={`Wheels (${register.wheels.size})`}
      aside={
        editing === null ? (
          <Button onClick={() => setEditing({ id: newId(), values: empty() })}>Add a wheel</Button>
        ) : null
      }
    >
      {editing === null ? null : (
        <WheelForm
          values={editing.values}
          onValues={(values) => setEditing({ ...editing, values })}
          onSubmit={submit}
          onCancel={() => setEditing(null)}
          wrong={wrong}
        />
      )}
      {register.wheels.size === 0 ? <Empty>No wheel yet.</Empty> : null}
      {byMachine(register.wheels.values()).map((group) => (
        <section key={group.machine} aria-label={group.machine || 'On no machine'}>
          <h3 className={list.group}>{group.machine || 'On no machine'}</h3>
          <ul className={list.list}>
            {group.wheels.map(({ id, site: _site, ...values }) => (
              <li key={id} className={list.row}>
                <span className={list.main}>
                  <b className={list.tag}>{values.tag}</b> {values.position}
                  <small>
                    {values.designation}, {values.construction}
                  </small>
                </span>
                <Button onClick={() => setEditing({ id, values })}>Change</Button>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </Card>
  );
}

interface FormProps {
  readonly values: Values;
  onValues(values: Values): void;
  onSubmit(event: FormEvent): void;
  onCancel(): void;
  readonly wrong: Problem | null;
}

function WheelForm({ values, onValues, onSubmit, onCancel, wrong }: FormProps) {
  const size = values.designation === '' ? null : parseDesignation(values.designation);
  const text = (
    key: 'tag' | 'designation' | 'maker' | 'series' | 'machine' | 'position',
    label: string,
    hint?: string,
    required = false,
  ) => (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      <input
        required={required}
        value={values[key]}
        onChange={(event) => onValues({ ...values, [key]: event.target.value })}
      />
    </Field>
  );
  return (
    <form onSubmit={onSubmit}>
      {text('tag', 'Tag', 'Six characters with a check character; this one is free to use', true)}
      {text('designation', 'Size designation as stamped', 'Such as 25-22.00/3.0', true)}
      {size !== null && !size.ok ? (
        <p>Not understood: {size.error.message}. It is kept as you write it.</p>
      ) : null}
      <Field label="Construction">
        <select
          value={values.construction}
          onChange={(event) =>
            onValues({ ...values, construction: event.target.value as Values['construction'] })
          }
        >
          {constructions.map((one) => (
            <option key={one.id} value={one.id}>
              {one.title}
            </option>
          ))}
        </select>
      </Field>
      {text('maker', 'Maker of the rim', 'Limits belong to a maker; without one no maker’s table applies')}
      {text('series', 'Series')}
      {text('machine', 'Machine')}
      {text('position', 'Position')}
      <label className={inspect.check}>
        <input
          type="checkbox"
          checked={values.dual}
          onChange={(event) => onValues({ ...values, dual: event.target.checked })}
        />
        One of a dual pair
      </label>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={inspect.tools}>
        <Button type="submit" tone="act">
          Enter the wheel
        </Button>
        <Button onClick={onCancel}>Cancel</Button>
      </div>
    </form>
  );
}
