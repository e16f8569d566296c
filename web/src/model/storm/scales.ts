/** Named scales of wind and rain: a measured figure to its class. Twin of science/scales.py, where the source of each boundary stands. */
import { Refusal } from "../refusal";

type Scale = { limits: readonly (readonly [limit: number, belongsBelow: boolean])[]; classes: readonly string[] };

const BEAUFORT_M_S = [0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6];

/** Rain in mm/h, wind in m/s. Agencies disagree on rain, so a class is never shown without the name of its scale. */
const SCALES = {
  rain_ams: { limits: [[2.5, true], [7.6, true]], classes: ["light", "moderate", "heavy"] },
  rain_wmo: { limits: [[2.5, false], [10, false], [50, true]], classes: ["slight", "moderate", "heavy", "violent"] },
  rain_uk: { limits: [[1, true], [4, true], [32, true]], classes: ["slight", "moderate", "heavy", "violent"] },
  wind_beaufort: { limits: BEAUFORT_M_S.map((limit) => [limit, true] as const), classes: [...BEAUFORT_M_S, Infinity].map((_, force) => String(force)) },
} as const satisfies Record<string, Scale>;
export type ScaleName = keyof typeof SCALES;
export const RAIN_SCALES = ["rain_ams", "rain_wmo", "rain_uk"] as const satisfies readonly ScaleName[];
export type RainClass = (typeof SCALES)[(typeof RAIN_SCALES)[number]]["classes"][number];

/** Place (from 0) and name of a figure's class; throws Refusal `scale_unknown`, `out_of_range`. */
export function classify(scale: string, figure: number): { place: number; name: string } {
  const found = (SCALES as Record<string, Scale>)[scale];
  if (!found) throw new Refusal("scale_unknown", { scale });
  // Written so that NaN is refused as well.
  if (!(figure >= 0)) throw new Refusal("out_of_range", { [scale]: String(figure) });
  const place = found.limits.filter(([limit, below]) => figure > limit || (figure === limit && !below)).length;
  return { place, name: found.classes[place] as string };
}

// Half goes up; a hair is added because 0.35 and its like are stored a little low.
const tenths = (figure: number) => Math.floor(figure * 10 + 0.5 + 1e-9) / 10;

/** Beaufort force 0 to 12 of a mean wind in m/s, rounded to 0.1 m/s as the table is; throws Refusal `out_of_range`. */
export function beaufort(wind_m_s: number): number {
  return classify("wind_beaufort", wind_m_s >= 0 ? tenths(wind_m_s) : wind_m_s).place;
}

/** Rain per hour in mm, averaged over the whole storm; null where amount or length is not known. Peaks within it were harder. */
export function meanRain_mm_h(storm: { rain_mm: number | null; duration_h: number | null }): number | null {
  return storm.rain_mm === null || !storm.duration_h ? null : storm.rain_mm / storm.duration_h;
}

/** The class of a rain in mm/h on a rain scale. */
export function rainClass(scale: (typeof RAIN_SCALES)[number], rain_mm_h: number): RainClass {
  return classify(scale, rain_mm_h).name as RainClass;
}
