'use client';
import { counted } from '../../../lib/base/index.ts';
import type { ComponentState, Fitment, InspectionState } from '../../../lib/record/index.ts';
import { restsOnDemonstration, settledParts, submittedParts } from '../../../lib/review/index.ts';
import { useBook } from '../../_client/inspection.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Card, DemonstrationLimits, Empty, Verdict, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';
import classes from './parts.module.css';

/** A part's own pages: what the inspections of every wheel it was in saw, read and decided of it. */
export function Pages({ part }: { part: ComponentState }) {
  const wheels = [...new Set(part.fitments.map(({ wheel }) => wheel))];
  return (
    <Card title="Its pages">
      {wheels.length === 0 ? <Empty>It was in no wheel, so no inspection can have seen it.</Empty> : null}
      {wheels.map((wheel) => (
        <PagesInWheel key={wheel} part={part} wheel={wheel} />
      ))}
    </Card>
  );
}

function wasThere(stays: readonly Fitment[], at: string): boolean {
  return stays.some(({ from, until }) => from <= at && (until === null || at < until));
}

function PagesInWheel({ part, wheel }: { part: ComponentState; wheel: string }) {
  const { register } = useWorkplace();
  const { inspections, fetched, reached } = useBook(wheel);
  const stays = part.fitments.filter((stay) => stay.wheel === wheel);
  const pages = inspections.filter(({ opened }) => opened !== null && wasThere(stays, opened.at));
  return (
    <section>
      {pages.some(restsOnDemonstration) ? <DemonstrationLimits /> : null}
      <h3>In {register.wheels.get(wheel)?.tag ?? 'a wheel'}</h3>
      {pages.length === 0 ? (
        <Empty>
          {fetched
            ? reached
              ? 'No inspection while it was there.'
              : 'No connection, and none is on this device.'
            : 'Fetching …'}
        </Empty>
      ) : null}
      <ul className={list.list}>
        {pages.map((page) => (
          <li key={page.id}>
            <Page page={page} wheel={wheel} ids={[part.id, ...part.merged]} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Page({ page, wheel, ids }: { page: InspectionState; wheel: string; ids: readonly string[] }) {
  const of = ({ value }: { value: { component: string | null } }) =>
    value.component !== null && ids.includes(value.component);
  const photos = [...page.photos.values()].filter(of);
  const marks = [...page.marks.values()].filter(of).length;
  const readings = [...page.readings.values()].filter(of).length;
  const mine = ({ component }: { component: string | null }) => component !== null && ids.includes(component);
  const result = settledParts(page)?.find(mine)?.settled ?? submittedParts(page).find(mine)?.result;
  return (
    <div className={classes.page}>
      <a className={list.row} href={`/wheel?id=${wheel}&inspection=${page.id}`}>
        <span className={list.main}>
          <b>
            <When at={page.opened?.at ?? ''} />
          </b>{' '}
          {page.reason}
          <small>
            {counted(photos.length, 'photo')}, {counted(marks, 'mark')}, {counted(readings, 'reading')}
          </small>
        </span>
        {result === undefined ? (
          <span className={list.aside}>no verdict here</span>
        ) : (
          <Verdict result={result} />
        )}
      </a>
      <ul className={`${list.strip} ${classes.photos}`}>
        {photos.map(({ value: { photo, zone } }) => (
          <li key={photo}>
            <a href={`/wheel?id=${wheel}&inspection=${page.id}&photo=${photo}`}>
              <PhotoThumb sha256={photo} name={zone} />
              <small>{zone}</small>
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
