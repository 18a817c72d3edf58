import { z } from 'zod';
import { defineKind, type Kind, type Names } from '../kind.ts';
import { callMade } from './conclusion.ts';
import { defectNoted, defectWithdrawn, markDrawn, markLookedAt, markRedrawn, markWithdrawn } from './mark.ts';
import { PhotoHash, scaleSet } from './photo.ts';
import { readingCorrected, readingEntered, readingWithdrawn } from './reading.ts';
import { surfaceSet } from './surface.ts';

/** What a reviewer measures again: the kinds in which an inspector writes values down. */
const MEASURING: ReadonlyMap<string, Kind> = new Map(
  [
    scaleSet,
    surfaceSet,
    markDrawn,
    markRedrawn,
    markWithdrawn,
    markLookedAt,
    defectNoted,
    defectWithdrawn,
    readingEntered,
    readingCorrected,
    readingWithdrawn,
    callMade,
  ].map((kind) => [kind.kind, kind as unknown as Kind]),
);

function upgradedBody(kind: Kind, v: number, body: Record<string, unknown>): Record<string, unknown> {
  return kind.upgrades.slice(v - 1).reduce((so, upgrade) => upgrade(so), body);
}

/**
 * A value of the second person, in the words of the kind in which the first person wrote theirs. It never counts as
 * evidence of the inspection; the second measurement is folded by itself.
 */
export const secondMeasured = defineKind({
  kind: 'measured again',
  v: 1,
  subject: 'inspection',
  role: 'second',
  body: z
    .strictObject({
      /** The kind whose words these are. */
      of: z.string().min(1).max(60),
      /** Version of that kind's schema. */
      v: z.int().min(1),
      body: z.record(z.string(), z.unknown()),
      /** The photo in which a gauge was read; null: no photo, or the body names it. */
      seenIn: PhotoHash.nullable(),
    })
    .superRefine(({ of, v, body }, context) => {
      const kind = MEASURING.get(of);
      if (kind === undefined) {
        context.addIssue({ code: 'custom', path: ['of'], message: `"${of}" is not measured again` });
        return;
      }
      if (v > kind.v) {
        context.addIssue({
          code: 'custom',
          path: ['v'],
          message: `Version ${v} of "${of}" is not known here`,
        });
        return;
      }
      const parsed = kind.body.safeParse(upgradedBody(kind, v, body));
      for (const { path, message } of parsed.error?.issues ?? [])
        context.addIssue({ code: 'custom', path: ['body', ...path], message });
    }),
  line: ({ of, v, body }, names: Names) => {
    const kind = MEASURING.get(of);
    const read = kind?.body.safeParse(upgradedBody(kind, v, body));
    return kind !== undefined && read?.success === true
      ? `Second measurement: ${kind.line(read.data, names)}`
      : `Second measurement: ${of} (not readable by this version)`;
  },
  upgrades: [],
});

/** The reviewer has measured: from here on they see the inspector's figures, and their own stand as they are. */
export const secondHandedIn = defineKind({
  kind: 'second measurement handed in',
  v: 1,
  subject: 'inspection',
  role: 'second',
  body: z.strictObject({
    /** Id of the submission entry that was measured again. */
    submission: z.uuid(),
    /** Readings of the inspector of which the evidence does not show the value. */
    notReadable: z.array(z.uuid()).max(2000),
  }),
  line: ({ notReadable }) =>
    notReadable.length === 0
      ? 'Handed in the second measurement'
      : `Handed in the second measurement; the evidence does not show ${notReadable.length} of the readings`,
  upgrades: [],
});

/** The reviewer looked at the inspector's figures before measuring. The second measurement is then not a blind one. */
export const figuresLookedAt = defineKind({
  kind: 'figures looked at early',
  v: 1,
  subject: 'inspection',
  role: 'second',
  body: z.strictObject({ reason: z.string().trim().min(1).max(500) }),
  line: ({ reason }) => `Looked at the inspector's figures before measuring: ${reason}`,
  upgrades: [],
});
