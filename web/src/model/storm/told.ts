/**
 * A storm as it is written down, by its hours or by totals, onto faces and the parts of a wall.
 * Twin of server/makegood/science/weather/told.py; shared/vectors/dose.json holds both to one answer.
 */
import { shapeOf } from "../surface";
import type { Range, Storm, Surface } from "../types";
import { type Face, type HourLists, cosDeg, doseByHours, drivenUpright, sinDeg, stormDose, windAt } from "./driving_rain";

export type Told = Pick<Storm, "rain_mm" | "wind_m_s" | "wind_from_deg" | "duration_h"> & { hours: HourLists | null };
export type ToldDose = Range & { by: "hours" | "totals"; missing_h: number };
/** A part of a wall: its sector's middle right of the drawn middle line, its heights, its face. */
export type Part = { turn_deg: number; low_m: number; high_m: number; face: Face };
export type Totals = {
  rain_mm: number | null; worst_mm: (number | null)[]; wet_h: number; wind_m_s: number | null; wind_from_deg: number | null; missing_h: number;
};

export const SECTORS_DEG = [-75, -45, -15, 15, 45, 75];
export const HALF_SECTOR_DEG = 15;
const LENGTHS_H = [1, 24, 96];

const exactly = (l_m2: number, by: ToldDose["by"], missing_h: number): ToldDose => ({ low: l_m2, likely: l_m2, high: l_m2, by, missing_h });

/** The dose of a storm on a face, L/m2; null where rain or wind is not recorded. `driven` scales the wind-driven part. */
export function toldDose(storm: Told, face: Face, driven = 1): ToldDose | null {
  const sum = storm.hours ? doseByHours(storm.hours, face, driven) : null;
  const known = sum?.known_h ? exactly(sum.l_m2, "hours", sum.missing_h) : null;
  if (known?.missing_h === 0) return known;
  const { rain_mm, wind_m_s, wind_from_deg } = storm;
  if (rain_mm === 0) return exactly(0, "totals", 0);
  if (rain_mm === null || wind_m_s === null) return known;
  const duration_h = storm.duration_h ? Math.max(0.1, storm.duration_h) : null;
  return { ...stormDose({ rain_mm, wind_m_s, wind_from_deg, duration_h }, face, driven), by: "totals", missing_h: 0 };
}

/** An upright wall. */
export const upright = (bearing_deg: number): Face => ({ bearing_deg: ((bearing_deg % 360) + 360) % 360, slope_deg: 90 });

/** The face of a wall at a turn to the right of its drawn middle line and at a height; flat walls face one way all over. */
export function faceAt(surface: Surface, bearing_deg: number, turn_deg: number, z_m: number): Face {
  const { round } = shapeOf(surface);
  const bearing = (turn: number) => (((bearing_deg - turn) % 360) + 360) % 360;
  if (!round) return { bearing_deg: bearing(0), slope_deg: 90 - (surface.kind === "flat" ? (surface.batter_deg ?? 0) : 0) };
  const slope = round.slope(z_m);
  return { bearing_deg: bearing(turn_deg), slope_deg: Number.isFinite(slope) ? (Math.atan2(1, -slope) * 180) / Math.PI : 0 };
}

/** The parts of a wall as drawn from the front: bands of equal height, round walls by sectors too. */
export function partsOf(surface: Surface, bearing_deg: number, bands = 4): Part[] {
  const { flat, round } = shapeOf(surface);
  const step = (flat ?? round).height / bands;
  const turns = round ? SECTORS_DEG : [0];
  return Array.from({ length: bands }, (_, i) => turns.map((turn_deg): Part => ({
    turn_deg, low_m: i * step, high_m: (i + 1) * step, face: faceAt(surface, bearing_deg, turn_deg, (i + 0.5) * step),
  }))).flat();
}

/** The dose of each part, the wind slower near the ground. */
export const partDoses = (storm: Told, parts: readonly Part[], foot_m = 0): (ToldDose | null)[] =>
  parts.map((one) => toldDose(storm, one.face, Math.min(2, windAt(1, foot_m + (one.low_m + one.high_m) / 2))));

function worst(rain: readonly (number | null)[], length_h: number): number {
  let [sum, most] = [0, 0];
  rain.forEach((mm, i) => {
    sum += (mm ?? 0) - (i >= length_h ? (rain[i - length_h] ?? 0) : 0);
    most = Math.max(most, length_h === 1 ? (mm ?? 0) : sum);
  });
  return most;
}

/** Totals of hours; hours that are not known add nothing and are counted. */
export function totalsOf(hours: HourLists): Totals {
  const known = hours.rain_mm.filter((mm) => mm !== null);
  const wet = hours.rain_mm.flatMap((rain, i) => (rain ? [{ rain, wind: hours.wind_m_s[i] ?? null, from: hours.from_deg[i] ?? null }] : []));
  const winds = wet.flatMap(({ wind }) => (wind === null ? [] : [wind]));
  let [east, north] = [0, 0];
  for (const { rain, wind, from } of wet) {
    if (!wind || from === null) continue;
    east += drivenUpright(wind, rain) * sinDeg(from);
    north += drivenUpright(wind, rain) * cosDeg(from);
  }
  const still = Math.abs(east) < 1e-9 && Math.abs(north) < 1e-9;
  const unknown = wet.filter(({ wind, from }) => wind === null || (wind > 0 && from === null)).length;
  return {
    rain_mm: known.length ? known.reduce((sum, mm) => sum + mm, 0) : null,
    worst_mm: LENGTHS_H.map((length) => (known.length ? worst(hours.rain_mm, length) : null)),
    wet_h: wet.length,
    wind_m_s: winds.length ? winds.reduce((sum, wind) => sum + wind, 0) / winds.length : null,
    wind_from_deg: still ? null : ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360,
    missing_h: hours.rain_mm.length - known.length + unknown,
  };
}
