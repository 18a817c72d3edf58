import { assess, assessUsage } from './cli/assess.ts';
import { convertTable, convertTableUsage } from './cli/convertTable.ts';
import { EXIT_BAD_INPUT, EXIT_OK } from './cli/exit.ts';
import { lintTableCommand, lintTableUsage } from './cli/lintTable.ts';
import { measure, measureUsage } from './cli/measure.ts';
import { preview, previewUsage } from './cli/preview.ts';
import { rebuild, rebuildUsage, verify, verifyUsage } from './cli/record.ts';
import { replay, replayUsage } from './cli/replay.ts';

const USAGE = `Usage: npm run -s rimbook -- COMMAND …

${assessUsage}

${lintTableUsage}

${convertTableUsage}

${previewUsage}

${measureUsage}

${replayUsage}

${rebuildUsage}

${verifyUsage}

Exit codes: 0 an answer was given, 2 bad input (the field is named), 1 a fault of the program.`;

const COMMANDS: Readonly<Record<string, (args: string[]) => Promise<number> | number>> = {
  assess,
  'lint-table': lintTableCommand,
  'convert-table': convertTable,
  preview,
  measure,
  replay,
  rebuild,
  verify,
};

async function main(): Promise<number> {
  const [name = '', ...rest] = process.argv.slice(2);
  if (name === '' || name === 'help' || name === '--help') {
    console.log(USAGE);
    return name === '' ? EXIT_BAD_INPUT : EXIT_OK;
  }
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (command === undefined) {
    console.error(`command: there is no command "${name}".\n\n${USAGE}`);
    return EXIT_BAD_INPUT;
  }
  return command(rest);
}

process.exitCode = await main();
