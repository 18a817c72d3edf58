'use client';
import { useState } from 'react';
import {
  type Call,
  componentsIn,
  type InspectionState,
  kinds,
  partWords,
  type WheelState,
} from '../../../lib/record/index.ts';
import {
  restsOnDemonstration,
  settledParts,
  submittedParts,
  type Withheld,
} from '../../../lib/review/index.ts';
import { type Construction, constructionOf, parseDesignation } from '../../../lib/wheel/index.ts';
import { newId } from '../../_client/device.ts';
import { useBook } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import {
  Button,
  Card,
  Caution,
  DemonstrationLimits,
  Empty,
  Field,
  LinkButton,
  Verdict,
  VerdictCounts,
  When,
} from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { WheelWear } from '../wear/WheelWear.tsx';
import { InspectionPage } from './InspectionPage.tsx';
import { PhotosByZone } from './PhotosByZone.tsx';
import { ThroughTime } from './ThroughTime.tsx';
import classes from './wheel.module.css';

/** The book of one wheel: what it is, what is in it, and every inspection with both signatures. */
export function WheelBook() {
  return (
    <Frame title="Wheel" back={{ href: '/', label: 'start' }}>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const { register } = useWorkplace();
  const id = place.get('id');
  const tag = place.get('tag');
  const wheel =
    id === null ? [...register.wheels.values()].find((one) => one.tag === tag) : register.wheels.get(id);
  const { inspections, fetched, asOf, reached, withheld } = useBook(id ?? wheel?.id ?? null);
  const known = reached || asOf !== null;
  if (wheel === undefined) {
    return fetched ? (
      <Empty>
        This wheel is not known at the site you work at. <a href="/">Find it by its tag.</a>
      </Empty>
    ) : (
      <p>Looking it up …</p>
    );
  }
  const opened = place.get('inspection');
  const inspection = inspections.find((one) => one.id === opened);
  if (inspection !== undefined)
    return (
      <InspectionPage inspection={inspection} wheel={wheel} withheld={withheld.get(inspection.id) ?? null} />
    );
  if (place.get('show') === 'wear') return <WheelWear wheel={wheel} inspections={inspections} />;
  return (
    <>
      <Head wheel={wheel} />
      {fetched && !reached ? (
        <Caution kind="note">
          No connection.{' '}
          {asOf === null ? (
            'This book was never fetched to this device: there may be inspections and verdicts that are not shown.'
          ) : (
            <>
              The book is shown as it was on <When at={asOf} />.
            </>
          )}
        </Caution>
      ) : null}
      <Begin wheel={wheel} inspections={inspections} />
      {inspections.some(restsOnDemonstration) ? <DemonstrationLimits /> : null}
      <ThroughTime wheel={wheel} inspections={inspections} withheld={withheld} />
      <p>
        <LinkButton href={`/wheel?id=${wheel.id}&show=wear`}>Wear of its parts</LinkButton>
      </p>
      <Parts
        wheel={wheel}
        construction={constructionOf(wheel.construction)}
        inspections={inspections}
        known={known}
      />
      <Inspections withheld={withheld} inspections={inspections} fetched={fetched} known={known} />
      <PhotosByZone wheel={wheel} inspections={inspections} />
    </>
  );
}

function Head({ wheel }: { wheel: WheelState }) {
  const size = parseDesignation(wheel.designation);
  return (
    <Card title={`${wheel.tag}, ${wheel.machine} ${wheel.position}`}>
      <p>
        {constructionOf(wheel.construction).title} <b>{wheel.designation}</b>
        {wheel.maker === '' ? ', maker unknown' : `, ${wheel.maker} ${wheel.series}`}
        {wheel.dual ? ', one of a dual pair' : ''}.
      </p>
      {size.ok ? (
        <p>
          Width {size.value.widthIn} in ({size.value.widthMm.toFixed(1)} mm)
          {size.value.specifiedDiameterMm === undefined
            ? ''
            : `, specified diameter ${size.value.specifiedDiameterMm.toFixed(1)} mm`}
          {size.value.flangeHeightMm === undefined
            ? ''
            : `, flange height ${size.value.flangeHeightMm.toFixed(1)} mm`}
          .
        </p>
      ) : (
        <p>
          <b>Size not understood:</b> {size.error.message}. It is kept as written.
        </p>
      )}
    </Card>
  );
}

function Begin({ wheel, inspections }: { wheel: WheelState; inspections: readonly InspectionState[] }) {
  const { has, write, me } = useWorkplace();
  const [reason, setReason] = useState('Tyre off');
  const mine = inspections.find(
    (one) => (one.status === 'open' || one.status === 'sent back') && one.inspectors.includes(me.person.id),
  );
  if (!has('inspector')) return null;
  const begin = async () => {
    const id = newId();
    await write(kinds.inspectionOpened, id, { wheel: wheel.id, reason });
    window.location.assign(`/inspect?id=${id}&screen=gate`);
  };
  return (
    <Card title={mine === undefined ? 'Begin an inspection' : 'Your inspection is open'}>
      {mine === undefined ? null : (
        <p>
          <Button tone="act" block onClick={() => window.location.assign(`/inspect?id=${mine.id}`)}>
            Go on with it
          </Button>
        </p>
      )}
      <Field label="Why now">
        <select value={reason} onChange={(event) => setReason(event.target.value)}>
          {['Tyre off', 'Yearly', 'Damage seen', 'Before assembly', 'Walk-around'].map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </Field>
      <Button tone={mine === undefined ? 'act' : 'plain'} block onClick={() => void begin()}>
        {mine === undefined ? 'Begin' : 'Begin another'}
      </Button>
    </Card>
  );
}

/** The newest settled result of each part of a wheel, by component. */
function newestSettled(inspections: readonly InspectionState[]) {
  const found = new Map<string, { result: 'keep' | 'repair' | 'scrap' | 'hold'; at: string }>();
  for (const inspection of inspections) {
    for (const part of settledParts(inspection) ?? []) {
      if (part.component !== null && !found.has(part.component)) {
        found.set(part.component, { result: part.settled, at: inspection.conclusion?.at ?? '' });
      }
    }
  }
  return found;
}

function Parts({
  wheel,
  construction,
  inspections,
  known,
}: {
  known: boolean;
  wheel: WheelState;
  construction: Construction;
  inspections: readonly InspectionState[];
}) {
  const { register } = useWorkplace();
  const parts = componentsIn(wheel.id, register);
  const settled = newestSettled(inspections);
  return (
    <Card title="Parts">
      <ul className={list.list}>
        {construction.slots
          .filter((slot) => slot.inspected)
          .map((slot) => {
            const component = parts.get(slot.slot);
            const last = component === undefined ? undefined : settled.get(component.id);
            return (
              <li key={slot.slot} className={list.row}>
                <span className={list.main}>
                  <b>{slot.slot}</b>
                  <small>
                    {component === undefined ? 'Nobody has said which one is fitted' : partWords(component)}
                  </small>
                </span>
                {last === undefined ? (
                  <span className={list.aside}>{known ? 'no settled verdict' : 'not known here'}</span>
                ) : (
                  <Verdict result={last.result} />
                )}
              </li>
            );
          })}
      </ul>
    </Card>
  );
}

const STATUS_WORDS: Readonly<Record<InspectionState['status'], string>> = {
  open: 'being taken',
  submitted: 'waiting for review',
  asked: 'question to the inspector',
  'third person': 'waiting for a third person',
  'sent back': 'sent back',
  concluded: 'reviewed',
  reopened: 'new evidence since review',
};

/** Results as reviewed, or as submitted while no review has settled them. */
function resultsOf(inspection: InspectionState): Call[] {
  const settled = settledParts(inspection)?.map((part) => part.settled);
  return settled ?? submittedParts(inspection).map((part) => part.result);
}

function statusWords(status: string): string {
  return Object.entries(STATUS_WORDS).find(([one]) => one === status)?.[1] ?? status;
}

function isKept(withheld: ReadonlyMap<string, Withheld>, inspection: string): boolean {
  return withheld.get(inspection)?.why === 'measure first';
}

function Inspections({
  inspections,
  fetched,
  known,
  withheld,
}: {
  inspections: readonly InspectionState[];
  fetched: boolean;
  known: boolean;
  withheld: ReadonlyMap<string, Withheld>;
}) {
  const place = usePlace();
  const people = usePeople();
  return (
    <Card title={known ? `Inspections (${inspections.length})` : 'Inspections on this device'}>
      {inspections.length === 0 ? (
        <Empty>
          {!fetched
            ? 'Fetching …'
            : known
              ? 'No inspection of this wheel is on record.'
              : 'None is on this device; the server may have some.'}
        </Empty>
      ) : null}
      <ul className={list.list}>
        {inspections.map((one) => (
          <li key={one.id}>
            <button type="button" className={list.row} onClick={() => place.go({ inspection: one.id })}>
              <span className={list.main}>
                <b>
                  <When at={one.opened?.at ?? ''} />
                </b>{' '}
                {one.reason}
                <small>
                  {people.get(one.opened?.author ?? '') ?? 'someone'}; {one.photos.size} photos
                  {isKept(withheld, one.id)
                    ? '; its figures are kept from you until you have measured'
                    : `, ${one.marks.size} marks, ${one.readings.size} readings`}
                </small>
              </span>
              <span className={classes.results}>
                <span className={list.aside}>
                  {isKept(withheld, one.id)
                    ? statusWords(withheld.get(one.id)?.status ?? one.status)
                    : STATUS_WORDS[one.status]}
                </span>
                <VerdictCounts results={resultsOf(one)} />
              </span>
            </button>
          </li>
        ))}
      </ul>
    </Card>
  );
}
