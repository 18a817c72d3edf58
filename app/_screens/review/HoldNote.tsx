'use client';
import { useHold } from '../../_client/hold.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Caution } from '../../_ui/kit.tsx';

/** Holds the inspection of this page for its reviewer, and says so when somebody else is looking at it. */
export function HoldNote() {
  const { site, has } = useWorkplace();
  const place = usePlace();
  const { problem } = useHold(site.id, has('reviewer') ? place.get('id') : null);
  if (problem?.code !== 'review-held') return null;
  return (
    <Caution kind="note">
      {problem.value} is looking at this inspection. You can read it; conclude it only when they have left it.
    </Caution>
  );
}
