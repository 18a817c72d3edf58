'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type Ledge, ledgesNear, profileOf } from '../../../lib/photo/index.ts';
import type { SurfaceChoice } from '../../../lib/record/index.ts';
import { parseTypedLength } from '../../../lib/units/index.ts';
import type { Section, ZoneId } from '../../../lib/wheel/index.ts';
import { rememberedUnit } from '../../_client/device.ts';
import { Button, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './photo.module.css';

type Form = SurfaceChoice['form'];

interface Props {
  readonly surface: SurfaceChoice;
  readonly section: Section | null;
  readonly slot: string | null;
  readonly zone: ZoneId;
  readonly depthMm: number;
  /** What the program takes the surface to be now, in words. */
  readonly taken: string;
  onCancel(): void;
  onSet(surface: SurfaceChoice): Promise<void>;
}

const WORDS: Readonly<Record<Form, string>> = {
  'zone of the mark': 'Its zone',
  plane: 'A plane',
  cylinder: 'A round',
  unknown: 'Not known',
};

/** A ledge in words: where along the axle, and at which radius. */
function ledgeWords({ zone, from, to, normal }: Ledge): string {
  const radius = Math.round((from[1] + to[1]) / 2);
  const [first, last] = [Math.round(Math.min(from[0], to[0])), Math.round(Math.max(from[0], to[0]))];
  const where = zone ?? (Math.abs(normal[0]) > 0.7 ? 'face' : 'land');
  return `${where}, radius ${radius} mm, ${first === last ? first : `${first} to ${last}`} mm from the back flange`;
}

/** Chooses the surface that the marks of a photo lie on, where the program’s own choice is wrong. */
export function SurfacePanel({ surface, section, slot, zone, depthMm, taken, onCancel, onSet }: Props) {
  const [form, setForm] = useState<Form>(surface.form);
  const part = section?.parts.find((one) => one.slot === slot) ?? null;
  const ledges = section === null || part === null ? [] : ledgesNear(profileOf(section, part), zone, depthMm);
  const byZone = surface.form === 'zone of the mark' ? surface : null;
  const [resting, setResting] = useState(() =>
    ledges.findIndex((ledge) => isAt(ledge, byZone?.restsOn ?? null)),
  );
  const [gutterSide, setGutterSide] = useState<'found' | 'top' | 'bottom'>(byZone?.gutterSide ?? 'found');
  const [across, setAcross] = useState(Math.abs(byZone?.turnDegrees ?? 0) === 90);
  const [offset, setOffset] = useState(surface.form === 'plane' ? String(surface.offsetMm) : '0');
  const [radius, setRadius] = useState(surface.form === 'cylinder' ? String(surface.radiusMm) : '');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const made = (): SurfaceChoice | Problem => {
    const turnDegrees = across ? 90 : null;
    if (form === 'unknown') return { form };
    if (form === 'zone of the mark') {
      const ledge = ledges[resting];
      return {
        form,
        restsOn: ledge === undefined || slot === null ? null : { slot, ...middleOf(ledge) },
        turnDegrees,
        gutterSide: gutterSide === 'found' ? null : gutterSide,
      };
    }
    const typed = form === 'plane' ? offset : radius;
    const behind = typed.trim().startsWith('-');
    const length = parseTypedLength(
      typed.trim().replace(/^-/, ''),
      rememberedUnit(),
      form === 'plane' ? 'distance' : 'radius',
    );
    if (!length.ok) return length.error;
    if (form === 'cylinder') return { form, radiusMm: length.value.valueMm, turnDegrees };
    return {
      form,
      offsetMm: (behind ? -1 : 1) * length.value.valueMm,
      offsetUMm: length.value.valueMm === 0 ? 0 : 1,
    };
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const next = made();
    if ('form' in next) void onSet(next);
    else setWrong(next);
  };
  return (
    <form className={classes.panel} onSubmit={submit}>
      <p className={classes.size}>
        Now taken as: <strong>{taken}</strong>. The lines on the photo lie on it; where they do not follow the
        metal, choose another.
      </p>
      <Choice
        legend="The marks lie on"
        options={Object.keys(WORDS) as Form[]}
        words={WORDS}
        value={form}
        onChoose={setForm}
      />
      {form === 'zone of the mark' ? (
        <div className={classes.panelRow}>
          {section === null ? (
            <p>The size of this rim is not known, so its zones have no radius here.</p>
          ) : (
            <Field label="The card or tape lies on">
              <select value={resting} onChange={(event) => setResting(Number(event.target.value))}>
                <option value={-1}>found by itself</option>
                {ledges.map((ledge, index) => (
                  <option key={ledgeWords(ledge)} value={index}>
                    {ledgeWords(ledge)}
                  </option>
                ))}
              </select>
            </Field>
          )}
          <Field label="The gutter side is at the card’s">
            <select
              value={gutterSide}
              onChange={(event) => setGutterSide(event.target.value as typeof gutterSide)}
            >
              <option value="found">found by itself</option>
              <option value="top">top</option>
              <option value="bottom">bottom</option>
            </select>
          </Field>
        </div>
      ) : null}
      {form === 'plane' ? (
        <Field
          label="In front of the card’s plane by"
          hint="0: in its plane. Behind it: with a minus, such as -12 mm"
        >
          <input value={offset} inputMode="text" onChange={(event) => setOffset(event.target.value)} />
        </Field>
      ) : null}
      {form === 'cylinder' ? (
        <Field label="Radius from the axle" hint="The card lies on it from outside">
          <input value={radius} inputMode="text" onChange={(event) => setRadius(event.target.value)} />
        </Field>
      ) : null}
      {form === 'unknown' ? <p>Sizes are then given with a large uncertainty.</p> : null}
      {form === 'cylinder' || form === 'zone of the mark' ? (
        <Choice
          legend="Round the rim runs"
          options={['long', 'short']}
          words={{ long: 'the card’s long side', short: 'its short side' }}
          value={across ? 'short' : 'long'}
          onChoose={(side) => setAcross(side === 'short')}
        />
      ) : null}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={classes.panelRow}>
        <Button type="submit" tone="act">
          Take this surface
        </Button>
        <Button onClick={onCancel}>Cancel</Button>
      </div>
    </form>
  );
}

function middleOf({ from, to }: Ledge): { axialMm: number; radiusMm: number } {
  return { axialMm: (from[0] + to[0]) / 2, radiusMm: (from[1] + to[1]) / 2 };
}

function isAt(ledge: Ledge, place: { axialMm: number; radiusMm: number } | null): boolean {
  if (place === null) return false;
  const middle = middleOf(ledge);
  return Math.hypot(middle.axialMm - place.axialMm, middle.radiusMm - place.radiusMm) < 1;
}
