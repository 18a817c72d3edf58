/** A stay of a component in a wheel. `until` is null while it is there. */
export interface Fitment {
  readonly wheel: string;
  readonly slot: string;
  readonly from: string;
  readonly until: string | null;
  /** The machine that the wheel was on when it was fitted; empty: on none; null: not said. */
  readonly machine: string | null;
  /** Its meter at the beginning and at the end, h; null: not read. */
  readonly machineHours: number | null;
  readonly machineHoursAtEnd: number | null;
  /** Hours that were on the part when it was fitted, as somebody said; null: nobody did. */
  readonly partHours: number | null;
}
