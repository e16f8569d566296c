/**
 * What this site's own work says of loss and thickness: amounts really used beside those planned. Own derivation:
 * used / planned = (laid / planned thickness) x (1 + own loss) / (1 + planned loss), over all jobs together.
 */
export type Job = {
  /** Dry materials by mass, over those of which both were told. */
  used_kg: number;
  planned_kg: number;
  /** As in 0.1 for a tenth. */
  planned_loss: number;
  /** Thickness of all coats together; null where nobody measured it. */
  laid_mm: number | null;
  planned_mm: number | null;
};
export type OwnFigures = { jobs: number; used_over_planned: number; loss: number; thickness_factor: number | null };

/** Fewer jobs than this say more about themselves than about the site (assumed). */
export const LEAST_JOBS = 3;
const LOSS = [0, 0.6] as const;
const THICKNESS = [0.5, 2] as const;

const clamp = (value: number, [low, high]: readonly [number, number]): number => Math.min(high, Math.max(low, value));
const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0);

function thicknessOf(jobs: readonly Job[]): number | null {
  const measured = jobs.filter((one) => one.laid_mm !== null && one.planned_mm !== null && one.planned_mm > 0 && one.laid_mm > 0);
  if (measured.length < LEAST_JOBS) return null;
  return clamp(sum(measured.map((one) => one.laid_mm ?? 0)) / sum(measured.map((one) => one.planned_mm ?? 0)), THICKNESS);
}

/** The site's own figures; null while too few jobs were weighed. */
export function ownFigures(all: readonly Job[]): OwnFigures | null {
  const jobs = all.filter((one) => one.planned_kg > 0 && one.used_kg > 0);
  if (jobs.length < LEAST_JOBS) return null;
  const used_over_planned = sum(jobs.map((one) => one.used_kg)) / sum(jobs.map((one) => one.planned_kg));
  const planned_loss = sum(jobs.map((one) => one.planned_loss * one.planned_kg)) / sum(jobs.map((one) => one.planned_kg));
  const thickness_factor = thicknessOf(jobs);
  const loss = (used_over_planned * (1 + planned_loss)) / (thickness_factor ?? 1) - 1;
  return { jobs: jobs.length, used_over_planned, loss: clamp(loss, LOSS), thickness_factor };
}
