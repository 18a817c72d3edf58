import { expect, it } from 'vitest';
import { kinds } from '../../lib/record/index.ts';
import { append, signIn, twoSites, WHEEL, withServer } from './support.ts';
import { INSPECTION, make, registerOfWheel, submission } from './writing.ts';

withServer(twoSites);

it('a device that was away for long may send the register, the inspection and its submission in one batch', async () => {
  const register = registerOfWheel();
  const opened = make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
  const batch = [...register, opened, submission(register, [opened])];
  const results = await append(await signIn('ada@rims.example'), batch);
  expect(results).toHaveLength(6);
  for (const outcome of results) expect(outcome).toMatchObject({ status: 'stored' });
});
