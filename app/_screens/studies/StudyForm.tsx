'use client';
import { type FormEvent, useState } from 'react';
import { fail, ok, type Problem, problem, type Result } from '../../../lib/base/index.ts';
import { characteristicOf, characteristics } from '../../../lib/readings/index.ts';
import { kinds, StudyPlan } from '../../../lib/record/index.ts';
import { parseTypedLength } from '../../../lib/units/index.ts';
import type { CharacteristicId, RingState } from '../../../lib/wheel/index.ts';
import { newId, randomSeed, rememberedUnit } from '../../_client/device.ts';
import { usePeople } from '../../_client/people.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './studies.module.css';

interface Values {
  readonly name: string;
  readonly characteristic: CharacteristicId;
  readonly state: RingState | null;
  readonly instrument: string;
  readonly labels: string;
  readonly people: readonly string[];
  readonly trials: '2' | '3' | '4' | '5';
  readonly tolerance: string;
}

const EMPTY: Values = {
  name: '',
  characteristic: 'gutter depth',
  state: null,
  instrument: '',
  labels: 'A, B, C, D, E, F, G, H, J, K',
  people: [],
  trials: '3',
  tolerance: '',
};

const STUDIED = characteristics.filter((one) => one.takenFrom === 'gauge');

/** What was filled in as a plan; the seed is drawn by the caller. */
function planOf(values: Values, seed: number): Result<StudyPlan, Problem> {
  const unit = rememberedUnit();
  const typed = values.tolerance.trim();
  const tolerance = typed === '' ? null : parseTypedLength(typed, unit, 'tolerance');
  if (tolerance !== null && !tolerance.ok) return tolerance;
  const labels = values.labels
    .split(/[,;\n]/)
    .map((one) => one.trim())
    .filter((one) => one !== '');
  const plan = StudyPlan.safeParse({
    name: values.name,
    characteristic: values.characteristic,
    state: values.state,
    instrument: values.instrument,
    parts: labels.map((label) => ({ part: newId(), label })),
    people: [...values.people],
    trials: Number(values.trials),
    tolerance: tolerance === null ? null : { typed, defaultUnit: unit, valueMm: tolerance.value.valueMm },
    seed,
  });
  if (plan.success) return ok(plan.data);
  const [issue] = plan.error.issues;
  return fail(
    problem(
      'study-plan',
      issue?.path.join('.') ?? '',
      '',
      issue?.message ?? 'Not understood',
      'Correct this.',
    ),
  );
}

/** A lead lays out a new study: what, with which instrument, on which parts, by whom, how often. */
export function StudyForm({ onOpened }: { onOpened: (study: string) => void }) {
  const { write } = useWorkplace();
  const [values, setValues] = useState<Values | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  if (values === null) {
    return (
      <Button tone="act" onClick={() => setValues(EMPTY)}>
        Open a new study
      </Button>
    );
  }
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const plan = planOf(values, randomSeed());
    if (!plan.ok) return setWrong(plan.error);
    const study = newId();
    await write(kinds.studyOpened, study, plan.value);
    onOpened(study);
  };
  return (
    <Card title="A new study">
      <form onSubmit={submit}>
        <What values={values} onValues={setValues} />
        <Who values={values} onValues={setValues} />
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <div className={classes.actions}>
          <Button
            type="submit"
            tone="act"
            disabled={values.name.trim() === '' || values.instrument === '' || values.people.length < 2}
          >
            Open the study
          </Button>
          <Button onClick={() => setValues(null)}>Cancel</Button>
        </div>
      </form>
    </Card>
  );
}

interface PartProps {
  readonly values: Values;
  onValues(values: Values): void;
}

function What({ values, onValues }: PartProps) {
  const { register } = useWorkplace();
  const { states, how } = characteristicOf(values.characteristic);
  return (
    <>
      <Field label="Name of the study">
        <input
          required
          maxLength={120}
          value={values.name}
          onChange={(event) => onValues({ ...values, name: event.target.value })}
        />
      </Field>
      <Field label="What is measured" hint={how}>
        <select
          value={values.characteristic}
          onChange={(event) => {
            const characteristic = event.target.value as CharacteristicId;
            const state = characteristicOf(characteristic).states[0] ?? null;
            onValues({ ...values, characteristic, state });
          }}
        >
          {STUDIED.map((one) => (
            <option key={one.id} value={one.id}>
              {one.label}
            </option>
          ))}
        </select>
      </Field>
      {states.length === 0 ? null : (
        <Choice
          legend="State of the ring"
          options={states}
          value={values.state}
          onChoose={(state) => onValues({ ...values, state })}
        />
      )}
      <Field
        label="Instrument"
        hint={
          register.instruments.size === 0
            ? 'Add instruments on the site page first'
            : 'One instrument for all'
        }
      >
        <select
          required
          value={values.instrument}
          onChange={(event) => onValues({ ...values, instrument: event.target.value })}
        >
          <option value="">Choose one</option>
          {[...register.instruments.values()].map((one) => (
            <option key={one.id} value={one.id}>
              {one.name}
            </option>
          ))}
        </select>
      </Field>
      <PartLabels values={values} onValues={onValues} />
    </>
  );
}

function PartLabels({ values, onValues }: PartProps) {
  return (
    <Field
      label="Parts, by the labels written on them"
      hint="Separated by commas. Ten parts that span what is met at work are usual (from memory); worn and new ones, not ten alike"
    >
      <textarea
        rows={2}
        value={values.labels}
        onChange={(event) => onValues({ ...values, labels: event.target.value })}
      />
    </Field>
  );
}

function Who({ values, onValues }: PartProps) {
  const people = usePeople();
  const change = (id: string, on: boolean) =>
    onValues({
      ...values,
      people: on ? [...values.people, id] : values.people.filter((one) => one !== id),
    });
  return (
    <>
      <fieldset className={classes.people}>
        <legend>Who measures (two or more; three are usual)</legend>
        {people.size === 0 ? <p>The names of the people come with a connection.</p> : null}
        {[...people].map(([id, name]) => (
          <label key={id}>
            <input
              type="checkbox"
              checked={values.people.includes(id)}
              onChange={(event) => change(id, event.target.checked)}
            />
            {name}
          </label>
        ))}
        <small>Whoever measures sees no results until the study is closed, a lead too.</small>
      </fieldset>
      <Choice
        legend="How often each reads each part"
        options={['2', '3', '4', '5']}
        value={values.trials}
        onChoose={(trials) => onValues({ ...values, trials })}
      />
      <Field
        label="Width of the tolerance"
        hint={`From the lower to the upper limit, in ${rememberedUnit()} unless you type a unit. Leave empty when there is none`}
      >
        <input
          value={values.tolerance}
          onChange={(event) => onValues({ ...values, tolerance: event.target.value })}
        />
      </Field>
    </>
  );
}
