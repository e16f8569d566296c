/** Hours as they are typed, a row each, and as a storm keeps them. */
import type { Fields, Storm, StormHours } from "../../../model/types";
import { totalsOf } from "../../../model/storm/told";
import { outOfLimits } from "../../../model/storm/limits";

export type TypedHour = { rain: string; wind: string; from: string };
export type TypedHours = { day: string; hour: number; rows: TypedHour[] };
export const MOST_HOURS = 400;
const BLANK: TypedHour = { rain: "", wind: "", from: "" };
const MS_PER_HOUR = 3_600_000;

export const blankRows = (n: number): TypedHour[] => Array.from({ length: n }, () => ({ ...BLANK }));

/** The instant a row begins; hours follow each other even over a change of the clock. */
export const beginOf = ({ day, hour }: Pick<TypedHours, "day" | "hour">, row: number): Date =>
  new Date(new Date(`${day}T${String(hour).padStart(2, "0")}:00:00`).getTime() + row * MS_PER_HOUR);

/** What a cell says: null is nothing typed, undefined is no number. */
export function read(cell: string, parse: (text: string) => number | null): number | null | undefined {
  return cell.trim() === "" ? null : (parse(cell) ?? undefined);
}

export type Reader = { parse: (text: string) => number | null; mm: (typed: number | null) => number | null; speed: (typed: number | null) => number | null };

/** The rows that cannot be kept, and the hours without blank ones at the end; null while some cannot. */
export function hoursOf(typed: TypedHours, reader: Reader): { wrong: Set<number>; hours: StormHours | null } {
  const last = typed.rows.reduce((found, row, i) => (row.rain.trim() !== "" || row.wind.trim() !== "" || row.from !== "" ? i : found), -1);
  const rows = typed.rows.slice(0, last + 1).map((row) => ({ rain: read(row.rain, reader.parse), wind: read(row.wind, reader.parse), from: row.from }));
  const kept = rows.map(({ rain, wind, from }) => ({
    rain_mm: rain === undefined ? undefined : reader.mm(rain), wind_m_s: wind === undefined ? undefined : reader.speed(wind), from_deg: from === "" ? null : Number(from),
  }));
  const bad = (one: (typeof kept)[number]) =>
    one.rain_mm === undefined || one.wind_m_s === undefined || outOfLimits("rain_1h_mm", one.rain_mm) || outOfLimits("wind_m_s", one.wind_m_s);
  const wrong = new Set(kept.flatMap((one, i) => (bad(one) ? [i] : [])));
  if (wrong.size || !kept.length) return { wrong, hours: null };
  return {
    wrong, hours: {
      from: beginOf(typed, 0).toISOString(), rain_mm: kept.map((one) => one.rain_mm ?? null), wind_m_s: kept.map((one) => one.wind_m_s ?? null),
      from_deg: kept.map((one) => one.from_deg),
    },
  };
}

const tidy = (value: number | null): number | null => (value === null ? null : Number(value.toFixed(3)));

/** A storm's figures as its hours give them; what the hours do not tell is left as it was. */
export function figuresOf(hours: StormHours, before: Partial<Storm> = {}): Partial<Fields<"storm">> {
  const { rain_mm, worst_mm, wind_m_s, wind_from_deg } = totalsOf(hours);
  return {
    hours, rain_mm: tidy(rain_mm), rain_1h_mm: tidy(worst_mm[0] ?? null), rain_24h_mm: tidy(worst_mm[1] ?? null), duration_h: hours.rain_mm.length,
    wind_m_s: tidy(wind_m_s) ?? before.wind_m_s ?? null, wind_from_deg: tidy(wind_from_deg) ?? before.wind_from_deg ?? null,
  };
}
