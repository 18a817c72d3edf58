import type { Entry } from '../../lib/record/index.ts';
import { Agenda } from './agenda.ts';
import type { Detail } from './details.ts';
import { DemoLog, type Setting } from './log.ts';
import { planMoves } from './moves.ts';
import { Parts } from './parts.ts';
import type { Picture } from './pictures.ts';
import { planRegister } from './register.ts';
import { plannedInspections } from './rounds.ts';
import { planStory } from './story.ts';
import { planStudies } from './studies.ts';
import { draftOwnLimits } from './tables.ts';
import { planInspection, type Telling } from './telling.ts';

const SEED = 20_417;

/** The photos that the demonstration is told with: the pictures of finds, and the details of sound places. */
export interface DemoPhotos {
  readonly pictures: ReadonlyMap<string, Picture>;
  readonly details: ReadonlyMap<string, Detail>;
}

/** What is told: every entry, oldest first, and the photos of gauges that were taken on the way. */
export interface Told {
  readonly entries: readonly Entry[];
  readonly dials: readonly Detail[];
}

/** Tells the demonstration. The same setting and photos give the same bytes. */
export function tellDemo(setting: Setting, { pictures, details }: DemoPhotos): Told {
  const log = new DemoLog(setting, SEED);
  const agenda = new Agenda(log);
  const parts = new Parts(log, pictures);
  const gauges = planRegister(agenda, log, parts);
  planMoves(agenda, log, parts);
  const told = new Map<string, string>();
  const telling: Telling = {
    agenda,
    log,
    parts,
    gauges,
    pictures: [...pictures.values()],
    details,
    told,
    dials: new Map(),
  };
  for (const planned of plannedInspections) planInspection(telling, planned);
  planStory(agenda, log, parts, (key) => told.get(key));
  planStudies(agenda, log, gauges);
  agenda.tell();
  draftOwnLimits(log);
  return { entries: log.entries, dials: [...telling.dials.values()] };
}
