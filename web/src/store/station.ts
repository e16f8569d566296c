/** A weather station's table, read by the server for the storms in it. Nothing of it is kept there. */
import type { Id, StormHours } from "../model/types";
import { readRefusal, send, unreached } from "./net/transport";

export const WIND_UNITS = ["m/s", "km/h", "mph", "kn"] as const;
export const RAIN_UNITS = ["mm", "inch"] as const;
/** Which column holds what; left out: guessed by the server. */
export type StationMapping = {
  time?: string; wind?: string; wind_from?: string; rain?: string; wind_unit?: string; rain_unit?: string; date_order?: string; zone?: string; station?: string; station_is?: string;
};
export type StationTrouble = { code: string; say: string; lines: number[]; count: number; left_out: boolean };
export type StationSpell = {
  from: string; on: string; hours: StormHours; duration_h: number; missing_h: number; rain_mm: number | null; rain_1h_mm: number | null;
  rain_24h_mm: number | null; rain_96h_mm: number | null; wind_m_s: number | null; wind_from_deg: number | null; wind_top_m_s: number | null;
};
export type StationRead = {
  hours: number; first: string | null; last: string | null; zone: string; troubles: StationTrouble[]; spells: StationSpell[]; spells_left_out: number;
  columns: {
    all: string[]; stations: string[]; time: string; wind: string | null; wind_from: string; rain: string | null; wind_unit: string; rain_unit: string;
    wind_unit_sure: boolean; rain_unit_sure: boolean; date_order: string; date_order_sure: boolean; station: string | null; station_is: string | null;
  };
};

/** Have a table read; rejects with Refused or NotReached. */
export async function readStation(site: Id, table: ArrayBuffer, mapping: StationMapping, keepGood: boolean): Promise<StationRead> {
  const asked = new URLSearchParams({ ...mapping, keep_good: String(keepGood) });
  const answer = await send("POST", `/api/weather/${site}?${asked}`, { "Content-Type": "text/csv" }, table);
  if (!answer.ok) throw readRefusal(answer);
  if (!(answer.headers.get("Content-Type") ?? "").includes("json")) throw unreached("the answer was not ours");
  return JSON.parse(new TextDecoder().decode(answer.body)) as StationRead;
}
