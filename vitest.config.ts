import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/** `unit`: everything without a browser, integration included. `screens`: Chromium against a built server. */
export default defineConfig({
  test: {
    projects: [
      {
        resolve: {
          alias: { '@techstark/opencv-js': resolve(import.meta.dirname, 'tests/support/opencv.ts') },
        },
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/screens/**'],
          environment: 'node',
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'screens',
          include: ['tests/screens/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 180_000,
          fileParallelism: false,
          globalSetup: ['tests/screens/server.ts'],
        },
      },
    ],
  },
});
