import { must } from '../../lib/base/index.ts';
import type { Entry } from '../../lib/record/index.ts';
import {
  agreedInspection,
  overruledInspection,
  sentBackInspection,
  waitingInspection,
} from './inspections.ts';
import { DemoLog, type Setting } from './log.ts';
import type { Picture } from './pictures.ts';
import { writeRegister } from './register.ts';

const SEED = 20_417;

/** Every entry of the demonstration, oldest first. The same setting and pictures give the same bytes. */
export function demoEntries(setting: Setting, pictures: ReadonlyMap<string, Picture>): readonly Entry[] {
  const log = new DemoLog(setting, SEED);
  const register = writeRegister(log);
  const telling = { log, register, picture: (name: string) => must(pictures.get(name), `picture ${name}`) };
  agreedInspection(telling);
  overruledInspection(telling);
  sentBackInspection(telling);
  waitingInspection(telling);
  return log.entries;
}
