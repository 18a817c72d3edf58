import { projectRecord } from '../../app/_server/project.ts';
import { counted } from '../../lib/base/index.ts';
import {
  openStore,
  readSettings,
  rebuildProjections,
  type Store,
  StoreTrouble,
  verifyChains,
} from '../../lib/store/server/index.ts';
import { EXIT_BAD_INPUT, EXIT_FAULT, EXIT_OK } from './exit.ts';

export const rebuildUsage = `rebuild
  Drops the lists derived from the record (queue, wheels' contents) and derives them again. Stop the server first.`;

export const verifyUsage = `verify
  Checks the hash chain of every subject: changed, missing or re-ordered entries are listed.
  Both work on the data folder named in RIMBOOK_DATA (default: data).`;

/** Runs a command on the store of the settings; wrong settings and an unusable store are told in their sentence. */
function withStore(work: (store: Store) => number): number {
  const settings = readSettings(process.env);
  if (!settings.ok) {
    for (const sentence of settings.error) console.error(sentence);
    return EXIT_BAD_INPUT;
  }
  try {
    const store = openStore(settings.value.dataFolder);
    try {
      return work(store);
    } finally {
      store.close();
    }
  } catch (error) {
    if (!(error instanceof StoreTrouble)) throw error;
    console.error(error.message);
    return EXIT_FAULT;
  }
}

/** The `rebuild` command. */
export function rebuild(): number {
  return withStore((store) => {
    console.log(`Lists derived again for ${counted(rebuildProjections(store, projectRecord), 'subject')}.`);
    return EXIT_OK;
  });
}

/** The `verify` command: 0 when every chain is whole, 1 otherwise. */
export function verify(): number {
  return withStore((store) => {
    const { faults, ...whole } = verifyChains(store);
    for (const fault of faults) console.log(JSON.stringify(fault));
    console.log(
      faults.length === 0
        ? `Every chain is whole: ${JSON.stringify(whole)}.`
        : `${counted(faults.length, 'fault')} in the record.`,
    );
    return faults.length === 0 ? EXIT_OK : EXIT_FAULT;
  });
}
