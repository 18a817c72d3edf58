import { append, openStore } from '../../../lib/store/server/index.ts';

/** Appends small batches for ever and prints the ids of each batch once it was acknowledged. */
const [folder = '', firstText = '0'] = process.argv.slice(2);
const store = openStore(folder);
const SITE = '11111111-1111-4111-8111-111111111111';

for (let n = Number(firstText); ; n += 5) {
  const batch = Array.from({ length: 5 }, (_, i) => ({
    id: `019a0000-0000-7000-8000-${(n + i).toString(16).padStart(12, '0')}`,
    site: SITE,
    subject: {
      type: 'inspection' as const,
      id: `44444444-4444-4444-8444-${String(n % 3).padStart(12, '0')}`,
    },
    kind: 'note',
    v: 1,
    at: '2026-05-04T07:59:00.000Z',
    author: 'ada',
    device: 'phone',
    body: { text: 'x'.repeat(500), wheel: '33333333-3333-4333-8333-333333333333' },
  }));
  const outcomes = append(store, batch, {
    receivedAt: '2026-05-04T08:00:00.000Z',
    accept: () => ({ ok: true, value: undefined }),
    project: (_, entries) => ({ wheels: entries.map((entry) => String(entry.body.wheel)) }),
  });
  const line = `${outcomes.map((outcome) => outcome.id).join(' ')}\n`;
  // Waits for the pipe, so that a printed line is one the parent can read whatever happens next.
  await new Promise<void>((resolve) => process.stdout.write(line, () => resolve()));
}
