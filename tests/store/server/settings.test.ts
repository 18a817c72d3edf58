import { mkdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSettings, sessionSecret } from '../../../lib/store/server/index.ts';
import { temporaryFolder } from './support.ts';

describe('settings', () => {
  it('need nothing to start', () => {
    const settings = readSettings({});
    expect(settings.ok && settings.value).toMatchObject({
      dataFolder: join(process.cwd(), 'data'),
      origin: 'http://localhost:3000',
      secret: undefined,
      trustProxy: false,
    });
  });

  it('name every wrong one at once and never repeat the secret', () => {
    const settings = readSettings({
      RIMBOOK_ORIGIN: 'rims.example/app',
      RIMBOOK_SECRET: 'hunter2',
      RIMBOOK_TRUST_PROXY: 'yes',
    });
    expect(settings.ok).toBe(false);
    const text = settings.ok ? '' : settings.error.join('\n');
    expect(text).toContain('RIMBOOK_ORIGIN');
    expect(text).toContain('RIMBOOK_SECRET');
    expect(text).toContain('RIMBOOK_TRUST_PROXY must be 0 or 1 (received yes).');
    expect(text).not.toContain('hunter2');
  });

  it('keep one generated secret in the data folder, readable by its owner only', () => {
    const settings = readSettings({ RIMBOOK_DATA: temporaryFolder() });
    if (!settings.ok) throw new Error(settings.error.join());
    const secret = sessionSecret(settings.value);
    expect(secret.length).toBeGreaterThanOrEqual(32);
    expect(sessionSecret(settings.value)).toBe(secret);
    const file = join(settings.value.dataFolder, 'secret');
    expect(readFileSync(file, 'utf8')).toBe(secret);
    expect(statSync(file).mode & 0o777).toBe(0o600);
  });

  it('use a secret that is set and write none', () => {
    const folder = join(temporaryFolder(), 'unmade');
    const given = 's'.repeat(32);
    const settings = readSettings({ RIMBOOK_DATA: folder, RIMBOOK_SECRET: given });
    if (!settings.ok) throw new Error(settings.error.join());
    expect(sessionSecret(settings.value)).toBe(given);
    // Fails if the folder was made meanwhile.
    expect(() => mkdirSync(folder)).not.toThrow();
  });
});
