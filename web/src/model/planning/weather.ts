/** Whether a coat may be laid on a day, by the forecast: the gate, asked for a date to come. Twin of science/planning/weather.py. */
import { dateOfDay, dayNumber } from "../waiting/curing";
import { daysLeftToDry, whyNotToday } from "../waiting/gate";
import type { Forecast, Job, Waits } from "./shapes";

/** From this on a day counts as rainy (assumed). */
export const RAINY_MM = 1;
/** Stands for a temperature nobody knows: one that nothing speaks against. */
const MILD_C = 15;
const RAIN_TODAY_H = 0;
const RAIN_TOMORROW_H = 12;

export type DayAnswer = { stop: string | null; cautions: string[] };
export type ByDate = ReadonlyMap<string, Forecast>;

/** Hundreds of tickets ask the same of one day, which is reckoned once for each forecast. */
const answered = new WeakMap<ByDate, Map<string, DayAnswer>>();

/** What stops a coat of this ticket on a date, and what wants care; what is not known stops nobody. */
export function judgeDay(job: Job, coat: Waits, on: string, forecast: ByDate): DayAnswer {
  const answers = answered.get(forecast) ?? new Map<string, DayAnswer>();
  answered.set(forecast, answers);
  const wall: Wall = { wall_dry: dry(job, on), covered: job.covered };
  const key = [on, coat.frost_free_days.likely, wall.wall_dry, wall.covered].join("|");
  const answer = answers.get(key) ?? reckonDay(wall, coat.frost_free_days.likely, on, forecast);
  answers.set(key, answer);
  return answer;
}

type Wall = { wall_dry: boolean | null; covered: boolean };

function reckonDay(wall: Wall, frost_free_days: number, on: string, forecast: ByDate): DayAnswer {
  const here = forecast.get(on);
  const [low, high, rain] = [here?.low_c ?? null, here?.high_c ?? null, here?.rain_mm ?? null];
  const known = low !== null && high !== null;
  const { reasons } = whyNotToday({
    ...wall, temperature_c: known ? (low + high) / 2 : MILD_C, trend: "steady", nights_c: nights(on, Math.ceil(frost_free_days), forecast),
    frost_free_days, rain_in_h: rainInH(on, forecast),
  });
  const cautions: string[] = reasons.filter((reason) => reason.level === "caution").map((reason) => reason.code);
  return {
    stop: reasons.find((reason) => reason.level === "stop")?.code ?? null,
    cautions: known && rain !== null ? cautions : [...cautions, "forecast_unknown"],
  };
}

const later = (on: string, days: number): string => dateOfDay(dayNumber(on) + days);

/** A night's low is the lower of the two dates it joins. */
function nights(on: string, most: number, forecast: ByDate): number[] {
  const found: number[] = [];
  let low = forecast.get(on)?.low_c ?? null;
  for (let night = 0; night < most && low !== null; night += 1) {
    const following: number | null = forecast.get(later(on, night + 1))?.low_c ?? null;
    found.push(following === null ? low : Math.min(low, following));
    low = following;
  }
  return found;
}

function rainInH(on: string, forecast: ByDate): number | null {
  for (const [days, hours] of [[0, RAIN_TODAY_H], [1, RAIN_TOMORROW_H]] as const) {
    if ((forecast.get(later(on, days))?.rain_mm ?? 0) >= RAINY_MM) return hours;
  }
  return null;
}

/** A wall seen wet may be dry after the likely time, but somebody has to look: then null. */
function dry(job: Job, on: string): boolean | null {
  if (job.wall_dry !== false || job.wet_on === null) return job.wall_dry;
  const days = Math.max(0, dayNumber(on) - dayNumber(job.wet_on));
  return daysLeftToDry(days).likely <= 0 ? null : false;
}
