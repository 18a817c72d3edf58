import { createHash } from 'node:crypto';
import type { Browser } from 'playwright-core';
import { v7 } from 'uuid';
import { must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { ADMIN, PASSWORD, setUpSite, writer } from '../../tests/screens/site.ts';
import { BASE_URL, call, desk, signIn } from '../../tests/screens/support.ts';

const PIECE_BYTES = 1_000_000;

/** A site on a fresh server with its wheel, and its administrator signed in on a page. */
export async function newSite(browser: Browser) {
  const admin = await desk(browser);
  await call(admin, 'POST', '/api/v1/first-run', {
    siteName: 'Bench',
    name: 'Bench',
    email: ADMIN,
    password: PASSWORD,
  });
  const page = await admin.newPage();
  await signIn(page, ADMIN, PASSWORD);
  const { wheel } = await setUpSite(admin);
  const { me, write, site } = await writer(admin);
  const book = await call<{ components: { id: string }[] }>(
    admin,
    'GET',
    `/api/v1/wheels/${wheel}/book?site=${site}`,
  );
  return {
    admin,
    page,
    site,
    wheel,
    component: must(book.json.components[0], 'a component').id,
    person: me.person.id,
    write,
  };
}

/**
 * Such a site with one inspection opened by its administrator. `attach` sends a photo of 4000 × 3000 px, attaches it to the
 * gutter groove and gives its hash.
 */
export async function openedInspection(browser: Browser) {
  const { admin, page, site, wheel, component, write } = await newSite(browser);
  const inspection = v7();
  await write(kinds.inspectionOpened, inspection, { wheel, reason: 'bench' });
  const attach = async (bytes: Buffer): Promise<string> => {
    const photo = createHash('sha256').update(bytes).digest('hex');
    for (let offset = 0; offset < bytes.length; offset += PIECE_BYTES) {
      const sent = await admin.request.fetch(`${BASE_URL}/api/v1/photos/${photo}?site=${site}`, {
        method: 'PATCH',
        headers: {
          Origin: BASE_URL,
          'Content-Type': 'application/octet-stream',
          'Upload-Offset': String(offset),
          'Upload-Length': String(bytes.length),
          'Upload-Name': 'bench.jpg',
        },
        data: bytes.subarray(offset, offset + PIECE_BYTES),
      });
      if (!sent.ok()) throw new Error(await sent.text());
    }
    await write(kinds.photoAttached, inspection, {
      photo,
      name: 'bench.jpg',
      bytes: bytes.length,
      widthPx: 4000,
      heightPx: 3000,
      component,
      zone: 'gutter groove',
      clock: 3,
    });
    return photo;
  };
  return { admin, page, component, inspection, write, attach };
}
