import type { DBSchema } from 'idb';
import type { Problem } from '../../base/index.ts';
import type { Entry } from '../../record/index.ts';

/** An entry on its way to the server. A refused one stays, with its reason, until a person deals with it. */
export interface OutboxItem {
  readonly id: string;
  readonly author: string;
  readonly state: 'waiting' | 'refused';
  readonly problem: Problem | null;
}

/** A photo on the device: its original bytes under their SHA-256, and how far it is on its way. */
export interface DevicePhoto {
  readonly sha256: string;
  readonly site: string;
  readonly name: string;
  readonly blob: Blob;
  /** A small upright picture for lists; null where the browser could not decode the original. */
  readonly thumb: Blob | null;
  /** What the browser can show in full: null when it shows the original itself, else a decoded copy. */
  readonly view: Blob | null;
  /** Size of the upright picture, px; null where it could not be decoded here. */
  readonly widthPx: number | null;
  readonly heightPx: number | null;
  readonly addedAt: string;
  /** `confirmed`: the server has the bytes and has checked their hash. */
  readonly state: 'waiting' | 'confirmed' | 'refused';
  readonly problem: Problem | null;
}

/** What is in the browser's database. A new version adds a step to `upgrade` and never drops entries or photos. */
export interface DeviceSchema extends DBSchema {
  entries: {
    key: string;
    value: Entry;
    indexes: {
      subject: [string, string];
      site: string;
      /** Since version 2: a site has thousands of entries, and most screens need few of them. */
      siteSubject: [site: string, type: string];
      siteKind: [site: string, kind: string];
    };
  };
  outbox: { key: string; value: OutboxItem };
  photos: { key: string; value: DevicePhoto; indexes: { state: string } };
  /** Text typed into a field and not entered yet, so that a reload does not lose it. */
  drafts: { key: string; value: string };
  /** Small things: cursors of what was fetched, the last known person. */
  notes: { key: string; value: unknown };
}

export const DEVICE_DATABASE_VERSION = 2;
