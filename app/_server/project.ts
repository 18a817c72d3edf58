import type { Entry } from '../../lib/record/index.ts';
import type { Projector } from '../../lib/store/server/index.ts';

/**
 * What the lists know of a subject from its envelopes alone: the wheels named by a `wheel` member of a body, and
 * for an inspection who began it. The last named wheel is the inspection's.
 */
export const projectEnvelope: Projector = (subject, entries) => {
  const wheels = entries.map(wheelOf).filter((wheel) => wheel !== undefined);
  const first = entries[0];
  const wheel = wheels.at(-1);
  if (subject.type !== 'inspection' || first === undefined || wheel === undefined) return { wheels };
  return {
    wheels,
    inspection: {
      wheel,
      tag: '',
      status: 'open',
      inspector: first.author,
      inspectorName: '',
      submittedAt: null,
      provisional: false,
      danger: 0,
      reviewer: null,
      concludedAt: null,
      body: {},
    },
  };
};

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

function wheelOf(entry: Entry): string | undefined {
  const wheel = entry.body.wheel;
  return typeof wheel === 'string' && UUID.test(wheel) ? wheel : undefined;
}
