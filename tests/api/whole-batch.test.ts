import { expect, it } from 'vitest';
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
import { evaluate, gatherEvidence } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { thing } from '../support/entries.ts';
import { NORTH, send, signIn, twoSites, WHEEL, withServer } from './support.ts';

withServer(twoSites);

const INSPECTION = thing(70);
const BASE = thing(71);
const TABLES = ['demonstration-quillmoor'];

let ms = Date.parse('2026-05-04T08:00:00.000Z');
function make<B extends z.ZodType>(kind: Kind<B>, subject: string, body: z.input<B>): Entry {
  ms += 1000;
  return makeEntry(kind, subject, body, {
    id: `019b0000-0000-7000-9000-${(ms % 1_000_000).toString(16).padStart(12, '0')}`,
    site: NORTH,
    at: new Date(ms).toISOString(),
    author: 'ada',
    device: 'phone',
  });
}

it('a device that was away for long may send the register, the inspection and its submission in one batch', async () => {
  const register = [
    make(kinds.siteDescribed, NORTH, {
      name: 'North pit',
      tables: TABLES,
      keepLocation: false,
      demonstration: true,
    }),
    make(kinds.wheelDescribed, WHEEL, {
      tag: '4K7-P34',
      designation: '25-17.00/2.0',
      construction: 'three-piece',
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      machine: '',
      position: '',
      dual: false,
    }),
    make(kinds.componentDescribed, BASE, {
      componentKind: 'rim base',
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      stamp: '1',
      madeOn: null,
    }),
    make(kinds.componentFitted, BASE, { wheel: WHEEL, slot: 'rim base' }),
  ];
  const opened = make(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
  const state = foldInspection([opened]);
  const folded = foldRegister(register);
  const decidedAt = new Date(ms + 1000).toISOString();
  const evidence = gatherEvidence(state, must(folded.wheels.get(WHEEL), 'the wheel'), folded, decidedAt);
  const submitted = make(kinds.inspectionSubmitted, INSPECTION, {
    covers: [...state.coverable],
    verdict: { ...evaluate(evidence, tablesNamed(TABLES).tables) },
  });
  const response = await send('POST', '/api/v1/entries', {
    cookie: await signIn('ada@rims.example'),
    json: { entries: [...register, opened, submitted] },
  });
  const { results } = (await response.json()) as { results: unknown[] };
  expect(results).toHaveLength(6);
  for (const outcome of results) expect(outcome).toMatchObject({ status: 'stored' });
});
