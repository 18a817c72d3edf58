// Starts serve.ts with the project's own Node.js and stays with it until it ends. Plain JavaScript: it runs under
// whatever Node.js the machine has.
import { spawn } from 'node:child_process';
import { delimiter, join } from 'node:path';
import { installMissing, node, root } from '../install.mjs';

/** Installs what is missing, serves, passes Ctrl-C on, and ends with the status of the server. */
export function serve(args) {
  installMissing();
  const path = `${join(root, 'node_modules', '.bin')}${delimiter}${process.env.PATH}`;
  const server = spawn(
    node,
    ['--disable-warning=ExperimentalWarning', join(root, 'tools', 'demo', 'serve.ts'), ...args],
    { cwd: root, stdio: 'inherit', env: { ...process.env, PATH: path }, shell: process.platform === 'win32' },
  );
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal));
  server.once('error', (error) => {
    console.error(`The server could not be started: ${error.message}`);
    process.exit(1);
  });
  server.once('close', (status) => process.exit(status ?? 1));
}
