import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { workerSource } from '../_server/worker.ts';

export const dynamic = 'force-dynamic';

/** Larger files (decoders) are cached on first use instead of up front. */
const PRECACHED_BYTES_MAX = 600_000;

/** Files of the build that a shell page may need, as addresses. */
function staticFiles(): string[] {
  const folder = join(process.cwd(), '.next', 'static');
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(js|css|woff2)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((file) => statSync(file).size <= PRECACHED_BYTES_MAX)
    .map((file) => `/_next/static/${relative(folder, file).split('\\').join('/')}`)
    .sort();
}

/** The service worker of this build: its list of files follows from what was built. */
export function GET(): Response {
  const build = readFileSync(join(process.cwd(), '.next', 'BUILD_ID'), 'utf8').trim();
  return new Response(workerSource(build, staticFiles()), {
    headers: { 'Content-Type': 'text/javascript; charset=utf-8', 'Cache-Control': 'no-cache' },
  });
}
