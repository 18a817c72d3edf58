'use client';
import { useState } from 'react';
import { kinds } from '../../../../lib/record/index.ts';
import { keepInspection } from '../../../_client/remote.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Button, Field } from '../../../_ui/kit.tsx';
import classes from '../review.module.css';

/** The way to the inspector's figures before measuring. It stands in the record, and the measurement is then not blind. */
export function LookEarly({ inspection }: { inspection: string }) {
  const { write, exchange, connection, store, site } = useWorkplace();
  const [reason, setReason] = useState('');
  const [busy, setBusy] = useState(false);
  const look = async () => {
    setBusy(true);
    await write(kinds.figuresLookedAt, inspection, { reason: reason.trim() });
    await exchange();
    await keepInspection(store, site.id, inspection);
    setBusy(false);
  };
  return (
    <details className={classes.early}>
      <summary>See the inspector’s figures before measuring</summary>
      <p>
        It goes into the record for good, and what you measure after it counts as not blind in the figures on
        how well people agree.
      </p>
      <Field label="Why before measuring">
        <input value={reason} maxLength={500} onChange={(event) => setReason(event.target.value)} />
      </Field>
      <Button
        tone="grave"
        disabled={busy || reason.trim() === '' || connection !== 'connected'}
        onClick={() => void look()}
      >
        Record it and show the figures
      </Button>
      {connection === 'connected' ? null : <p>The figures are on the server: this takes a connection.</p>}
    </details>
  );
}
