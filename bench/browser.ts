import sharp from 'sharp';
import { v7 } from 'uuid';
import { kinds } from '../lib/record/index.ts';
import setup from '../tests/screens/server.ts';
import { ADMIN, PASSWORD } from '../tests/screens/site.ts';
import { BASE_URL, launch, phone, signIn } from '../tests/screens/support.ts';
import { measureFrames } from './support/frames.ts';
import { openedInspection } from './support/inspection.ts';

/**
 * Two figures of the built application in Chromium: frames while a 12-megapixel photo with 300 marks is panned and
 * zoomed, and kB of JavaScript over the wire on the first load of the inspect screen.
 */
const stop = await setup();
const browser = await launch();
try {
  const { admin, component, inspection, write, attach } = await openedInspection(browser);
  const noise = Buffer.alloc(400 * 300 * 3, 0).map((_, i) => (i * 2_654_435_761) % 251);
  const photoBytes = await sharp(noise, { raw: { width: 400, height: 300, channels: 3 } })
    .resize(4000, 3000)
    .jpeg({ quality: 85 })
    .toBuffer();
  const photo = await attach(photoBytes);
  for (let n = 0; n < 300; n += 1) {
    const [x, y] = [120 + (n % 20) * 190, 120 + Math.floor(n / 20) * 190];
    const points = Array.from({ length: 8 }, (_, i): [number, number] => [
      x + i * 18,
      y + ((i * (n + 3)) % 5) * 16,
    ]);
    await write(kinds.markDrawn, inspection, {
      mark: v7(),
      photo,
      shape:
        n % 2 === 0
          ? { form: 'trace', branches: [points] }
          : {
              form: 'patch',
              outline: [
                [x, y],
                [x + 120, y],
                [x + 120, y + 90],
                [x, y + 90],
              ],
            },
      defect: n % 2 === 0 ? 'crack' : 'corrosion',
      component,
      zone: 'gutter groove',
      clock: 3,
      method: 'visual',
      note: '',
    });
  }
  for (const [name, context] of [
    ['desk 1440×900', admin],
    ['phone 390×844', await phone(browser)],
  ] as const) {
    const screen = await context.newPage();
    if (context !== admin) await signIn(screen, ADMIN, PASSWORD);
    await screen.goto(`/inspect?id=${inspection}&photo=${photo}`);
    await screen.locator('[data-photo-canvas="open"]').waitFor({ timeout: 60_000 });
    await screen.waitForTimeout(1500);
    console.log(
      JSON.stringify({ figure: `frames, 12 MP and 300 marks, ${name}`, ...(await measureFrames(screen)) }),
    );
  }
  const fresh = await browser.newContext({
    baseURL: BASE_URL,
    serviceWorkers: 'block',
    storageState: await admin.storageState(),
  });
  const first = await fresh.newPage();
  let bytes = 0;
  first.on('requestfinished', async (request) => {
    if (request.resourceType() === 'script') bytes += (await request.sizes()).responseBodySize;
  });
  await first.goto(`/inspect?id=${inspection}`);
  await first.getByText('Safety gate').or(first.getByText('Walk-around only')).first().waitFor();
  await first.waitForLoadState('networkidle');
  console.log(
    JSON.stringify({
      figure: 'JavaScript over the wire, first load of the inspect screen',
      kB: Math.round(bytes / 1000),
    }),
  );
} finally {
  await browser.close();
  await stop();
}
