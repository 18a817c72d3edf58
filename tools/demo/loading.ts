import { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import { Refused, Visitor } from './api.ts';
import { cutDetails } from './details.ts';
import { tellDemo } from './entries.ts';
import { dayBefore, type Setting } from './log.ts';
import { BOOKS_BEGIN_DAYS } from './parts.ts';
import { type DemoPart, demoPeople, SITE_NAME } from './people.ts';
import { demoPictures, pictureBytes } from './pictures.ts';
import { Sending } from './sending.ts';

const BATCH = 400;

const Installation = z.object({ firstRun: z.boolean() });
const Sites = z.object({ sites: z.array(z.object({ id: z.string(), name: z.string() })) });
const People = z.object({ people: z.array(z.object({ id: z.string(), email: z.string() })) });
const Made = z.object({ person: z.object({ id: z.string() }) });
const Log = z.object({
  entries: z.array(z.object({ id: z.string(), kind: z.string(), at: z.string() })),
  next: z.int(),
  more: z.boolean(),
});
const Outcome = z.object({
  id: z.string(),
  status: z.string(),
  problem: z.object({ field: z.string(), message: z.string() }).optional(),
});
const Appended = z.object({ results: z.array(Outcome) });
const Signed = z.object({ result: Outcome });

/** What loading did. */
export interface Loaded {
  readonly entriesSent: number;
  readonly photosSent: number;
}

/**
 * Loads the demonstration through the API of a running server. An empty installation gets everything; one that
 * has the whole demonstration is left as it is; one that was interrupted gets what is missing. An installation
 * of somebody else is refused.
 */
export async function loadDemo(address: string, today: string): Promise<Loaded> {
  const visitors = new Map<DemoPart, Promise<Visitor>>();
  const visitor = (part: DemoPart): Promise<Visitor> => {
    const known = visitors.get(part) ?? signedIn(address, part);
    visitors.set(part, known);
    return known;
  };
  await makeFirst(address);
  const administrator = await visitor('administrator').catch((error: unknown) => {
    if (!(error instanceof Refused) || error.status !== 401) throw error;
    throw new Error(
      'This data folder already belongs to an installation that is no demonstration. Choose an empty one with RIMBOOK_DEMO_DATA.',
    );
  });
  const { sites } = await administrator.get('/api/v1/sites', Sites);
  const site = must(
    sites.find((one) => one.name === SITE_NAME),
    `site ${SITE_NAME}`,
  ).id;
  const people = await makePeople(administrator, site);
  // Who may review does not see what they have yet to measure; the lead sees all.
  const there = await readLog(await visitor('lead'), site);
  const setting: Setting = { site, people, today: there.began ?? today };
  const pictures = demoPictures();
  const details = await cutDetails(pictures);
  const told = tellDemo(setting, { pictures, details });
  const missing = told.entries.filter((entry) => !there.ids.has(entry.id));
  const partOf = new Map(demoPeople.map(({ part }) => [people[part], part]));
  const partBehind = (entry: Entry) => must(partOf.get(entry.author), 'an author of the demonstration');
  const files = new Map(
    [...pictures.values(), ...details.values(), ...told.dials].map((photo) => [
      photo.sha256,
      { name: photo.file, content: () => ('content' in photo ? photo.content : pictureBytes(photo)) },
    ]),
  );
  // Photos go ahead, several at a time; the entry that attaches one is sent when it has arrived.
  const photos = new Sending(
    missing.filter((entry) => entry.kind === kinds.photoAttached.kind),
    async (entry) => {
      const sha256 = photoOf(entry);
      const { name, content } = must(files.get(sha256), `photo ${sha256}`);
      await (await visitor(partBehind(entry))).sendPhoto(site, { sha256, name, content: content() });
    },
  );
  try {
    for (const batch of runsOfOneAuthor(missing)) {
      await photos.sent(batch);
      const by = partBehind(must(batch[0], 'an entry of a run'));
      if (batch.some(isSignature)) await signEntries(await visitor(by), by, batch);
      else await sendEntries(await visitor(by), batch);
    }
  } finally {
    await photos.stop();
  }
  return { entriesSent: missing.length, photosSent: photos.count };
}

function photoOf(entry: Entry): string {
  return kinds.photoAttached.body.parse(entry.body).photo;
}

async function sendEntries(by: Visitor, batch: readonly Entry[]): Promise<void> {
  const { results } = await by.write('POST', '/api/v1/entries', { entries: batch }, Appended);
  const refused = results.find((result) => result.status === 'refused');
  if (refused === undefined) return;
  throw new Error(
    refusalOf(
      batch.find((one) => one.id === refused.id),
      refused,
    ),
  );
}

async function signEntries(by: Visitor, part: DemoPart, batch: readonly Entry[]): Promise<void> {
  const { password } = personOf(part);
  for (const entry of batch) {
    const { result } = await by.write('POST', '/api/v1/signatures', { password, entry }, Signed);
    if (result.status === 'refused') throw new Error(refusalOf(entry, result));
  }
}

function refusalOf(entry: Entry | undefined, { problem }: z.infer<typeof Outcome>): string {
  return `The server refused "${entry?.kind}" of the demonstration: ${problem?.field}: ${problem?.message}`;
}

function personOf(part: DemoPart) {
  return must(
    demoPeople.find((person) => person.part === part),
    part,
  );
}

async function signedIn(address: string, part: DemoPart): Promise<Visitor> {
  const { email, password } = personOf(part);
  const made = new Visitor(address);
  await made.signIn(email, password);
  return made;
}

async function makeFirst(address: string): Promise<void> {
  const nobody = new Visitor(address);
  const { firstRun } = await nobody.get('/api/v1/installation', Installation);
  if (!firstRun) return;
  const { name, email, password } = personOf('administrator');
  await nobody.write('POST', '/api/v1/first-run', { name, email, password, siteName: SITE_NAME }, Made);
}

async function makePeople(administrator: Visitor, site: string): Promise<Setting['people']> {
  const { people } = await administrator.get('/api/v1/people', People);
  const ids = new Map(people.map(({ email, id }) => [email, id]));
  for (const { name, email, password, roles } of demoPeople) {
    if (ids.has(email)) continue;
    const body = { name, email, password, roles: [{ site, roles: [...roles] }] };
    const { person } = await administrator.write('POST', '/api/v1/people', body, Made);
    ids.set(email, person.id);
  }
  const idOf = (part: DemoPart) => must(ids.get(personOf(part).email), part);
  return {
    administrator: idOf('administrator'),
    lead: idOf('lead'),
    'inspector 1': idOf('inspector 1'),
    'inspector 2': idOf('inspector 2'),
    'inspector 3': idOf('inspector 3'),
    'reviewer 1': idOf('reviewer 1'),
    'reviewer 2': idOf('reviewer 2'),
  };
}

/** Ids of the entries that are there, and the day that counted as today when the books began. */
async function readLog(reader: Visitor, site: string) {
  const ids = new Set<string>();
  let began: string | undefined;
  let after = 0;
  for (;;) {
    const page = await reader.get(`/api/v1/entries?site=${site}&after=${after}&limit=1000`, Log);
    for (const { id, kind, at } of page.entries) {
      ids.add(id);
      if (kind !== kinds.siteDescribed.kind || began !== undefined) continue;
      began = dayBefore(at.slice(0, 10), -BOOKS_BEGIN_DAYS);
    }
    if (!page.more) return { ids, began };
    after = page.next;
  }
}

/** Reviews are signed one by one, with the password. */
function isSignature(entry: Entry): boolean {
  return entry.kind === kinds.reviewConcluded.kind;
}

/** Cuts the entries where the author changes, as everyone sends their own, and keeps batches small. */
function runsOfOneAuthor(entries: readonly Entry[]): Entry[][] {
  const runs: Entry[][] = [];
  for (const entry of entries) {
    const run = runs.at(-1);
    const alike = run?.[0]?.author === entry.author && isSignature(run[0]) === isSignature(entry);
    if (run !== undefined && run.length < BATCH && alike) run.push(entry);
    else runs.push([entry]);
  }
  return runs;
}
