import { beforeAll, describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import type { Entry } from '../../lib/record/index.ts';
import { findSite, setRoles } from '../../lib/store/server/index.ts';
import { anEntry, append, NORTH, SOUTH, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

let cookie = '';
beforeAll(async () => {
  setRoles((await serverContext()).store, 'ada', SOUTH, ['lead']);
  cookie = await signIn('ada@rims.example');
});

const described = (site: string, name: string, at: string): Entry =>
  anEntry({
    site,
    subject: { type: 'site', id: site },
    kind: 'site described',
    at: `2026-05-${at}T08:00:00.000Z`,
    body: { name, tables: [], keepLocation: false, demonstration: false },
  });

async function outcomes(...entries: Entry[]): Promise<string[]> {
  return (await append(cookie, entries)).map(({ status, problem }) => problem?.code ?? status);
}

async function nameOf(site: string): Promise<string | undefined> {
  return findSite((await serverContext()).store, site)?.name;
}

describe('a site that describes itself', () => {
  it('is called by its newest description, in whatever order they arrive', async () => {
    const batch = [described(NORTH, 'Newest pit', '03'), described(NORTH, 'Older pit', '02')];
    expect(await outcomes(...batch)).toEqual(['stored', 'stored']);
    expect(await nameOf(NORTH)).toBe('Newest pit');
    expect(await outcomes(described(NORTH, 'Oldest pit', '01'))).toEqual(['stored']);
    expect(await nameOf(NORTH)).toBe('Newest pit');
  });

  it('takes no name that another one took in the same batch', async () => {
    const batch = [described(NORTH, 'One name', '04'), described(SOUTH, 'ONE name', '04')];
    expect(await outcomes(...batch)).toEqual(['stored', 'site-name-taken']);
    expect([await nameOf(NORTH), await nameOf(SOUTH)]).toEqual(['One name', 'South pit']);
  });

  it('lends its old name within the batch that gives it a new one', async () => {
    const batch = [described(NORTH, 'Another name', '05'), described(SOUTH, 'One name', '05')];
    expect(await outcomes(...batch)).toEqual(['stored', 'stored']);
    expect(await nameOf(SOUTH)).toBe('One name');
  });
});
