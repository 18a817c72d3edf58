/**
 * JSON text that is the same for equal values: object keys sorted by code unit, `undefined` members left out.
 * Numbers are written as ECMAScript writes them (the number rule of RFC 8785).
 * Throws on values JSON has no word for (NaN, Infinity, functions): those are bugs of ours.
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new Error(`Broken invariant: ${value} cannot be written as JSON`);
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map((item) => canonicalJson(item ?? null)).join(',')}]`;
  if (typeof value === 'object') {
    const members = Object.entries(value)
      .filter(([, member]) => member !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
      .map(([key, member]) => `${JSON.stringify(key)}:${canonicalJson(member)}`);
    return `{${members.join(',')}}`;
  }
  throw new Error(`Broken invariant: a ${typeof value} cannot be written as JSON`);
}
