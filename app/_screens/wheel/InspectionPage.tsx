'use client';
import { type InspectionState, NO_SLOT, slotAt, type WheelState } from '../../../lib/record/index.ts';
import {
  restsOnDemonstration,
  settledParts,
  submittedParts,
  type Withheld,
} from '../../../lib/review/index.ts';
import type { Verdict as VerdictData } from '../../../lib/rules/index.ts';
import { constructionOf } from '../../../lib/wheel/index.ts';
import { useInspection } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { UnrolledRim } from '../../_drawings/UnrolledRim.tsx';
import {
  Button,
  Card,
  Caution,
  DemonstrationLimits,
  Empty,
  LinkButton,
  Verdict,
  When,
} from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';
import { CompareWith } from '../compare/CompareWith.tsx';
import classes from '../inspect/inspect.module.css';
import { PhotoScreen } from '../inspect/PhotoScreen.tsx';
import { KeptFromYou } from '../KeptFromYou.tsx';

/** One page of the wheel's book: an inspection as it was taken, submitted and reviewed. */
export function InspectionPage({
  inspection,
  wheel,
  withheld,
}: {
  inspection: InspectionState;
  wheel: WheelState;
  withheld: Withheld | null;
}) {
  const place = usePlace();
  const people = usePeople();
  const name = (id: string | undefined) => (id === undefined ? 'nobody' : (people.get(id) ?? 'someone'));
  const { submission, conclusion } = inspection;
  const loaded = useInspection(inspection.id);
  const photo = place.get('photo');
  const demonstration = restsOnDemonstration(inspection);
  if (photo !== null && loaded.state === 'ready') {
    return <PhotoScreen view={loaded.value} photo={photo} key={photo} />;
  }
  return (
    <>
      <Button onClick={() => place.go({ inspection: null })}>The wheel’s book</Button>
      {withheld === null ? null : <KeptFromYou inspection={inspection.id} withheld={withheld} />}
      {demonstration ? <DemonstrationLimits /> : null}
      <Card title={`${wheel.tag}: ${inspection.reason}`}>
        <p>
          Begun <When at={inspection.opened?.at ?? ''} /> by {name(inspection.opened?.author)}.{' '}
          {submission === null ? (
            'Not submitted.'
          ) : (
            <>
              Submitted <When at={submission.at} /> by {name(submission.author)}, resting on{' '}
              {submission.value.covers.length} entries.
            </>
          )}
        </p>
        {conclusion === null ? (
          <p>Not reviewed yet.</p>
        ) : (
          <p>
            <b>Review: {conclusion.value.outcome}</b> by {name(conclusion.author)},{' '}
            <When at={conclusion.at} />.{' '}
            {conclusion.value.reason === '' ? '' : `“${conclusion.value.reason}”`}
          </p>
        )}
        {inspection.late.length > 0 ? (
          <Caution kind="note">
            {inspection.late.length} entries came after the submission and are not part of its verdict.
          </Caution>
        ) : null}
        {inspection.status === 'open' || inspection.status === 'sent back' ? (
          <LinkButton href={`/inspect?id=${inspection.id}`}>Open it</LinkButton>
        ) : null}
      </Card>
      <Calls inspection={inspection} />
      <UnrolledRim
        construction={constructionOf(wheel.construction)}
        state={inspection}
        verdict={submission === null ? undefined : (submission.value.verdict as unknown as VerdictData)}
        onPhoto={(photo) => place.go({ photo })}
      />
      <PhotoGrid inspection={inspection} />
      <p>
        <a href={`/report?id=${inspection.id}`}>Report and tags (PDF)</a>,{' '}
        <a href={`/audit?id=${inspection.id}`}>everything that was done to this inspection</a>
      </p>
    </>
  );
}

function Calls({ inspection }: { inspection: InspectionState }) {
  const settled = settledParts(inspection);
  const submitted = submittedParts(inspection);
  const reviewer = new Map((inspection.conclusion?.value.calls ?? []).map((one) => [one.component, one]));
  if (submitted.length === 0) return null;
  return (
    <Card title="Verdict, inspector and reviewer">
      <div className={classes.scroll}>
        <table className={list.table}>
          <thead>
            <tr>
              <th>Part</th>
              <th>Verdict</th>
              <th>Inspector</th>
              <th>Reviewer</th>
              <th>Settled</th>
            </tr>
          </thead>
          <tbody>
            {submitted.map(({ slot, component, result }) => {
              const own = component === null ? undefined : inspection.calls.get(component)?.value;
              const second = component === null ? undefined : reviewer.get(component);
              const final = settled?.find((one) => one.slot === slot);
              return (
                <tr key={slot}>
                  <th>{slot}</th>
                  <td>
                    <Verdict result={result} />
                  </td>
                  <td>
                    {own === undefined
                      ? 'no call'
                      : `${own.call}${own.reason === '' ? '' : `: ${own.reason}`}`}
                  </td>
                  <td>
                    {second === undefined
                      ? 'no call'
                      : `${second.call}${second.reason === '' ? '' : `: ${second.reason}`}`}
                  </td>
                  <td>
                    {final === undefined ? 'not yet' : <Verdict result={final.settled} />}
                    {final?.overruled === true ? <div>overruled</div> : null}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </Card>
  );
}

function PhotoGrid({ inspection }: { inspection: InspectionState }) {
  const place = usePlace();
  const photos = [...inspection.photos.values()];
  const { register } = useWorkplace();
  return (
    <Card title={`Photos (${photos.length})`}>
      {photos.length === 0 ? <Empty>No photos in this inspection.</Empty> : null}
      <ul className={classes.zones}>
        {photos.map(({ value: photo, at }) => {
          const slot = slotAt(register, photo.component, inspection.wheel, at) ?? NO_SLOT;
          return (
            <li key={photo.photo}>
              <button
                type="button"
                className={classes.thumb}
                onClick={() => place.go({ photo: photo.photo })}
              >
                <PhotoThumb sha256={photo.photo} name={`${slot}, ${photo.zone}`} />
                <span>
                  {slot}, {photo.zone}
                </span>
              </button>
              <CompareWith inspection={inspection.id} photo={photo.photo} />
            </li>
          );
        })}
      </ul>
    </Card>
  );
}
