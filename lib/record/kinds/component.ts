import { z } from 'zod';
import { FindMethod } from '../../marks/index.ts';
import { ComponentKind, ZoneId } from '../../wheel/index.ts';
import { defineKind } from '../kind.ts';
import { PhotoHash } from './photo.ts';

/** Year, month or day of making, as far as it is stamped. */
export const MadeOn = z.string().regex(/^\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?$/);

/** When a part was made: never left out, also where nobody knows. */
export const Made = z.discriminatedUnion('how', [
  /** Stamped on it, or in its papers. */
  z.strictObject({ how: z.literal('known'), on: MadeOn }),
  /** Reasoned: not before the one, not after the other, and why. */
  z
    .strictObject({
      how: z.literal('estimated'),
      notBefore: MadeOn,
      notAfter: MadeOn,
      basis: z.string().trim().min(1).max(200),
    })
    .refine(({ notBefore, notAfter }) => notBefore.slice(0, 4) <= notAfter.slice(0, 4), {
      path: ['notAfter'],
      error: 'The latest date lies before the earliest',
    }),
  z.strictObject({ how: z.literal('unknown') }),
]);
export type Made = z.infer<typeof Made>;

/** When a part was made, in words. */
export function madeWords(made: Made): string {
  switch (made.how) {
    case 'known':
      return `made ${made.on}`;
    case 'estimated':
      return `made ${made.notBefore} to ${made.notAfter}, estimated: ${made.basis}`;
    case 'unknown':
      return 'age unknown';
  }
}

const Short = z.string().trim().max(80);

/** Version 2: stamps one by one with their photo, a date that is never blank, and whether the part could be identified. */
export const componentDescribed = defineKind({
  kind: 'component described',
  v: 2,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    componentKind: ComponentKind,
    maker: Short,
    series: Short,
    /** All that is stamped on it, as read; empty when nothing can be read. */
    stamp: Short,
    partNumber: Short,
    serial: Short,
    dateCode: Short,
    made: Made,
    /** SHA-256 of a photo of the stamps; null: none was taken. */
    stampPhoto: PhotoHash.nullable(),
    /** `cannot be identified`: somebody looked, and its stamps do not say what it is. */
    identity: z.enum(['identified', 'cannot be identified']),
  }),
  line: (body) =>
    `${body.componentKind} described: ${body.maker || 'maker unknown'}, ${
      body.identity === 'identified'
        ? `stamp ${[body.stamp, body.partNumber, body.serial, body.dateCode].filter((one) => one !== '').join(' / ')}`
        : 'cannot be identified'
    }, ${madeWords(body.made)}`,
  upgrades: [
    ({ madeOn, ...body }) => ({
      ...body,
      partNumber: '',
      serial: '',
      dateCode: '',
      made: typeof madeOn === 'string' ? { how: 'known', on: madeOn } : { how: 'unknown' },
      stampPhoto: null,
      identity: body.stamp === '' ? 'cannot be identified' : 'identified',
    }),
  ],
});

const Hours = z.number().nonnegative().max(1_000_000);

/** Version 2: the day, the machine with its meter, and the hours that were on the part already. */
export const componentFitted = defineKind({
  kind: 'component fitted',
  v: 2,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    wheel: z.uuid(),
    slot: z.string().min(1).max(60),
    /** Null: on the day of the entry. */
    on: z.iso.date().nullable(),
    /** The machine that the wheel is on; empty: on none; null: not said. */
    machine: Short.nullable(),
    /** What the meter of the machine showed; null: not read, or on no machine. */
    machineHours: Hours.nullable(),
    /** Hours on duty that the part had then; null: as counted before, or not known. */
    partHours: Hours.nullable(),
  }),
  line: (body, names) =>
    `Fitted to ${names.wheel(body.wheel)} as ${body.slot}${whenWords(body.on, body.machineHours)}`,
  upgrades: [(body) => ({ ...body, on: null, machine: null, machineHours: null, partHours: null })],
});

export const componentRemoved = defineKind({
  kind: 'component removed',
  v: 2,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    wheel: z.uuid(),
    reason: z.string().trim().min(1).max(500),
    on: z.iso.date().nullable(),
    machineHours: Hours.nullable(),
  }),
  line: (body, names) =>
    `Removed from ${names.wheel(body.wheel)}${whenWords(body.on, body.machineHours)}: ${body.reason}`,
  upgrades: [(body) => ({ ...body, on: null, machineHours: null })],
});

function whenWords(on: string | null, machineHours: number | null): string {
  return `${on === null ? '' : ` on ${on}`}${machineHours === null ? '' : ` at ${machineHours} h of the machine`}`;
}

/** Two records turned out to be of one part: this one is read as part of the other from here on. Nothing is taken away. */
export const componentMerged = defineKind({
  kind: 'component merged',
  v: 1,
  subject: 'component',
  role: 'register',
  body: z.strictObject({ into: z.uuid(), reason: z.string().trim().min(1).max(500) }),
  line: (body, names) => `Is the same part as ${names.component(body.into)}: ${body.reason}`,
  upgrades: [],
});

/** The meter of a machine on a day: what hours on duty of everything on it are counted by. */
export const machineHoursRead = defineKind({
  kind: 'machine hours read',
  v: 1,
  subject: 'site',
  role: 'register',
  body: z.strictObject({ machine: Short.min(1), hours: Hours, on: z.iso.date() }),
  line: (body) => `Meter of ${body.machine} on ${body.on}: ${body.hours} h`,
  upgrades: [],
});

/** Hours on duty of a part on a day, as far as anybody knows them. */
export const dutyHoursNoted = defineKind({
  kind: 'duty hours noted',
  v: 1,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    hours: z.number().nonnegative().max(1_000_000),
    /** The true hours lie this far from `hours` at most. */
    giveOrTakeHours: z.number().nonnegative().max(1_000_000),
    basis: z.enum(['meter of the machine', 'estimate']),
    on: z.iso.date(),
  }),
  line: (body) =>
    `Hours on duty on ${body.on}: ${body.hours} h, give or take ${body.giveOrTakeHours} h (${body.basis})`,
  upgrades: [],
});

/** The record of a non-destructive test; the only thing that closes a test the limits ask for. */
export const testRecorded = defineKind({
  kind: 'test recorded',
  v: 2,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    method: FindMethod.exclude(['visual']),
    zones: z.array(ZoneId).min(1).max(30),
    result: z.enum(['no indication', 'indication']),
    /** Procedure or standard followed, such as ASTM E709. */
    standard: z.string().trim().min(1).max(120),
    /** Who did it, with grade. */
    testedBy: z.string().trim().min(1).max(120),
    on: z.iso.date(),
    surface: z.string().trim().max(200),
    /** The inspection it was recorded in, if any. */
    inspection: z.uuid().nullable(),
    /** Hours on duty of the part when it was tested; null: not known. */
    dutyHours: z.number().nonnegative().max(1_000_000).nullable(),
  }),
  line: (body) =>
    `${body.method} test of ${body.zones.join(', ')} on ${body.on}: ${body.result} (${body.standard})`,
  upgrades: [(body) => ({ ...body, dutyHours: null })],
});

/**
 * A repair of a part by whoever is allowed to make one. It ends nothing: the next inspection has to look at the part
 * again; wear is counted anew from here on.
 */
export const repairRecorded = defineKind({
  kind: 'repair recorded',
  v: 1,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    zones: z.array(ZoneId).min(1).max(30),
    /** What was done. */
    what: z.string().trim().min(1).max(500),
    /** Procedure or standard followed; empty: none was named. */
    procedure: z.string().trim().max(120),
    /** The facility, or the person with their grade. */
    by: z.string().trim().min(1).max(120),
    on: z.iso.date(),
  }),
  line: (body) =>
    `Repair of ${body.zones.join(', ')} on ${body.on} by ${body.by}: ${body.what} (${body.procedure || 'no procedure named'})`,
  upgrades: [],
});
