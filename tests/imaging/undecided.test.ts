import { describe, expect, it } from 'vitest';
import { decodeHeic } from '../../lib/imaging/server/heic.ts';
import { fixture } from './pictures.ts';

describe('a decoder that comes to no end', () => {
  it('in time says nothing about the photo', async () => {
    const photo = fixture('turned.heic');
    expect(await decodeHeic(photo, 50e6, 1)).toMatchObject({
      ok: false,
      error: { code: 'photo-undecided', value: 'decoding took too long' },
    });
    expect((await decodeHeic(photo, 50e6)).ok).toBe(true);
  });

  it('is another thing than bytes it cannot read', async () => {
    const photo = fixture('turned.heic');
    expect(await decodeHeic(photo.subarray(0, 300), 50e6)).toMatchObject({
      ok: false,
      error: { code: 'photo-damaged' },
    });
  });
});
