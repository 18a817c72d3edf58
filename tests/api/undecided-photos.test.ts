import { beforeAll, describe, expect, it, vi } from 'vitest';
import { fail, problem } from '../../lib/base/index.ts';
import * as imaging from '../../lib/imaging/server/index.ts';
import { grain } from '../imaging/pictures.ts';
import { hashOf, piece, session } from './photo-requests.ts';
import { NORTH, problemOf, send, signIn, twoSites, withServer } from './support.ts';

vi.mock('../../lib/imaging/server/index.ts', { spy: true });
withServer(twoSites);
beforeAll(async () => {
  session.cookie = await signIn('ada@rims.example');
});

describe('a photo whose decoder came to no end', () => {
  it('is not refused for good: its bytes stay and are looked at again', async () => {
    const undecided = problem(imaging.PHOTO_UNDECIDED, 'photo', '', 'Not now', 'Send it again.');
    vi.mocked(imaging.readPhoto).mockResolvedValueOnce(fail(undecided));
    const photo = await grain(200, 100, 41).jpeg().toBuffer();
    const first = await problemOf(await piece(photo));
    expect(first).toMatchObject({ status: 503, code: 'photo-undecided' });
    const state = await send('HEAD', `/api/v1/photos/${hashOf(photo)}?site=${NORTH}`, {
      cookie: session.cookie,
    });
    expect(state.headers.get('upload-offset')).toBe(String(photo.length - 1));
    expect((await piece(photo, { from: photo.length - 1 })).status).toBe(201);
  });
});
