// Installs what is missing, so that every command works on a fresh clone. Plain JavaScript: it runs before
// anything is installed, under whatever Node.js the machine has.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stamp = join(root, 'node_modules', '.rimbook-installed');

/** The Node.js that the project brings along. */
export const node = join(root, 'node_modules', '.bin', process.platform === 'win32' ? 'node.cmd' : 'node');

/** Path of a command that a package brings along. */
export function bin(name) {
  return join(root, 'node_modules', '.bin', process.platform === 'win32' ? `${name}.cmd` : name);
}

/** Runs `npm ci` unless the installed packages are those of the lock file. Ends the process when it fails. */
export function installMissing() {
  const wanted = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(node) && existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return;
  console.error('Installing packages (npm ci) …');
  const done = spawnSync('npm', ['ci', '--loglevel=error'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) {
    console.error(
      'The packages could not be installed. Check the network and the disk, then run the command again.',
    );
    process.exit(1);
  }
  writeFileSync(stamp, wanted);
}

/** Runs a command with the project's own Node.js first on the path; ends the process when it fails, unless told not to. */
export function run(command, args, { env = {}, mayFail = false } = {}) {
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: 'inherit',
    env: {
      ...process.env,
      PATH: `${join(root, 'node_modules', '.bin')}${process.platform === 'win32' ? ';' : ':'}${process.env.PATH}`,
      ...env,
    },
    shell: process.platform === 'win32',
  });
  if (done.status !== 0 && !mayFail) process.exit(done.status ?? 1);
  return done.status ?? 1;
}
