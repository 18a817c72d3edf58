const DAY_MS = 86_400_000;
/** Days of a Julian year, for ages in words. */
export const DAYS_A_YEAR = 365.25;

/** Days since 1970-01-01 of an ISO date. */
export function dayOf(date: string): number {
  return Date.parse(`${date}T00:00:00Z`) / DAY_MS;
}

/** The same day of the month `months` earlier, clipped to that month's end. ISO dates. */
export function monthsBefore(on: string, months: number): string {
  const [year, month, day] = on.slice(0, 10).split('-').map(Number) as [number, number, number];
  const count = year * 12 + (month - 1) - months;
  const [y, m] = [Math.floor(count / 12), (count % 12) + 1];
  const leap = (y % 4 === 0 && y % 100 !== 0) || y % 400 === 0;
  const last = m === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(m) ? 30 : 31;
  return `${String(y).padStart(4, '0')}-${String(m).padStart(2, '0')}-${String(Math.min(day, last)).padStart(2, '0')}`;
}
