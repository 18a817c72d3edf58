'use client';
import { type FormEvent, useState } from 'react';
import { Button, Field } from './kit.tsx';

/** Takes something back by a further entry, with a reason; it stays in the record. */
export function Withdraw({ what, onWithdraw }: { what: string; onWithdraw(reason: string): void }) {
  const [asking, setAsking] = useState(false);
  const [reason, setReason] = useState('');
  if (!asking) {
    return (
      <Button aria-label={`Withdraw ${what}`} onClick={() => setAsking(true)}>
        Withdraw
      </Button>
    );
  }
  const submit = (event: FormEvent) => {
    event.preventDefault();
    onWithdraw(reason.trim());
    setAsking(false);
  };
  return (
    <form onSubmit={submit}>
      <Field label={`Why ${what} is withdrawn`}>
        <input required value={reason} onChange={(event) => setReason(event.target.value)} />
      </Field>
      <Button type="submit" tone="grave" disabled={reason.trim() === ''}>
        Withdraw it
      </Button>{' '}
      <Button onClick={() => setAsking(false)}>Leave it</Button>
    </form>
  );
}
