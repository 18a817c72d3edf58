'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { InstrumentKind, isExpired } from '../../../lib/readings/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { parseTypedLength } from '../../../lib/units/index.ts';
import { newId, now } from '../../_client/device.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import inspect from '../inspect/inspect.module.css';

interface Values {
  readonly name: string;
  readonly kind: InstrumentKind;
  readonly serial: string;
  readonly resolution: string;
  readonly certificateU: string;
  readonly calibratedOn: string;
  readonly calibrationDue: string;
}

const EMPTY: Values = {
  name: '',
  kind: 'depth gauge',
  serial: '',
  resolution: '0.05 mm',
  certificateU: '',
  calibratedOn: '',
  calibrationDue: '',
};

/** The instruments of the site with their calibration. */
export function InstrumentCard() {
  const { register, write } = useWorkplace();
  const [editing, setEditing] = useState<{ id: string; values: Values } | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (editing === null) return;
    const { values } = editing;
    const resolution = parseTypedLength(values.resolution, 'mm', 'resolution');
    if (!resolution.ok) return setWrong(resolution.error);
    const certificate =
      values.certificateU.trim() === ''
        ? null
        : parseTypedLength(values.certificateU, 'mm', 'certificate uncertainty');
    if (certificate !== null && !certificate.ok) return setWrong(certificate.error);
    const body = {
      name: values.name,
      kind: values.kind,
      serial: values.serial,
      resolutionMm: resolution.value.valueMm,
      certificateUMm: certificate === null ? null : certificate.value.valueMm,
      calibratedOn: values.calibratedOn === '' ? null : values.calibratedOn,
      calibrationDue: values.calibrationDue === '' ? null : values.calibrationDue,
    };
    const checked = kinds.instrumentDescribed.body.safeParse(body);
    if (!checked.success) {
      const [issue] = checked.error.issues;
      return setWrong({
        code: 'instrument',
        field: issue?.path.join('.') ?? '',
        value: '',
        message: issue?.message ?? 'Not understood',
        wayOut: 'Correct this field.',
      });
    }
    await write(kinds.instrumentDescribed, editing.id, body);
    setEditing(null);
    setWrong(null);
  };
  return (
    <Card
      title={`Instruments (${register.instruments.size})`}
      aside={
        editing === null ? (
          <Button onClick={() => setEditing({ id: newId(), values: EMPTY })}>Add an instrument</Button>
        ) : null
      }
    >
      {editing === null ? null : (
        <InstrumentForm
          values={editing.values}
          onValues={(values) => setEditing({ ...editing, values })}
          onSubmit={submit}
          onCancel={() => setEditing(null)}
          wrong={wrong}
        />
      )}
      {register.instruments.size === 0 ? (
        <Empty>No instrument yet. A reading without a named instrument cannot support keep.</Empty>
      ) : null}
      <ul className={list.list}>
        {[...register.instruments.values()].map((one) => (
          <li key={one.id} className={list.row}>
            <span className={list.main}>
              <b>{one.name}</b>, {one.kind}
              <small>
                reads to {one.resolutionMm} mm; calibration due {one.calibrationDue ?? 'not known'}
              </small>
            </span>
            <span className={list.aside}>
              {isExpired(one, now()) ? 'calibration over' : 'in calibration'}
            </span>
            <Button
              onClick={() =>
                setEditing({
                  id: one.id,
                  values: {
                    name: one.name,
                    kind: one.kind,
                    serial: one.serial,
                    resolution: `${one.resolutionMm} mm`,
                    certificateU: one.certificateUMm === null ? '' : `${one.certificateUMm} mm`,
                    calibratedOn: one.calibratedOn ?? '',
                    calibrationDue: one.calibrationDue ?? '',
                  },
                })
              }
            >
              Change
            </Button>
          </li>
        ))}
      </ul>
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

function InstrumentForm({ values, onValues, onSubmit, onCancel, wrong }: FormProps) {
  const input = (key: keyof Values, label: string, type = 'text', hint?: string) => (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      <input
        type={type}
        required={key === 'name' || key === 'resolution'}
        value={values[key]}
        onChange={(event) => onValues({ ...values, [key]: event.target.value })}
      />
    </Field>
  );
  return (
    <form onSubmit={onSubmit}>
      {input('name', 'Name')}
      <Field label="Kind">
        <select
          value={values.kind}
          onChange={(event) => onValues({ ...values, kind: event.target.value as InstrumentKind })}
        >
          {InstrumentKind.options.map((kind) => (
            <option key={kind}>{kind}</option>
          ))}
        </select>
      </Field>
      {input('serial', 'Serial number')}
      {input('resolution', 'Resolution', 'text', 'The smallest step it shows')}
      {input(
        'certificateU',
        'Standard uncertainty from its certificate',
        'text',
        'Leave empty when there is none',
      )}
      {input('calibratedOn', 'Calibrated on', 'date')}
      {input('calibrationDue', 'Calibration due', 'date', 'Without a date it counts as over')}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={inspect.tools}>
        <Button type="submit" tone="act">
          Enter the instrument
        </Button>
        <Button onClick={onCancel}>Cancel</Button>
      </div>
    </form>
  );
}
