'use client';
import { useState } from 'react';
import { kinds } from '../../../../lib/record/index.ts';
import { type AskedReading, stillOpen, type ToMeasure } from '../../../../lib/review/index.ts';
import { useWriting } from '../../../_client/hand.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { usePlace } from '../../../_client/place.ts';
import { Button, Card, Empty } from '../../../_ui/kit.tsx';
import type { Asking } from '../compare/PartCompare.tsx';
import { KeyList } from '../KeyList.tsx';
import classes from '../review.module.css';
import { AskForm, Questions } from '../settle/Questions.tsx';
import { type KeyAct, useKeys } from '../useKeys.ts';
import { HandIn } from './HandIn.tsx';
import { LookEarly } from './LookEarly.tsx';
import { CALLS, PartMeasure } from './PartMeasure.tsx';
import { PhotoPane } from './PhotoPane.tsx';
import { SendBack } from './SendBack.tsx';

const focusOn = (selector: string) => document.querySelector<HTMLElement>(selector)?.focus();

/** The second measurement being taken: part by part, photos beside the readings and the call. */
export function MeasureDesk({
  view,
  asked,
  blind,
  onDone,
}: {
  view: InspectionView;
  asked: ToMeasure;
  /** False when this reviewer has seen the inspector's figures before. */
  blind: boolean;
  onDone(): Promise<void>;
}) {
  const place = usePlace();
  const write = useWriting(view);
  const parts = asked.parts.filter((part) => part.component !== null);
  const slot = place.get('part') ?? parts[0]?.slot ?? '';
  const [photo, setPhoto] = useState<string | null>(null);
  const [asking, setAsking] = useState<Asking | null>(null);
  const part = parts.find((one) => one.slot === slot);
  const photos = [...view.state.photos.values()]
    .map(({ value }) => value)
    .filter((one) => one.component === part?.component)
    .sort((a, b) => a.zone.localeCompare(b.zone) || (a.clock ?? 0) - (b.clock ?? 0));
  const shown = photos.find((one) => one.photo === photo) ?? photos[0];
  const step = (by: number) => {
    const at = parts.findIndex((one) => one.slot === slot) + by;
    const to = parts[at];
    if (to !== undefined) place.go({ part: to.slot });
  };
  const turn = (by: number) => {
    const to = photos[(shown === undefined ? 0 : photos.indexOf(shown)) + by];
    if (to !== undefined) setPhoto(to.photo);
  };
  /** Brings the photo that most likely shows the gauge at a place: of its zone and clock position, taken without a scale. */
  const showPlace = ({ zone, clock }: AskedReading) => {
    const here = photos.filter((one) => one.zone === zone && one.clock === clock);
    if (here.some((one) => one.photo === shown?.photo) && here.length === 1) return;
    const gauge = here.find((one) => !view.state.scales.has(one.photo)) ?? here[0];
    if (gauge !== undefined) setPhoto(gauge.photo);
  };
  const acts: KeyAct[] = [
    { key: 'n', words: 'next part', act: () => step(1) },
    { key: 'p', words: 'part before', act: () => step(-1) },
    { key: ']', words: 'next photo', act: () => turn(1) },
    { key: '[', words: 'photo before', act: () => turn(-1) },
    {
      key: 'm',
      words: 'mark and measure on the photo',
      act: () => shown !== undefined && place.go({ photo: shown.photo }),
    },
    { key: 'r', words: 'to the readings', act: () => focusOn('[data-again]') },
    ...CALLS.map((call, i) => ({
      key: `${i + 1}`,
      words: `call: ${call}`,
      act: () => {
        if (part?.component == null) return;
        const reason = view.state.calls.get(part.component)?.value.reason ?? '';
        void write(kinds.callMade, { component: part.component, call, reason });
      },
    })),
    { key: 'w', words: 'why', act: () => focusOn('[data-why]') },
    { key: 'h', words: 'to “Hand in”', act: () => focusOn('[data-hand-in]') },
  ];
  useKeys(acts);
  const open = stillOpen(asked, view.state, []);
  return (
    <div className={classes.measure}>
      <nav className={classes.parts} aria-label="Parts">
        <ol>
          {parts.map((one) => {
            const readings = asked.readings.filter(({ component }) => component === one.component);
            const left = open.readings.filter(({ component }) => component === one.component);
            const call = view.state.calls.get(one.component ?? '')?.value.call;
            return (
              <li key={one.slot}>
                <button
                  type="button"
                  aria-current={one.slot === slot ? 'step' : undefined}
                  onClick={() => place.go({ part: one.slot })}
                >
                  <b>{one.slot}</b>
                  <small>
                    {call === undefined ? 'no call yet' : `your call: ${call}`}
                    {readings.length === 0
                      ? ''
                      : `, ${readings.length - left.length} of ${readings.length} readings`}
                  </small>
                </button>
              </li>
            );
          })}
        </ol>
        <KeyList acts={acts} />
      </nav>
      {part?.component == null ? (
        <Empty>No part of this wheel is identified: there is nothing to measure. Send it back.</Empty>
      ) : (
        <Card title={part.slot}>
          <PhotoPane view={view} photos={photos} shown={shown} onShow={setPhoto} />
        </Card>
      )}
      <div>
        {part?.component == null ? null : (
          <Card title={`Your measurement of the ${part.slot}`}>
            <PartMeasure
              key={part.slot}
              view={view}
              slot={part.slot}
              component={part.component}
              asked={asked.readings.filter(({ component }) => component === part.component)}
              seenIn={shown?.photo ?? null}
              onPlace={showPlace}
            />
          </Card>
        )}
        <HandIn view={view} asked={asked} onDone={onDone} />
        {asking === null ? (
          <Button
            onClick={() =>
              setAsking(
                part?.component == null
                  ? { pin: { on: 'inspection' }, wants: 'an answer' }
                  : { pin: { on: 'part', component: part.component }, wants: 'an answer' },
              )
            }
          >
            Ask the inspector about the {part?.slot ?? 'wheel'}
          </Button>
        ) : (
          <AskForm view={view} asking={asking} onDone={() => setAsking(null)} />
        )}
        <Questions view={view} questions={view.state.questions} />
        <SendBack inspection={view.state.id} asked={asked} onDone={onDone} />
        {blind ? <LookEarly inspection={view.state.id} /> : null}
      </div>
    </div>
  );
}
