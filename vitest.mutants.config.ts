import { defineConfig } from 'vitest/config';

/**
 * The unit tests that speak of the rule engine and the tables, for mutation testing (`stryker.config.mjs`). Tests of
 * the command line start programs of their own, in which no mutant is active.
 */
export default defineConfig({
  test: {
    name: 'mutants',
    include: ['tests/{base,units,wheel,tolerances,rules}/**/*.test.ts'],
    // Random tests are too slow to be run for every mutant; the others have to do without them.
    exclude: ['tests/tolerances/commands.test.ts', 'tests/rules/{properties,repeats,assess}.test.ts'],
    environment: 'node',
    // One graph of modules for all files of a run; each run has its own, so that mutants of constants are active.
    isolate: false,
    setupFiles: ['tests/support/sameChance.ts'],
    testTimeout: 30_000,
  },
});
