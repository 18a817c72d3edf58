import type { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import {
  type Entry,
  foldInspection,
  foldRegister,
  type Kind,
  kinds,
  makeEntry,
} from '../../lib/record/index.ts';
import { evaluate, gatherEvidence, type Verdict } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { FITTING, STAMPS, thing } from '../support/entries.ts';
import { NORTH, WHEEL } from './support.ts';

export const INSPECTION = thing(70);
export const BASE = thing(71);
export const TABLES = ['demonstration-quillmoor'];

let serial = 0;
let ms = Date.parse('2026-05-04T08:00:00.000Z');

/** The moment of the entry that was made last, and some time after it. */
export function moment(laterMs = 0): string {
  return new Date(ms + laterMs).toISOString();
}

/** An entry in the north, a second after the one before it. */
export function make<B extends z.ZodType>(
  author: string,
  kind: Kind<B>,
  subject: string,
  body: z.input<B>,
): Entry {
  serial += 1;
  ms += 1000;
  return makeEntry(kind, subject, body, {
    id: `019b0000-0000-7000-9000-${serial.toString(16).padStart(12, '0')}`,
    site: NORTH,
    at: moment(),
    author,
    device: 'phone',
  });
}

/** Ada's register of the north: its limits, `WHEEL` and its rim base. */
export function registerOfWheel(): Entry[] {
  return [
    make('ada', kinds.siteDescribed, NORTH, {
      name: 'North pit',
      tables: TABLES,
      keepLocation: false,
      demonstration: true,
    }),
    make('ada', kinds.wheelDescribed, WHEEL, {
      tag: '4K7-P3F',
      designation: '25-17.00/2.0',
      construction: 'three-piece',
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      machine: '',
      position: '',
      dual: false,
    }),
    make('ada', kinds.componentDescribed, BASE, {
      componentKind: 'rim base',
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      stamp: '1',
      ...STAMPS,
    }),
    make('ada', kinds.componentFitted, BASE, { wheel: WHEEL, slot: 'rim base', ...FITTING }),
  ];
}

/** A submission of `INSPECTION` as an honest device makes it from these entries. */
export function submission(
  register: readonly Entry[],
  entries: readonly Entry[],
  change: (verdict: Verdict) => Verdict = (one) => one,
): Entry {
  const state = foldInspection(entries);
  const folded = foldRegister(register);
  const wheel = must(folded.wheels.get(WHEEL), 'the wheel');
  const verdict = evaluate(gatherEvidence(state, wheel, folded, moment(1000)), tablesNamed(TABLES).tables);
  return make('ada', kinds.inspectionSubmitted, INSPECTION, {
    covers: [...state.coverable],
    verdict: { ...change(verdict) },
  });
}
