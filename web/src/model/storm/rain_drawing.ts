/** What the drawings of driven rain need: steps of dose, the rose, and the parts of a wall as outlines on it. */
import { shapeOf } from "../surface";
import type { Surface, WallPoint } from "../types";
import { HALF_SECTOR_DEG, type Part, type Told, type ToldDose, toldDose, upright } from "./told";

/** Upper ends of the steps, L/m2: 33, 56.5 and 100 part the exposure classes of a spell (BS 8104, as read); 1 and 10 are our own. */
export const STEP_ENDS_L_M2 = [1, 10, 33, 56.5, 100] as const;
export const STEPS = [0, 1, 2, 3, 4, 5] as const;
export type Step = (typeof STEPS)[number];

export function stepOf(l_m2: number): Step {
  return STEP_ENDS_L_M2.filter((end) => l_m2 >= end).length as Step;
}

export type Petal = { bearing_deg: number; dose: ToldDose };
const PETAL_DEG = 22.5;

/** Sixteen upright walls round the compass; empty where the storm cannot be reckoned. */
export function roseOf(storm: Told): Petal[] {
  return Array.from({ length: 16 }, (_, i) => i * PETAL_DEG).flatMap((bearing_deg) => {
    const dose = toldDose(storm, upright(bearing_deg));
    return dose ? [{ bearing_deg, dose }] : [];
  });
}

/** A petal as an outline of a circle of radius 1, north up, y down. */
export function petalPath(bearing_deg: number, share: number): string {
  const at = (deg: number) => [Math.sin((deg * Math.PI) / 180) * share, -Math.cos((deg * Math.PI) / 180) * share].map((n) => n.toFixed(3)).join(" ");
  const half = PETAL_DEG / 2 - 1.5;
  return `M0 0L${at(bearing_deg - half)}A${share.toFixed(3)} ${share.toFixed(3)} 0 0 1 ${at(bearing_deg + half)}z`;
}

const PIECES = 8;

/** The outline of a part on the wall seen from the front. */
export function partOutline(surface: Surface, part: Part): WallPoint[] {
  const { flat, round } = shapeOf(surface);
  const { low_m, high_m, turn_deg } = part;
  if (!round) return [[0, low_m], [flat.width, low_m], [flat.width, high_m], [0, high_m]];
  const side = (turn: number) => Array.from({ length: PIECES + 1 }, (_, i): WallPoint => {
    const z = low_m + ((high_m - low_m) * i) / PIECES;
    return [round.radius(Math.min(z, round.height)) * Math.sin((turn * Math.PI) / 180), z];
  });
  return [...side(turn_deg - HALF_SECTOR_DEG), ...side(turn_deg + HALF_SECTOR_DEG).reverse()];
}

/** Where one storm's wetting cannot be told by this sum. */
export type Limit = "convective" | "hail" | "gaps" | "no_direction" | "by_totals";
const [CLOUDBURST_MM_H, CLOUDBURST_SHARE] = [10, 0.25];

/** The limits that this storm meets; those that always hold are not among them. */
export function limitsOf(storm: Told & { hail: boolean | null }): Limit[] {
  const hours = storm.hours?.rain_mm.flatMap((mm) => (mm ? [mm] : [])) ?? [];
  const sum = (list: readonly number[]) => list.reduce((all, mm) => all + mm, 0);
  const mean = storm.rain_mm !== null && storm.duration_h ? storm.rain_mm / storm.duration_h : 0;
  const bursts = hours.length ? sum(hours.filter((mm) => mm > CLOUDBURST_MM_H)) > CLOUDBURST_SHARE * sum(hours) : mean > CLOUDBURST_MM_H;
  const dose = toldDose(storm, upright(0));
  const met: Record<Limit, boolean> = {
    convective: bursts, hail: storm.hail === true, gaps: (dose?.missing_h ?? 0) > 0,
    no_direction: dose?.by === "totals" && storm.wind_from_deg === null, by_totals: dose?.by === "totals",
  };
  return (Object.keys(met) as Limit[]).filter((limit) => met[limit]);
}
