/** One side as `follow` takes it, put together from the rows on the phone. */
import type { LastingRules } from "../catalogue";
import type { Defect, Elevation, Finish, Id, Reading, Score, Step, Storm, Survey } from "../types";
import type { DatedDepth } from "./wear";
import { type Followed, type KindVerdicts, type RainOn, type Side, rainBetween } from "./follow";
import type { Face } from "../storm/driving_rain";
import { faceOf, finishAt } from "./place";

/** Rows of a side and of its site; `day` is the day of an instant where the phone is. */
export type Gathered = {
  elevation: Elevation;
  finishes: readonly Finish[];
  scores: readonly Score[];
  defects: readonly { defect: Defect; readings: readonly Reading[] }[];
  surveys: readonly Survey[];
  steps: readonly Step[];
  storms: readonly Storm[];
  /** What a storm drove onto a face [L/m2]; null where it cannot be told. */
  dose: (face: Face, storm: Storm) => number | null;
  day: (at: string) => string;
};

export function kindVerdicts(rules: LastingRules | undefined): KindVerdicts {
  const of = (verdict: "let_go" | "worn") => (rules?.kinds[verdict] ?? []).map((kind) => [kind, verdict] as const);
  return Object.fromEntries([...of("worn"), ...of("let_go")]);
}

/** What each storm drove onto a finish, the oldest first. */
export function rainOn({ region }: Pick<Finish, "region">, { elevation, storms, dose }: Pick<Gathered, "elevation" | "storms" | "dose">): RainOn[] {
  const face = faceOf(elevation, region);
  return storms.map((storm) => ({ on: storm.began_on, l_m2: dose(face, storm) })).sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}

export function sideOf(rows: Gathered): Side {
  const { elevation, finishes, scores, defects, surveys, steps, day } = rows;
  const mine = new Set<Id>(finishes.map((one) => one.id));
  const laidFor = new Set<Id | null>(finishes.map((one) => one.ticket_id));
  return {
    surface: elevation.surface, finishes,
    scores: scores.filter((one) => mine.has(one.finish_id)).map((one) => ({ id: one.id, finish_id: one.finish_id, on: day(one.at), verdict: one.verdict })),
    defects: defects.map(({ defect, readings }) => ({
      id: defect.id, kind: defect.kind, mark: defect.mark,
      readings: readings.map((one) => ({ id: one.id, on: day(one.at), state: one.state, survey_id: one.survey_id, mark: one.mark })),
    })),
    walks: surveys.filter((one) => one.elevation_ids?.includes(elevation.id)).map((one) => ({ id: one.id, on: one.on })),
    // A site has thousands of steps, and of these only the ones of a repair that laid a finish here tell anything.
    steps: steps.filter((one) => laidFor.has(one.ticket_id)).map((one) => ({ id: one.id, ticket_id: one.ticket_id, kind: one.kind, on: day(one.at) })),
    rain: Object.fromEntries(finishes.map((one) => [one.id, rainOn(one, rows)])),
  };
}

/** How deep a finish has worn, look by look: from its score sheets and from readings of erosion on it; of one day the deepest. */
export function depthsOf(finish: Finish, rows: Gathered): DatedDepth[] {
  const found = new Map<string, { mean_mm: number; deepest_mm: number }>();
  const add = (on: string, mean: number | null, deepest: number | null) => {
    const [low, high] = [mean ?? deepest, deepest ?? mean];
    const before = found.get(on);
    if (low === null || high === null) return;
    found.set(on, { mean_mm: Math.max(low, before?.mean_mm ?? 0), deepest_mm: Math.max(high, low, before?.deepest_mm ?? 0) });
  };
  for (const score of rows.scores) if (score.finish_id === finish.id) add(rows.day(score.at), score.depth_mean_mm, score.depth_max_mm);
  for (const { defect, readings } of rows.defects) {
    for (const one of defect.kind === "erosion" ? readings : []) {
      const on = rows.day(one.at);
      const under = one.state === "repaired" ? null : finishAt(rows.elevation.surface, rows.finishes, one.mark ?? defect.mark, on);
      if (under?.id === finish.id) add(on, one.depth_mean_mm, one.depth_max_mm);
    }
  }
  const rain = rainOn(finish, rows);
  const looks = [...found].sort(([a], [b]) => (a < b ? -1 : 1)).filter(([on]) => finish.made_on === null || on > finish.made_on);
  // As laid nothing is worn: that is the first of the two looks a rate needs.
  const all: [string, { mean_mm: number; deepest_mm: number }][] = finish.made_on ? [[finish.made_on, { mean_mm: 0, deepest_mm: 0 }], ...looks] : looks;
  return looks.length ? all.map(([on, depth], i) => ({ on, ...depth, l_m2: i === 0 ? null : rainBetween(rain, all[i - 1]?.[0] ?? on, on) })) : [];
}

export type Entry = { finish: Finish; followed: Followed };
