'use client';
import type { WheelState } from '../../../lib/record/index.ts';
import { waitedWords } from '../../../lib/review/index.ts';
import { ENERGY_WORDS } from '../../../lib/wheel/index.ts';
import type { Member } from '../../_client/people.ts';
import { Button, VerdictCounts, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import classes from './queueRow.module.css';
import type { Line } from './useQueue.ts';

/** Who reads the queue, and what they may do with a line. */
export interface Reader {
  readonly id: string;
  readonly reviewer: boolean;
  readonly lead: boolean;
  readonly reviewers: readonly Member[];
  readonly names: ReadonlyMap<string, string>;
  /** The moment that waiting is counted to, ISO 8601. */
  readonly now: string;
}

/** Whether the reader may take the review of a line on. */
export function mayTake({ status, body }: Line, reader: Reader): boolean {
  return reader.reviewer && status !== 'concluded' && body.inspectors?.includes(reader.id) !== true;
}

/** One inspection: what it is, why it stands here, who has it, and taking it on or giving it to somebody. */
export function QueueRow({
  line,
  wheel,
  reader,
  onGive,
}: {
  line: Line;
  wheel: WheelState | undefined;
  reader: Reader;
  onGive: (line: Line, to: string | null) => void;
}) {
  const own = line.body.inspectors?.includes(reader.id) === true;
  const { results, why } = line.body;
  return (
    <li className={classes.item}>
      <a className={classes.open} href={`/review?id=${line.id}`} data-inspection={line.id}>
        <span className={classes.what}>
          <b className={list.tag}>{wheel?.tag ?? line.tag}</b>{' '}
          <b>{wheel === undefined ? '' : `${wheel.machine} ${wheel.position}`}</b>
        </span>
        {results === undefined ? null : (
          <span className={classes.results}>
            <VerdictCounts results={results.map((part) => part.result)} />
          </span>
        )}
        <span className={classes.facts}>
          {line.energyClass === null ? null : <Energy of={line.energyClass} />}
          {line.waitingSince === null ? null : <span>{waitedWords(line.waitingSince, reader.now)}</span>}
        </span>
        <small className={classes.more}>
          {line.body.reason}; {reader.names.get(line.inspector) ?? 'someone'}
          {line.submittedAt === null ? '' : ', '}
          {line.submittedAt === null ? null : <When at={line.submittedAt} />}; {line.body.photos ?? 0} photos,{' '}
          {line.body.readings ?? 0} readings
          {typeof why === 'string' ? <span className={classes.why}>Why here: {why}</span> : null}
        </small>
      </a>
      <div className={classes.who}>
        <Held line={line} reader={reader} />
        {own ? <p>Your own work: somebody else reviews it.</p> : null}
        <Giving line={line} reader={reader} onGive={onGive} tag={wheel?.tag ?? line.tag} />
      </div>
    </li>
  );
}

const BARS = [1, 2, 3, 4] as const;

/** Stored energy as a word beside bars of rising height. */
function Energy({ of }: { of: 1 | 2 | 3 | 4 }) {
  return (
    <span className={classes.energy}>
      <svg viewBox="0 0 20 16" width="20" height="16" aria-hidden="true">
        {BARS.map((bar) => (
          <rect
            key={bar}
            x={(bar - 1) * 5 + 0.5}
            y={16 - bar * 4}
            width="4"
            height={bar * 4}
            className={bar <= of ? classes.full : classes.hollow}
          />
        ))}
      </svg>
      {ENERGY_WORDS[of]} stored energy
    </span>
  );
}

/** Who else looks at it; one's own page gives its hold back as it is left, which may come later than this list. */
function Held({ line: { heldBy, heldUntil }, reader }: { line: Line; reader: Reader }) {
  if (heldBy === null || heldBy === reader.id || heldUntil === null || heldUntil <= reader.now) return null;
  const until = new Date(heldUntil).toLocaleTimeString(undefined, { timeStyle: 'short' });
  return (
    <p className={classes.held}>
      {reader.names.get(heldBy) ?? 'Another reviewer'} is looking at it, until {until}
    </p>
  );
}

function Giving({
  line,
  reader,
  onGive,
  tag,
}: {
  line: Line;
  reader: Reader;
  onGive: (line: Line, to: string | null) => void;
  tag: string;
}) {
  const { assignedTo, body } = line;
  const nameFor = (id: string) => (id === reader.id ? 'you' : (reader.names.get(id) ?? 'a reviewer'));
  const given = assignedTo === null ? 'nobody yet' : nameFor(assignedTo);
  const others = reader.reviewers.filter(({ id }) => body.inspectors?.includes(id) !== true);
  const takes = mayTake(line, reader) && assignedTo !== reader.id;
  if (line.concludedAt !== null && line.status === 'concluded') {
    return (
      <p>
        Reviewed by {nameFor(line.reviewer ?? '')}, <When at={line.concludedAt} />
      </p>
    );
  }
  if (!(reader.reviewer || reader.lead)) return <p>Reviewer: {given}</p>;
  return (
    <>
      {takes ? (
        <Button
          onClick={({ currentTarget }) => {
            // The button goes away with what it does: the focus stays in its row.
            currentTarget.closest('li')?.querySelector('a')?.focus();
            onGive(line, reader.id);
          }}
          aria-label={`Take it on: the review of ${tag}`}
        >
          Take it on
        </Button>
      ) : null}
      <label className={classes.giving}>
        <span>Reviewer</span>
        <select
          className={classes.give}
          aria-label={`Reviewer of ${tag}`}
          value={assignedTo ?? ''}
          onChange={(event) => onGive(line, event.target.value === '' ? null : event.target.value)}
        >
          <option value="">nobody yet</option>
          {assignedTo !== null && others.every(({ id }) => id !== assignedTo) ? (
            <option value={assignedTo}>{given}</option>
          ) : null}
          {others.map(({ id }) => (
            <option key={id} value={id}>
              {nameFor(id)}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}
