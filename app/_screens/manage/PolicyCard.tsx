'use client';
import { type FormEvent, useState } from 'react';
import { kinds } from '../../../lib/record/index.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Field } from '../../_ui/kit.tsx';

/** A whole number of a field, or null where it is empty. */
function numberIn(text: string): number | null {
  return text.trim() === '' ? null : Number(text);
}

/** How often the site wants its wheels inspected; the trends of wear and the tables may ask for sooner. */
export function PolicyCard() {
  const { site, register, write } = useWorkplace();
  const policy = register.policies.get(site.id);
  const [months, setMonths] = useState(`${policy?.everyMonths ?? ''}`);
  const [hours, setHours] = useState(`${policy?.everyHours ?? ''}`);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    void write(kinds.inspectionPolicySet, site.id, {
      everyMonths: numberIn(months),
      everyHours: numberIn(hours),
    });
  };
  return (
    <Card title="Interval between inspections">
      <form onSubmit={submit}>
        <Whole
          label="Months"
          hint="Empty: no interval in months."
          max={240}
          value={months}
          onChange={setMonths}
        />
        <Whole
          label="Hours on duty"
          hint="Empty: no interval in hours. Whichever comes first counts."
          max={1_000_000}
          value={hours}
          onChange={setHours}
        />
        <Button type="submit" tone="act">
          Set the interval
        </Button>
      </form>
    </Card>
  );
}

function Whole({
  label,
  hint,
  max,
  value,
  onChange,
}: {
  label: string;
  hint: string;
  max: number;
  value: string;
  onChange(text: string): void;
}) {
  return (
    <Field label={label} hint={hint}>
      <input
        type="number"
        inputMode="numeric"
        min={1}
        max={max}
        step={1}
        value={value}
        onChange={(event) => onChange(event.target.value)}
      />
    </Field>
  );
}
