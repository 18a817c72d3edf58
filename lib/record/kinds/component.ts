import { z } from 'zod';
import { FindMethod } from '../../marks/index.ts';
import { ComponentKind, ZoneId } from '../../wheel/index.ts';
import { defineKind } from '../kind.ts';

/** Year, month or day of making, as far as it is stamped. */
export const MadeOn = z.string().regex(/^\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?$/);

export const componentDescribed = defineKind({
  kind: 'component described',
  v: 1,
  subject: 'component',
  role: 'register',
  body: z.strictObject({
    componentKind: ComponentKind,
    maker: z.string().trim().max(80),
    series: z.string().trim().max(80),
    /** What is stamped on it, as read; empty when nothing can be read. */
    stamp: z.string().trim().max(80),
    /** Month or day of making; null when the age is not known. */
    madeOn: MadeOn.nullable(),
  }),
  line: (body) =>
    `${body.componentKind} described: ${body.maker || 'maker unknown'}, stamp ${body.stamp || 'unreadable'}`,
  upgrades: [],
});

export const componentFitted = defineKind({
  kind: 'component fitted',
  v: 1,
  subject: 'component',
  role: 'register',
  body: z.strictObject({ wheel: z.uuid(), slot: z.string().min(1).max(60) }),
  line: (body, names) => `Fitted to ${names.wheel(body.wheel)} as ${body.slot}`,
  upgrades: [],
});

export const componentRemoved = defineKind({
  kind: 'component removed',
  v: 1,
  subject: 'component',
  role: 'register',
  body: z.strictObject({ wheel: z.uuid(), reason: z.string().trim().min(1).max(500) }),
  line: (body, names) => `Removed from ${names.wheel(body.wheel)}: ${body.reason}`,
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
