'use client';
import { useState } from 'react';
import type { Problem } from '../../../../lib/base/index.ts';
import { counted } from '../../../../lib/base/index.ts';
import { kinds } from '../../../../lib/record/index.ts';
import { mayHandIn, stillOpen, type ToMeasure } from '../../../../lib/review/index.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Button, Card, ProblemNote } from '../../../_ui/kit.tsx';

/** What is still to be measured, and the way to hand it in: then the inspector's figures are shown. */
export function HandIn({
  view,
  asked,
  onDone,
}: {
  view: InspectionView;
  asked: ToMeasure;
  onDone(): Promise<void>;
}) {
  const { write, exchange } = useWorkplace();
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const open = stillOpen(asked, view.state, []);
  const handIn = async () => {
    const body = {
      submission: asked.submission?.entry ?? '',
      notReadable: open.readings.map(({ reading }) => reading),
    };
    const may = mayHandIn(asked, view.state, body);
    if (!may.ok) return setWrong(may.error);
    setBusy(true);
    await write(kinds.secondHandedIn, view.state.id, body);
    await exchange();
    await onDone();
    setBusy(false);
  };
  return (
    <Card title="Hand in, then compare">
      <p>
        {open.calls.length === 0
          ? 'You have called every part.'
          : `Your call is open for: ${open.calls.map(({ slot }) => slot).join(', ')}.`}{' '}
        {open.readings.length === 0
          ? 'Every reading has your value.'
          : `${counted(open.readings.length, 'reading')} without a value of yours: handed in as “the photos do not show it”.`}
      </p>
      <p>What is handed in stands as it is; after that you see the inspector’s figures beside yours.</p>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button
        tone="act"
        block
        disabled={busy || asked.submission === null}
        onClick={() => void handIn()}
        data-hand-in=""
      >
        Hand in my measurement
      </Button>
    </Card>
  );
}
