import type { BrowserContext } from 'playwright-core';
import { v7 } from 'uuid';
import type { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import { type Kind, kinds, makeEntry } from '../../lib/record/index.ts';
import { constructionOf } from '../../lib/wheel/index.ts';
import { FITTING, STAMPS } from '../support/entries.ts';
import { call } from './support.ts';

export const PASSWORD = 'gutter groove lip 19';
export const ADMIN = 'admin@site.example';
export const INSPECTOR = 'inspector@site.example';
export const REVIEWER = 'reviewer@site.example';
export const REVIEWER_2 = 'reviewer2@site.example';

interface Me {
  readonly person: { readonly id: string };
  readonly sites: readonly { readonly id: string; readonly name: string }[];
}

/** Writes entries through the API as the signed-in person; throws when one is refused. */
export async function writer(context: BrowserContext) {
  const { json: me } = await call<Me>(context, 'GET', '/api/v1/me');
  const site = must(me.sites[0], 'a site').id;
  return {
    me,
    site,
    async write<B extends z.ZodType>(
      kind: Kind<B>,
      subject: string,
      body: z.input<B>,
      at = new Date().toISOString(),
    ): Promise<void> {
      const entry = makeEntry(kind, subject, body, {
        id: v7(),
        site,
        at,
        author: me.person.id,
        device: 'tests',
      });
      const { json } = await call<{ results: { status: string; problem?: unknown }[] }>(
        context,
        'POST',
        '/api/v1/entries',
        { entries: [entry] },
      );
      if (json.results[0]?.status !== 'stored') throw new Error(JSON.stringify(json));
    },
  };
}

export interface TestSite {
  readonly site: string;
  readonly wheel: string;
  readonly tag: string;
}

/** People, limits, instruments and one three-piece wheel with its parts, set up by the administrator as lead. */
export async function setUpSite(admin: BrowserContext): Promise<TestSite> {
  const { json: me } = await call<Me>(admin, 'GET', '/api/v1/me');
  const site = must(me.sites[0], 'a site').id;
  await call(admin, 'PUT', `/api/v1/people/${me.person.id}/roles`, { site, roles: ['lead', 'inspector'] });
  for (const [name, email, role] of [
    ['Test inspector', INSPECTOR, 'inspector'],
    ['Test reviewer', REVIEWER, 'reviewer'],
    ['Test reviewer 2', REVIEWER_2, 'reviewer'],
  ] as const) {
    const made = await call(admin, 'POST', '/api/v1/people', {
      name,
      email,
      password: PASSWORD,
      roles: [{ site, roles: [role] }],
    });
    if (made.status !== 201) throw new Error(JSON.stringify(made.json));
  }
  const lead = await writer(admin);
  await lead.write(kinds.siteDescribed, site, {
    name: 'Test quarry',
    tables: ['demonstration-quillmoor'],
    keepLocation: false,
    demonstration: true,
  });
  await lead.write(kinds.instrumentDescribed, v7(), {
    name: 'Depth gauge 1',
    kind: 'depth gauge',
    serial: '1',
    resolutionMm: 0.05,
    certificateUMm: 0.03,
    calibratedOn: '2026-01-01',
    calibrationDue: '2099-01-01',
  });
  await lead.write(kinds.instrumentDescribed, v7(), {
    name: 'Old calliper',
    kind: 'calliper',
    serial: '2',
    resolutionMm: 0.05,
    certificateUMm: 0.03,
    calibratedOn: '2019-01-01',
    calibrationDue: '2020-01-01',
  });
  const wheel = v7();
  const tag = '4K7-P3F';
  await lead.write(kinds.wheelDescribed, wheel, {
    tag,
    designation: '25-17.00/2.0',
    construction: 'three-piece',
    maker: 'Quillmoor Rimworks',
    series: 'QX',
    machine: 'Loader 3',
    position: 'front left',
    dual: false,
  });
  for (const slot of constructionOf('three-piece').slots.filter((one) => one.inspected)) {
    const component = v7();
    await lead.write(kinds.componentDescribed, component, {
      componentKind: slot.kind,
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      stamp: `QX ${slot.slot.length}41`,
      ...STAMPS,
      made: { how: 'known', on: '2021-05' },
    });
    await lead.write(kinds.componentFitted, component, { wheel, slot: slot.slot, ...FITTING });
    if (slot.kind === 'rim base') {
      await lead.write(kinds.testRecorded, component, {
        method: 'magnetic particle',
        zones: ['gutter groove', 'gutter weld', 'back weld', 'butt weld', 'back flange radius'],
        result: 'no indication',
        standard: 'ASTM E709',
        testedBy: 'level 2',
        on: new Date().toISOString().slice(0, 10),
        surface: 'blasted',
        inspection: null,
        dutyHours: null,
      });
    }
  }
  return { site, wheel, tag };
}
