import { canonicalJson, sha256Hex } from '../base/index.ts';
import type { Entry, StoredEntry } from './entry.ts';

/** The hash before the first entry of a subject. */
export const FIRST_HASH = '0'.repeat(64);

/** `hash` of an entry in its chain: SHA-256 over the hash before it, its time of arrival and its canonical JSON. */
export function chainHash(previousHash: string, receivedAt: string, entry: Entry): string {
  return sha256Hex(`${previousHash}\n${receivedAt}\n${canonicalJson(entry)}`);
}

/** One link of a chain. */
export interface ChainLink {
  readonly seq: number;
  readonly id: string;
  readonly previousHash: string;
  readonly hash: string;
  /** The hash as it follows from the content; undefined: the content cannot be read any more. */
  readonly recomputed: string | undefined;
}

/** A break in a chain, and the entry at which it shows, where there is one. */
export interface BrokenLink {
  /** `changed`: content does not fit its hash; `missing`: entries are gone; `reordered`: not in order of arrival. */
  readonly fault: 'changed' | 'missing' | 'reordered';
  readonly seq: number;
  readonly entry?: string;
}

/** The link that an entry as it was stored makes. */
export function linkOf({ receivedAt, seq, previousHash, hash, ...entry }: StoredEntry): ChainLink {
  return { seq, id: entry.id, previousHash, hash, recomputed: chainHash(previousHash, receivedAt, entry) };
}

/**
 * Checks the links of one subject, in order of arrival, against each other and against the recorded length and end of
 * its chain. An empty list means that nothing was changed, removed or put elsewhere.
 */
export function brokenLinks(
  links: readonly ChainLink[],
  head: { readonly entries: number; readonly hash: string },
): BrokenLink[] {
  const faults: BrokenLink[] = [];
  const hashes = new Set(links.map(({ hash }) => hash));
  let previous = FIRST_HASH;
  for (const { seq, id: entry, previousHash, hash, recomputed } of links) {
    if (previousHash !== previous) {
      const elsewhere = previousHash === FIRST_HASH || hashes.has(previousHash);
      faults.push({ seq, entry, fault: elsewhere ? 'reordered' : 'missing' });
    }
    if (recomputed !== hash) faults.push({ seq, entry, fault: 'changed' });
    previous = hash;
  }
  const seq = links.at(-1)?.seq ?? 0;
  if (links.length < head.entries && !faults.some(({ fault }) => fault === 'missing'))
    faults.push({ fault: 'missing', seq });
  else if (previous !== head.hash && faults.length === 0) faults.push({ fault: 'changed', seq });
  return faults;
}
