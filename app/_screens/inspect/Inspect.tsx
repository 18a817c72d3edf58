'use client';
import { useEffect } from 'react';
import { gateState } from '../../../lib/record/index.ts';
import { type InspectionView, useInspection } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { readyEyes } from '../../_client/vision.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Card, Empty, ProblemNote } from '../../_ui/kit.tsx';
import { KeptFromYou } from '../KeptFromYou.tsx';
import { LookEarly } from '../review/measure/LookEarly.tsx';
import { AssemblyScreen } from './AssemblyScreen.tsx';
import { GateScreen } from './GateScreen.tsx';
import { PartScreen } from './PartScreen.tsx';
import { PhotoScreen } from './PhotoScreen.tsx';
import { PlanScreen } from './PlanScreen.tsx';
import { VerdictScreen } from './VerdictScreen.tsx';
import { ZoneScreen } from './ZoneScreen.tsx';

/** The inspection being taken. Where one is in it stands in the address, so that a reload comes back to it. */
export function Inspect() {
  return (
    <Frame title="Inspection" back={{ href: '/', label: 'start' }}>
      <Body />
    </Frame>
  );
}

/** How long the screen has for itself before the parts that look at photos are loaded, ms. */
const READY_AFTER_MS = 1500;

function Body() {
  const place = usePlace();
  useEffect(() => {
    // Ahead of the first photo, so that it is answered at once and later without a connection as well. Where this
    // fails, the search of a photo fails with its own message.
    const timer = setTimeout(() => void readyEyes().catch(() => undefined), READY_AFTER_MS);
    return () => clearTimeout(timer);
  }, []);
  const loaded = useInspection(place.get('id'));
  switch (loaded.state) {
    case 'loading':
      return <p>Looking it up …</p>;
    case 'missing':
      return (
        <Card title="This inspection is not here">
          {loaded.problem === null ? null : <ProblemNote problem={loaded.problem} />}
          <Empty>
            It is neither on this device nor, as far as it can be reached, on the server of this site.{' '}
            <a href="/">Go to the start</a> and open the wheel by its tag.
          </Empty>
        </Card>
      );
    case 'ready':
      return loaded.value.withheld?.why === 'measure first' ? (
        <>
          <KeptFromYou inspection={loaded.value.state.id} withheld={loaded.value.withheld} />
          <LookEarly inspection={loaded.value.state.id} />
        </>
      ) : (
        <Screen view={loaded.value} />
      );
  }
}

function Screen({ view }: { view: InspectionView }) {
  const place = usePlace();
  const photo = place.get('photo');
  const slot = place.get('part');
  const zone = place.get('zone');
  const screen = place.get('screen');
  if (photo !== null) return <PhotoScreen view={view} photo={photo} key={photo} />;
  if (slot !== null && zone !== null)
    return <ZoneScreen view={view} slotName={slot} zoneName={zone} key={`${slot}|${zone}`} />;
  if (slot !== null) return <PartScreen view={view} slotName={slot} key={slot} />;
  if (screen === 'gate') return <GateScreen view={view} />;
  if (screen === 'verdict') return <VerdictScreen view={view} />;
  if (screen === 'assembly') return <AssemblyScreen view={view} />;
  return <PlanScreen view={view} />;
}

/** Whether hands-on work is open at this inspection. */
export function useGate(view: InspectionView) {
  const answers = new Map([...view.state.gate].map(([question, { value }]) => [question, value.answer]));
  return gateState(answers, view.wheel.dual);
}

/** Whether this person may still add to the inspection, and why not. */
export function useMayAdd(view: InspectionView): { may: boolean; why: string } {
  const { has } = useWorkplace();
  const { status } = view.state;
  if (view.hand === 'second') {
    // What was handed in stands: the review page then shows both measurements instead of this one.
    return has('reviewer')
      ? { may: true, why: '' }
      : { may: false, why: 'You are not a reviewer at this site.' };
  }
  if (!has('inspector')) return { may: false, why: 'You are not an inspector at this site.' };
  if (status === 'concluded')
    return { may: false, why: 'The review is concluded. Begin a new inspection of the wheel.' };
  return { may: true, why: '' };
}
