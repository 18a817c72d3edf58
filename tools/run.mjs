// Runs a TypeScript program of this project with the project's own Node.js, installing packages first if needed:
// node tools/run.mjs PROGRAM.ts [arguments …]
import { installMissing, node, run } from './install.mjs';

installMissing();
process.exit(
  run(node, ['--disable-warning=ExperimentalWarning', ...process.argv.slice(2)], { mayFail: true }),
);
