/** What the plan of a work day takes and gives. Twin of science/planning/shapes.py; hours count from the start of the day's work. */
import type { Layer } from "../materials/job";
import type { Id, Range, Urgency } from "../types";

/** Waiting times of one coat, in days. */
export type Waits = { damp_days: Range; interval_days: Range; frost_free_days: Range };
export type Portion = { mix: string; litres: number };
/** Which coat or lift a visit lays: true coats numbered from 1, null for a filling. */
export type Place = { part: Layer["part"]; n: number | null; lift: number; lifts: number };
/** `lay`: a coat, in one day; hours of work, all people together; the skill it asks for. */
export type Visit = { kind: "prepare" | "lay" | "work"; skill: string; hours: Range; portions: Portion[]; coat: Waits | null; place?: Place };
/** One ticket as the plan sees it; `left_out` is a reason known before. */
export type Job = {
  id: Id; urgency: Urgency; turn: number; wall: string; place: string; left_out: string | null;
  wall_dry: boolean | null; wet_on: string | null; covered: boolean; visits: Visit[];
};
export type Crew = { person: string; hours: number; skills: string[] };
export type Forecast = { on: string; low_c: number | null; high_c: number | null; rain_mm: number | null };
export type MixWays = { container_l: number; working_h: number };
export type Ask = {
  start: string; days: number; jobs: Job[]; crew: Crew[]; forecast: Forecast[]; mixes: Record<string, MixWays>; covers: Record<string, string[]>;
};
/** `worker` and `visit` count from 0. */
export type Block = { worker: number; job: Id; visit: number; from_h: number; to_h: number };
export type Batch = { mix: string; place: string; at_h: number; until_h: number; litres: number; jobs: Id[] };
export type JobReason = { job: Id; code: string };
export type PlannedDay = { on: string; blocks: Block[]; batches: Batch[]; waits: JobReason[]; cautions: JobReason[] };
export type Plan = { days: PlannedDay[]; left_out: JobReason[]; goes_on: Id[] };
