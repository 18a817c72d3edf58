'use client';
import { type FormEvent, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { knownRectangles, type PartLength, STATED_SIZE } from '../../../lib/photo/index.ts';
import { PhotoScale } from '../../../lib/record/index.ts';
import { parseTypedLength } from '../../../lib/units/index.ts';
import { rememberedUnit } from '../../_client/device.ts';
import { Button, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import { type Pull, PullPoints } from './PullPoints.tsx';
import classes from './photo.module.css';
import type { Guide } from './scaleGuide.ts';

interface Props {
  readonly guide: Guide;
  /** The scale of a card found in the photo; null where none was. */
  readonly found: PhotoScale | null;
  /** Lengths of the rim that its size designation states. */
  readonly lengths: readonly PartLength[];
  onGuide(guide: Guide): void;
  /** Pulls points to edges in the photo. */
  pull: Pull;
  onCancel(): void;
  onSet(scale: PhotoScale): Promise<void>;
}

const OTHER = 'other rectangle';
const TAPE = 'tape';
const SOURCES = ['length', 'two lengths', 'rectangle'] as const;
type Source = (typeof SOURCES)[number];

const HINTS: Readonly<Record<Source, string>> = {
  length: 'Touch the two ends of the length on the photo',
  'two lengths': 'Touch the two ends of one length, then of another across it',
  rectangle: 'Touch the four corners one after the other round it',
};

/** Sets the scale: a found card, one or two known lengths, or the four corners of a rectangle. */
export function ScalePanel({ guide, found, lengths, onGuide, pull, onCancel, onSet }: Props) {
  const { points, wanted } = guide;
  const source: Source = wanted === 2 ? 'length' : guide.pairs === true ? 'two lengths' : 'rectangle';
  const [typed, setTyped] = useState('');
  const [second, setSecond] = useState('');
  const [between, setBetween] = useState(TAPE);
  const known = lengths.find((one) => one.what === between);
  const [what, setWhat] = useState<string>('');
  const [longFirst, setLongFirst] = useState(true);
  const [width, setWidth] = useState('');
  const [height, setHeight] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const ready = points.length === wanted;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const made =
      source === 'rectangle'
        ? rectangleScale(points, what, longFirst, width, height)
        : source === 'length'
          ? lengthScale(points, known?.typed ?? typed, between)
          : lengthsScale(points, typed, second);
    if ('problem' in made) setWrong(made.problem);
    else void onSet(made.scale);
  };
  return (
    <form className={classes.panel} onSubmit={submit}>
      {found === null ? null : (
        <div className={classes.panelRow}>
          <Button tone="act" onClick={() => void onSet(found)}>
            Use the card that was found
          </Button>
        </div>
      )}
      <Choice
        legend="Scale from"
        options={SOURCES}
        words={{ length: 'A known length', 'two lengths': 'Two lengths', rectangle: 'A rectangle' }}
        value={source}
        onChoose={(next) =>
          onGuide({ points: [], wanted: next === 'length' ? 2 : 4, pairs: next === 'two lengths' })
        }
      />
      <p className={classes.size}>
        {ready ? 'Drag the points to set them exactly.' : `${HINTS[source]} (${points.length} of ${wanted}).`}
      </p>
      {ready ? (
        <PullPoints
          points={points}
          what={source === 'rectangle' ? 'corners' : 'spans'}
          pull={pull}
          onPoints={(next) => onGuide({ ...guide, points: next.map(([x, y]) => [x, y]) })}
        />
      ) : null}
      {source === 'rectangle' ? (
        <div className={classes.panelRow}>
          <Field label="Rectangle">
            <select value={what} onChange={(event) => setWhat(event.target.value)}>
              <option value="">choose …</option>
              {knownRectangles.map((one) => (
                <option key={one.what} value={one.what}>
                  {one.what}, {one.widthMm} × {one.heightMm} mm
                </option>
              ))}
              <option value={OTHER}>{OTHER}</option>
            </select>
          </Field>
          {what === OTHER ? (
            <>
              <Field label="First side">
                <input value={width} onChange={(event) => setWidth(event.target.value)} />
              </Field>
              <Field label="Second side">
                <input value={height} onChange={(event) => setHeight(event.target.value)} />
              </Field>
            </>
          ) : (
            <Choice
              legend="From the first corner to the second runs"
              options={['long', 'short']}
              words={{ long: 'the long side', short: 'the short side' }}
              value={longFirst ? 'long' : 'short'}
              onChoose={(side) => setLongFirst(side === 'long')}
            />
          )}
        </div>
      ) : (
        <div className={classes.panelRow}>
          {source === 'length' ? (
            <Field label="Between the ends lies">
              <select value={between} onChange={(event) => setBetween(event.target.value)}>
                <option value={TAPE}>a length on a tape or rule</option>
                {lengths.map((one) => (
                  <option key={one.what} value={one.what}>
                    {one.typed}: {one.what}
                  </option>
                ))}
                <option value={STATED_SIZE}>{STATED_SIZE}</option>
              </select>
            </Field>
          ) : null}
          {source === 'length' && known !== undefined ? null : (
            <Field label="Length between the ends" hint="Such as 100 mm or 6 in">
              <input value={typed} onChange={(event) => setTyped(event.target.value)} />
            </Field>
          )}
          {source === 'two lengths' ? (
            <Field label="Length of the second one" hint="In the same plane, best at right angles">
              <input value={second} onChange={(event) => setSecond(event.target.value)} />
            </Field>
          ) : null}
        </div>
      )}
      {source === 'length' ? (
        <p className={classes.budget}>
          One length does not tell how oblique the view is: sizes are less sure than with a card
          {between === TAPE ? '.' : ', and a nominal or stated size of a worn part less than a tape.'}
        </p>
      ) : null}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={classes.panelRow}>
        <Button type="submit" tone="act" disabled={!ready || (source === 'rectangle' && what === '')}>
          Set the scale
        </Button>
        <Button onClick={onCancel}>Cancel</Button>
      </div>
    </form>
  );
}

type Made = { readonly scale: PhotoScale } | { readonly problem: Problem };

function checked(candidate: unknown): Made {
  const parsed = PhotoScale.safeParse(candidate);
  if (parsed.success) return { scale: parsed.data };
  const issue = parsed.error.issues[0];
  return {
    problem: problem(
      'scale',
      issue?.path.join('.') ?? '',
      candidate,
      issue?.message ?? 'Not a scale',
      'Enter the size again; it must lie above 0 and below 20 m.',
    ),
  };
}

function lengthScale(points: Guide['points'], typed: string, what: string): Made {
  const length = parseTypedLength(typed, rememberedUnit(), 'length');
  if (!length.ok) return { problem: length.error };
  return checked({
    source: 'known length',
    ends: points,
    lengthMm: length.value.valueMm,
    typed: typed.trim(),
    what,
  });
}

function lengthsScale(points: Guide['points'], typed: string, second: string): Made {
  const first = parseTypedLength(typed, rememberedUnit(), 'length');
  if (!first.ok) return { problem: first.error };
  const other = parseTypedLength(second, rememberedUnit(), 'second length');
  if (!other.ok) return { problem: other.error };
  return checked({
    source: 'two known lengths',
    spans: [
      { ends: points.slice(0, 2), lengthMm: first.value.valueMm, typed: typed.trim() },
      { ends: points.slice(2), lengthMm: other.value.valueMm, typed: second.trim() },
    ],
    what: 'two known lengths',
  });
}

function rectangleScale(
  points: Guide['points'],
  what: string,
  longFirst: boolean,
  width: string,
  height: string,
): Made {
  const known = knownRectangles.find((one) => one.what === what);
  if (known !== undefined) {
    const [long, short] = [known.widthMm, known.heightMm];
    const sides = longFirst ? { widthMm: long, heightMm: short } : { widthMm: short, heightMm: long };
    return checked({ source: 'rectangle', corners: points, ...sides, what });
  }
  const first = parseTypedLength(width, rememberedUnit(), 'first side');
  if (!first.ok) return { problem: first.error };
  const second = parseTypedLength(height, rememberedUnit(), 'second side');
  if (!second.ok) return { problem: second.error };
  return checked({
    source: 'rectangle',
    corners: points,
    widthMm: first.value.valueMm,
    heightMm: second.value.valueMm,
    what,
  });
}
