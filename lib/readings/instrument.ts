import { z } from 'zod';

export const InstrumentKind = z.enum([
  'depth gauge',
  'calliper',
  'feeler gauge',
  'steel tape',
  'profile gauge',
  'ultrasonic thickness gauge',
]);
export type InstrumentKind = z.infer<typeof InstrumentKind>;

/** A gauge or tape with what its uncertainty and its fitness rest on. Lengths in mm. */
export const Instrument = z.strictObject({
  name: z.string().trim().min(1).max(60),
  kind: InstrumentKind,
  serial: z.string().trim().max(60),
  /** Smallest step it shows, mm. */
  resolutionMm: z.number().positive().max(10),
  /** Standard uncertainty from its certificate, mm; null when there is none. */
  certificateUMm: z.number().nonnegative().max(10).nullable(),
  calibratedOn: z.iso.date().nullable(),
  /** Last day on which its readings can support keep; null when no date is known, which counts as expired. */
  calibrationDue: z.iso.date().nullable(),
});
export type Instrument = z.infer<typeof Instrument>;

/**
 * Standard uncertainty of one reading with an instrument, mm: resolution/√12 (a rectangular law over one step,
 * GUM 4.3.7 and F.2.2.1) combined in quadrature with the certificate's. A reading typed to a coarser step than the
 * instrument shows counts with that step.
 */
export function instrumentUMm(
  instrument: Pick<Instrument, 'resolutionMm' | 'certificateUMm'>,
  typedStepMm = 0,
): number {
  const stepMm = Math.max(instrument.resolutionMm, typedStepMm);
  return Math.hypot(stepMm / Math.sqrt(12), instrument.certificateUMm ?? 0);
}

/** Whether the calibration is over (or was never dated) at the moment `at`, ISO 8601; the due day itself still counts. */
export function isExpired(instrument: Pick<Instrument, 'calibrationDue'>, at: string): boolean {
  return instrument.calibrationDue === null || at.slice(0, 10) > instrument.calibrationDue;
}
