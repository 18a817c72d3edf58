/** Inspection files for tests: the least that can be read, and one with more said of a rim base. */
export const least = {
  format: 'rimbook inspection',
  version: 1,
  decidedAt: '2026-11-02T09:30:00.000Z',
  wheel: { designation: '25-22.00/3.0', construction: 'five-piece' },
  parts: [],
};
const gauge = {
  name: 'DG-1',
  kind: 'depth gauge',
  serial: '0412',
  resolutionMm: 0.05,
  certificateUMm: 0.03,
  calibratedOn: '2025-02-10',
  calibrationDue: '2026-11-02',
};
export const depth = { characteristic: 'gutter depth', zone: 'gutter groove', value: '11.6' };
export const withPart = (part: object, over: object = {}) => ({
  ...least,
  instruments: [gauge],
  parts: [{ slot: 'rim base', ...part }],
  ...over,
});
