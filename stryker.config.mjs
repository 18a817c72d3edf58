/**
 * Mutation tests of the rule engine and the tolerance tables: `npm run mutants`, or one file with
 * `npm run mutants -- --mutate lib/rules/age.ts`. Not part of `npm test`: a full run takes long.
 * @type {import('@stryker-mutator/api/core').PartialStrykerOptions}
 */
export default {
  mutate: ['lib/rules/**/*.ts', 'lib/tolerances/**/*.ts'],
  plugins: ['@stryker-mutator/vitest-runner'],
  testRunner: 'vitest',
  vitest: { configFile: 'vitest.mutants.config.ts' },
  coverageAnalysis: 'perTest',
  concurrency: 2,
  incremental: true,
  incrementalFile: 'reports/mutants/incremental.json',
  reporters: ['clear-text', 'progress', 'html', 'json'],
  htmlReporter: { fileName: 'reports/mutants/index.html' },
  jsonReporter: { fileName: 'reports/mutants/mutants.json' },
  clearTextReporter: { allowColor: false, logTests: false },
  thresholds: { high: 97, low: 93, break: 90 },
  // What the unit tests of these folders do not read.
  ignorePatterns: [
    '/app',
    '/bench',
    '/data',
    '/data-*',
    '/models',
    '/reports',
    '/sample-images',
    '/tests/screens',
  ],
  // TypeScript 7 has no programming interface with which Stryker could rewrite the configuration; nothing compiles here.
  tsconfigFile: 'no tsconfig.json',
  tempDirName: '.mutants',
};
