import { Instrument } from '../../readings/index.ts';
import { defineKind } from '../kind.ts';

export const instrumentDescribed = defineKind({
  kind: 'instrument described',
  v: 1,
  subject: 'instrument',
  role: 'register',
  body: Instrument,
  line: (body) =>
    `Instrument ${body.name} described: ${body.kind}, reads to ${body.resolutionMm} mm, calibration due ${body.calibrationDue ?? 'not known'}`,
  upgrades: [],
});
