import { z } from 'zod';
import { Reading } from '../../readings/index.ts';
import { defineKind, type Names } from '../kind.ts';

function words(body: Reading, names: Names): string {
  const clock = body.clock === null ? '' : ` at ${body.clock} o'clock`;
  const state = body.state === null ? '' : ` (${body.state})`;
  const overlap = body.overlap ? ' overlap' : '';
  const by = body.instrument === null ? '' : ` with ${names.instrument(body.instrument)}`;
  return `${names.component(body.component)}, ${body.characteristic}${state}${clock}: ${body.typed}${overlap}${by}`;
}

export const readingEntered = defineKind({
  kind: 'reading entered',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: Reading,
  line: (body, names) => `Reading ${words(body, names)}`,
  upgrades: [],
});

/** Carries the `reading` id of the reading it corrects; the first stays in the record. */
export const readingCorrected = defineKind({
  kind: 'reading corrected',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: Reading,
  line: (body, names) => `Corrected to ${words(body, names)}`,
  upgrades: [],
});

export const readingWithdrawn = defineKind({
  kind: 'reading withdrawn',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ reading: z.uuid(), reason: z.string().trim().min(1).max(500) }),
  line: (body) => `Withdrew a reading: ${body.reason}`,
  upgrades: [],
});
