import { errorText, type Problem, problem } from '../../lib/base/index.ts';
import { type DeviceStore, openDeviceStore, Unreachable } from '../../lib/store/device/index.ts';
import { oweSignOut, rememberedMe, rememberMe, signOutOwed } from './device.ts';
import { call, type Me, Refused } from './remote.ts';

/** How opening the book of a person on this device went. */
export type Start =
  | { readonly state: 'starting' }
  | { readonly state: 'signed out' }
  | { readonly state: 'no site'; readonly me: Me }
  | { readonly state: 'trouble'; readonly problem: Problem }
  | { readonly state: 'ready'; readonly me: Me; readonly store: DeviceStore };

/** Ends the session at the server; throws `Unreachable` when it cannot be had. */
export async function endSession(): Promise<void> {
  oweSignOut(true);
  await call('POST', '/api/auth/sign-out', {});
  oweSignOut(false);
}

/** Finds out who works here, from the server or from memory, and opens their store on this device. */
export async function start(): Promise<Start> {
  let me: Me | null = rememberedMe();
  try {
    if (signOutOwed()) await endSession();
    me = await call<Me>('GET', '/api/v1/me');
    rememberMe(me);
  } catch (error) {
    if (error instanceof Unreachable && error.signedOut) {
      rememberMe(null);
      return { state: 'signed out' };
    }
    if (error instanceof Refused) return { state: 'trouble', problem: error.problem };
    if (!(error instanceof Unreachable)) throw error;
    if (me === null) {
      return {
        state: 'trouble',
        problem: problem(
          'no-connection',
          '',
          '',
          'The server cannot be reached and nobody has signed in on this device',
          'Sign in once with a connection; after that you can work without one.',
        ),
      };
    }
  }
  if (me.sites.length === 0) return { state: 'no site', me };
  try {
    return { state: 'ready', me, store: await openDeviceStore(`rimbook-${me.person.id}`) };
  } catch (error) {
    const why = errorText(error);
    return {
      state: 'trouble',
      problem: problem(
        'no-device-store',
        '',
        why,
        'This browser cannot keep data, so nothing you enter would be safe',
        'Leave private browsing, free some space, or use another browser.',
      ),
    };
  }
}
