import type { Shot } from './shot.ts';
import { backShots, gutterShots } from './shots-base.ts';
import { looseShots, ringShots } from './shots-loose.ts';

/** Every picture of this folder. */
export const shots: readonly Shot[] = [...gutterShots(), ...backShots(), ...looseShots(), ...ringShots()];
