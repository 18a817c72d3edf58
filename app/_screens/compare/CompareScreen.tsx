'use client';
import { useMemo, useState } from 'react';
import type { Alignment, PointPair } from '../../../lib/photo/index.ts';
import { kinds, slotAt } from '../../../lib/record/index.ts';
import { useBook } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Empty, LinkButton, ProblemNote } from '../../_ui/kit.tsx';
import { KeptFromYou } from '../KeptFromYou.tsx';
import { GrowthTable } from './GrowthTable.tsx';
import { LaidHow } from './LaidHow.tsx';
import { PairView } from './PairView.tsx';
import { PickPoints } from './PickPoints.tsx';
import { bodyOf, factorsOf, paintedOf, rowsOf } from './rows.ts';
import { mmPerPxOf, useDated, useRims } from './useDated.ts';
import { sizeOfSide, useBoth, useBytes, useLaidPictures, useLaying } from './useLaid.ts';
import { namedIn, type Side, usePair } from './usePair.ts';

/** Two photos of one place of a part, of two dates, laid over each other: what grew. */
export function CompareScreen() {
  return (
    <Frame title="Two dates" back={{ href: '/', label: 'start' }} wide>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const wheel = place.get('wheel');
  const { fetched } = useBook(wheel);
  const pair = usePair(place.get('a'), place.get('b'));
  const back =
    wheel === null ? null : (
      <p>
        <LinkButton href={`/wheel?id=${wheel}&inspection=${namedIn(place.get('b'))?.inspection ?? ''}`}>
          Back to the wheel’s book
        </LinkButton>
      </p>
    );
  if (pair !== null)
    return (
      <>
        {back}
        <Pair pair={pair} key={`${pair[0].photo} ${pair[1].photo}`} />
      </>
    );
  return (
    <>
      {back}
      {fetched ? (
        <Empty>
          These photos are not on this device. Open the wheel’s book with a connection once, then they are.
        </Empty>
      ) : (
        <p>Looking them up …</p>
      )}
    </>
  );
}

const dayOf = (at: string) =>
  new Date(at).toLocaleDateString(undefined, { year: 'numeric', month: 'short', day: 'numeric' });

function Pair({ pair }: { pair: readonly [Side, Side] }) {
  const { write, register } = useWorkplace();
  const [first, second] = pair;
  const people = usePeople();
  const name = (id: string) => people.get(id) ?? 'someone';
  const attached = second.inspection.photos.get(second.photo)?.value;
  const component = attached?.component ?? null;
  const [one, other] = [useBytes(first.photo), useBytes(second.photo)];
  const [byHand, setByHand] = useState<{ alignment: Alignment; pairs: readonly PointPair[] } | null>(null);
  const [anew, setAnew] = useState(false);
  const laying = useLaying(
    component,
    pair,
    [one.blob, other.blob],
    byHand?.alignment ?? null,
    anew,
    useRims(pair),
  );
  const laid = laying.state === 'laid' ? laying.laid : null;
  const pictures = useLaidPictures(laid, one.blob, other.blob);
  const dates = [dayOf(first.at), dayOf(second.at)] as const;
  const dated = useDated(pair, component);
  const rows = useMemo(() => rowsOf(laid, dated), [laid, dated]);
  const slot = slotAt(register, component ?? '', second.inspection.wheel, second.at);
  const keep = async () => {
    if (laid === null || component === null || attached === undefined) return;
    await write(
      kinds.photosAligned,
      component,
      bodyOf(laid.alignment, pair, attached.zone, byHand?.pairs ?? []),
    );
    setByHand(null);
    setAnew(false);
  };
  if (one.missing || other.missing)
    return (
      <Empty>
        A photo of this pair is not on this device and could not be fetched. Open it with a connection.
      </Empty>
    );
  const hidden = pair.filter((side) => side.withheld !== null);
  return (
    <>
      <Card title={`${slot ?? 'Part'}, ${attached?.zone ?? ''}: ${dates[0]} and ${dates[1]}`}>
        {laying.state === 'waiting' ? <p role="status">{laying.what}</p> : null}
        {laying.state === 'refused' ? <ProblemNote problem={laying.problem} /> : null}
        {laid !== null && pictures === null ? <p role="status">Laying them over each other …</p> : null}
        {laid !== null && pictures !== null ? (
          <PairView
            pictures={pictures}
            marks={paintedOf(rows, laid)}
            factor={factorsOf(laid, pictures)}
            names={
              laid.way === 'forth' ? { base: dates[0], over: dates[1] } : { base: dates[1], over: dates[0] }
            }
          />
        ) : null}
      </Card>
      {laid === null ? null : (
        <LaidHow
          laid={laid}
          mmPerPx={mmPerPxOf(laid.way === 'forth' ? second : first, register)}
          name={name}
          onKeep={laid.kept === null ? () => void keep() : null}
          onAnew={laid.kept !== null ? () => setAnew(true) : null}
        />
      )}
      <ByHand
        pair={pair}
        bytes={[one.blob, other.blob]}
        names={dates}
        wanted={laying.state === 'refused'}
        onLaid={(alignment, pairs) => setByHand({ alignment, pairs })}
      />
      {hidden.map(({ inspection, withheld }) =>
        withheld === null ? null : (
          <KeptFromYou key={inspection.id} inspection={inspection.id} withheld={withheld} />
        ),
      )}
      {hidden.length > 0 || laid === null ? null : dated === null ? (
        <p role="status">Measuring the marks …</p>
      ) : (
        <GrowthTable rows={rows} name={name} dates={dates} />
      )}
    </>
  );
}

/** The way by hand, where the program finds nothing or not well enough. */
function ByHand({
  pair,
  bytes,
  names,
  wanted,
  onLaid,
}: {
  pair: readonly [Side, Side];
  bytes: readonly [Blob | null, Blob | null];
  names: readonly [string, string];
  wanted: boolean;
  onLaid: (alignment: Alignment, pairs: readonly PointPair[]) => void;
}) {
  const [picking, setPicking] = useState(false);
  const both = useBoth(picking ? bytes[0] : null, picking ? bytes[1] : null);
  const [from, to] = [sizeOfSide(pair[0]), sizeOfSide(pair[1])];
  if (!picking)
    return (
      <p>
        <Button tone={wanted ? 'act' : 'plain'} onClick={() => setPicking(true)}>
          Pick points by hand
        </Button>
      </p>
    );
  if (both === null || from === null || to === null) return <p role="status">Opening both photos …</p>;
  return (
    <PickPoints
      pictures={both}
      sizes={[from, to]}
      names={names}
      onLaid={(alignment, pairs) => {
        onLaid(alignment, pairs);
        setPicking(false);
      }}
      onLeave={() => setPicking(false)}
    />
  );
}
