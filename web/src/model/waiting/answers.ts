/** What a person answers at the wall, as far as it is known, and how the gate takes it. */
import type { Today, Trend } from "./gate";

/** Of the weather; the same for every wall of a site. */
export type Weather = {
  temperature_c: number | null;
  trend: Trend | null;
  /** The lowest night of the forecast, and how many nights the forecast reaches. */
  lowest_c: number | null;
  nights: number;
  first_frost: "tonight" | "tomorrow" | "later" | null;
  rain: "within_day" | "later" | null;
  wind: "calm" | "breeze" | "strong" | null;
  /** The day the weather was answered for. */
  on: string | null;
};
/** Of this wall. */
export type WallNow = { dry: "dry" | "wet" | null; wet_on: string | null; frozen: boolean; covered: boolean; sun: boolean };

export const NO_WEATHER: Weather = { temperature_c: null, trend: null, lowest_c: null, nights: 7, first_frost: null, rain: null, wind: null, on: null };
export const NO_WALL: WallNow = { dry: null, wet_on: null, frozen: false, covered: false, sun: false };

export type Unanswered = "temperature" | "trend" | "nights" | "rain" | "wind";

/** Middle of the Beaufort forces 1, 4 and 5 to 6: leaves, small branches, small trees. */
const WIND_M_S = { calm: 1, breeze: 6.5, strong: 10 } as const;
const RAIN_IN_H = { within_day: 12, later: null } as const;
const FIRST_FROST = { tonight: 0, tomorrow: 1, later: 2 } as const;
/** Stands for a night without frost; how far above matters to nobody. */
const NO_FROST_C = 1;

/** The nights of the forecast: an unanswered first frost is taken as tonight, the safer. */
export function nightsOf({ lowest_c, nights, first_frost }: Weather): number[] {
  if (lowest_c === null) return [];
  if (lowest_c > 0) return Array.from({ length: nights }, () => lowest_c);
  const at = FIRST_FROST[first_frost ?? "tonight"];
  return Array.from({ length: Math.max(nights, at + 1) }, (_, night) => (night < at ? NO_FROST_C : lowest_c));
}

/** For the gate; null while the temperature is not known. An unanswered trend is taken as steady, the safer. */
export function todayOf(weather: Weather, wall: WallNow, frost_free_days: number): Today | null {
  if (weather.temperature_c === null) return null;
  return {
    temperature_c: weather.temperature_c, trend: weather.trend ?? "steady", nights_c: nightsOf(weather), frost_free_days,
    wall_dry: wall.dry === null ? null : wall.dry === "dry", wall_frozen: wall.frozen, covered: wall.covered, sun_on_wall: wall.sun,
    rain_in_h: weather.rain === null ? null : RAIN_IN_H[weather.rain], wind_m_s: weather.wind === null ? null : WIND_M_S[weather.wind],
  };
}

/** What nobody has answered, so that no silence passes for good weather. */
export function unanswered(weather: Weather): Unanswered[] {
  const open: [Unanswered, boolean][] = [
    ["temperature", weather.temperature_c === null], ["trend", weather.trend === null], ["nights", weather.lowest_c === null],
    ["rain", weather.rain === null], ["wind", weather.wind === null],
  ];
  return open.filter(([, missing]) => missing).map(([name]) => name);
}
