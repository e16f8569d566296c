/**
 * Rain driven onto a face, hour by hour and by a storm's totals. A port of what the phone needs of
 * server/makegood/science/driving_rain.py, held by shared/vectors/driving_rain.json; sources and limits there.
 */
import { Refusal } from "../refusal";
import type { Range } from "../types";

/** Compass direction in degrees; 90 is an upright wall, 0 a flat roof, over 90 it overhangs. */
export type Face = { bearing_deg: number; slope_deg: number };
export type BareStorm = { rain_mm: number; wind_m_s: number; wind_from_deg: number | null; duration_h: number | null };
export type HourLists = { rain_mm: readonly (number | null)[]; wind_m_s: readonly (number | null)[]; from_deg: readonly (number | null)[] };

/** Assumed, as in Python: wind by eye, the share of the time it rained, the length where nobody knows, the point of the compass named. */
const [WINDS, SHARES_RAINING, USUAL_H, TURNED_DEG] = [[0.8, 1, 1.2], [0.25, 0.5, 1], [2, 8, 24], [-22.5, 0, 22.5]] as const;
const ALL_ROUND_DEG = Array.from({ length: 72 }, (_, i) => 5 * i);

const radians = (deg: number): number => (deg * Math.PI) / 180;
// Quarter turns are exact, so that a wall side-on to the wind takes nothing.
export const cosDeg = (deg: number): number => (Math.abs(deg % 180) === 90 ? 0 : Math.cos(radians(deg)));
export const sinDeg = (deg: number): number => (deg % 180 === 0 ? 0 : Math.sin(radians(deg)));

function within(name: string, given: number, low: number, high: number): void {
  // Written so that NaN is refused as well.
  if (!(given >= low && given <= high)) throw new Refusal("out_of_range", { [name]: String(given) });
}

function checkFace(face: Face): void {
  within("bearing_deg", face.bearing_deg, 0, 360);
  within("slope_deg", face.slope_deg, 0, 180);
}

/** Rain across an upright plane square to the wind in one hour, L/m2. */
export const drivenUpright = (wind_m_s: number, rain_mm_h: number): number => (2 / 9) * wind_m_s * rain_mm_h ** (8 / 9);

/** ISO 15927-3: rain on an upright wall in one hour, the wind `angle_deg` off square. */
export const wallIndex = (wind_m_s: number, rain_mm_h: number, angle_deg: number): number =>
  Math.max(0, drivenUpright(wind_m_s, rain_mm_h) * cosDeg(angle_deg));

/** The dose of hours on a face, how many of them are known, and how many not. */
export function doseByHours(hours: HourLists, face: Face, driven = 1): { l_m2: number; known_h: number; missing_h: number } {
  checkFace(face);
  const upright = driven * sinDeg(face.slope_deg);
  const [toEast, toNorth, level] = [upright * sinDeg(face.bearing_deg), upright * cosDeg(face.bearing_deg), cosDeg(face.slope_deg)];
  let [l_m2, known_h] = [0, 0];
  for (const [i, rain] of hours.rain_mm.entries()) {
    const [wind, from] = [hours.wind_m_s[i] ?? null, hours.from_deg[i] ?? null];
    if (rain === null || (rain > 0 && (wind === null || (wind !== 0 && from === null)))) continue;
    known_h += 1;
    if (rain === 0) continue;
    const square = drivenUpright(wind ?? 0, rain);
    l_m2 += Math.max(0, square * (Math.sin(radians(from ?? 0)) * toEast + Math.cos(radians(from ?? 0)) * toNorth) + rain * level);
  }
  return { l_m2, known_h, missing_h: hours.rain_mm.length - known_h };
}

function checkStorm(storm: BareStorm): void {
  within("rain_mm", storm.rain_mm, 0, 2000);
  within("wind_m_s", storm.wind_m_s, 0, 120);
  if (storm.wind_from_deg !== null) within("wind_from_deg", storm.wind_from_deg, 0, 360);
  if (storm.duration_h !== null) within("duration_h", storm.duration_h, 0.1, 400);
}

/** The angles off square the wind may have had, and those that likely is the mean of. */
function angles(storm: BareStorm, face: Face): [may: readonly number[], likely: readonly number[]] {
  if (storm.wind_from_deg === null) return [ALL_ROUND_DEG, ALL_ROUND_DEG];
  const off = Math.abs(((((storm.wind_from_deg - face.bearing_deg + 180) % 360) + 360) % 360) - 180);
  return [TURNED_DEG.map((turned) => Math.min(180, Math.max(0, off + turned))), [off]];
}

/** Low, likely and high dose of a storm known by its totals, L/m2. */
export function stormDose(storm: BareStorm, face: Face, driven = 1): Range {
  checkFace(face);
  checkStorm(storm);
  const spread = (factor: number, raining_h: number, angle: number) => {
    const square = factor * raining_h * drivenUpright(storm.wind_m_s, storm.rain_mm / raining_h);
    return Math.max(0, square * cosDeg(angle) * sinDeg(face.slope_deg) + storm.rain_mm * cosDeg(face.slope_deg));
  };
  const raining = SHARES_RAINING.map((share, i) => (storm.duration_h ?? (USUAL_H[i] as number)) * share);
  const [may, middle] = angles(storm, face);
  const likely = middle.reduce((sum, angle) => sum + spread(driven, raining[1] as number, angle), 0) / middle.length;
  const ends = WINDS.flatMap((wind) => raining.flatMap((hours) => may.map((angle) => spread(driven * wind, hours, angle))));
  return { low: Math.min(...ends, likely), likely, high: Math.max(...ends, likely) };
}

/** V(z) = V10 (z/10)^0.25, Building Science Digest BSD-148. */
export const windAt = (wind_10m_m_s: number, height_m: number): number => wind_10m_m_s * (height_m / 10) ** 0.25;
