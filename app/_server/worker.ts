/** Pages that work without a network: static shells that find their content on the device. */
const SHELL_PAGES = [
  '/',
  '/wheel',
  '/compare',
  '/inspect',
  '/outbox',
  '/card',
  '/queue',
  '/review',
  '/audit',
  '/report',
  '/parts',
  '/sign-in',
  '/site',
  '/tables',
  '/studies',
  '/agreement',
  '/wear',
  '/where',
  '/people',
] as const;

/**
 * Source of the service worker. Shell pages and the files of the build come from its cache, so that a reload at the
 * wheel needs no network; a new build brings a new worker with a new cache. Data never passes through it: the record
 * lives in the device store.
 */
export function workerSource(build: string, files: readonly string[]): string {
  return `const CACHE = ${JSON.stringify(`rimbook-${build}`)};
const SHELL = ${JSON.stringify(SHELL_PAGES)};
const FILES = ${JSON.stringify(files)};

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    await cache.addAll([...SHELL, ...FILES].map((path) => new Request(path, { cache: 'reload' })));
    await self.skipWaiting();
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith('rimbook-') && name !== CACHE) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

async function fromCache(request, path, keep) {
  const cache = await caches.open(CACHE);
  const known = await cache.match(path);
  if (known !== undefined) return known;
  const fresh = await fetch(request);
  if (keep && fresh.ok) await cache.put(path, fresh.clone());
  return fresh;
}

// A worker is told its parts behind the # of its own address. An answer with an address of its own, as all from the
// cache or the network are, takes that away; a copy has none.
async function withoutAddress(answer) {
  const { body, status, statusText, headers } = await answer;
  return new Response(body, { status, statusText, headers });
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && SHELL.includes(url.pathname)) {
    event.respondWith(fromCache(request, url.pathname, false));
  } else if (url.pathname.startsWith('/_next/static/')) {
    const answer = fromCache(request, url.pathname, true);
    event.respondWith(request.destination === 'worker' ? withoutAddress(answer) : answer);
  }
});
`;
}
