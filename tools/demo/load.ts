// Loads the demonstration into a running, empty server: node tools/demo/load.ts http://localhost:3000
import { loadDemo } from './loading.ts';
import { welcome } from './people.ts';

const address = process.argv[2];
if (address === undefined || !URL.canParse(address)) {
  console.error('Name the address of the server, such as http://localhost:3000');
  process.exit(2);
}
const began = performance.now();
try {
  const { entriesSent, photosSent } = await loadDemo(
    new URL(address).origin,
    new Date().toISOString().slice(0, 10),
  );
  const seconds = ((performance.now() - began) / 1000).toFixed(1);
  console.log(
    entriesSent === 0
      ? 'The demonstration is loaded already; nothing was changed.'
      : `Loaded the demonstration: ${entriesSent} entries and ${photosSent} photos in ${seconds} s.`,
  );
  console.log(`\n${welcome(new URL(address).origin)}`);
} catch (error) {
  console.error(`The demonstration could not be loaded. ${error instanceof Error ? error.message : error}`);
  process.exit(1);
}
