/** Coats: which ones a job gets, how thick they are, and what is wrong with a stack of them. Twin of science/coat.py. */
import type { Method, Mix } from "../catalogue";
import type { Job, Warning } from "./job";
import type { Coat } from "../types";

export const isEarth = (job: Job): boolean => job.finish_kind === "earth" || job.finish_kind === "none";

/** The coats a job gets: its own, else those for its finish. */
export function coatsFor(job: Job, method: Method): Coat[] {
  if (job.coats) return job.coats;
  return method.earth_coats && isEarth(job) ? method.earth_coats : method.coats;
}

/** What fills a crack, a hole, a bed or a cap on a finish like this. */
export const fillMixFor = (job: Job, method: Method): string | null => (isEarth(job) ? method.earth_fill_mix : null) ?? method.fill_mix;

/** Thickness of a stack of coats; washes add nothing that fills a hole. */
export function thicknessTotalMm(coats: readonly Coat[], mixes: Record<string, Mix>): number {
  return coats.reduce((sum, coat) => sum + (mixes[coat.mix]?.coverage_m2_per_l ? 0 : coat.thickness_mm), 0);
}

/** What breaks the rules of coats: none richer or thicker than the one below, a stipple excepted, coats of one kind compared. */
export function stackWarnings(coats: readonly Coat[], mixes: Record<string, Mix>, below: string | null): Warning[] {
  const found: Warning[] = [];
  let under = below === null ? undefined : mixes[below];
  let under_mm: number | null = null;
  for (const coat of coats) {
    const mix = mixes[coat.mix];
    if (!mix) continue;
    if (mix.coat_mm && coat.thickness_mm > mix.coat_mm.high) found.push("too_thick");
    if (mix.kind === "wash" || mix.stipple) continue;
    if (under && under.kind === mix.kind) {
      if (mix.rich > under.rich) found.push("richer_than_below");
      if (under_mm !== null && coat.thickness_mm > under_mm) found.push("thicker_than_below");
    }
    under = mix;
    under_mm = coat.thickness_mm;
  }
  return found;
}
