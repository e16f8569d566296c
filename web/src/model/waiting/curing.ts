/**
 * Coats to dated steps: when to lay each, how long to keep it damp, how long frost must stay away, when to look again.
 * Twin of science/curing.py, held to it by shared/vectors/curing.json. Usual cautions only: the maker's sheet and local practice stand above these dates.
 */
import type { Mix } from "../catalogue";
import { stackWarnings } from "../materials/coats";
import { Refusal } from "../refusal";
import type { Part } from "../repair/repair";
import type { Range } from "../types";
import { type Laid, laidCoats } from "./laid";

/** Look again after a week and a month, and after the next storm, which has no date (practice, no source). */
export const CHECK_AFTER_DAYS: readonly number[] = [7, 30];
const MOST_DAYS = 730;
const DAY_MS = 86_400_000;
const LAST_DAY = Date.UTC(9999, 11, 31) / DAY_MS;

export type MixOfCoat = Pick<Mix, "kind" | "rich" | "stipple" | "coverage_m2_per_l" | "coat_mm">;
export type CuringCoat = { thickness_mm: number; mix: MixOfCoat; damp_days: Range; interval_days: Range; frost_free_days: Range };
export type StepOfCuring = "lay" | "damp_until" | "frost_free_until" | "check";
/** Dates as 2026-04-01. `coat` counts from 0, the innermost; null for steps of the whole stack. */
export type DatedStep = { kind: StepOfCuring; coat: number | null; earliest: string; likely: string; latest: string };
export type CuringPlan = { steps: DatedStep[]; warnings: string[] };

/** Days since 1970 of the earliest, likely and latest case. */
type Days = readonly [earliest: number, likely: number, latest: number];

/** Part days are waited out. */
export const wholeDays = (days: Range): Range => ({ low: Math.ceil(days.low), likely: Math.ceil(days.likely), high: Math.ceil(days.high) });

/** Whole days from one coat to the next: the interval, or the damp curing where that is longer. */
export function daysToNext({ damp_days, interval_days }: Pick<CuringCoat, "damp_days" | "interval_days">): Range {
  const [damp, interval] = [wholeDays(damp_days), wholeDays(interval_days)];
  return { low: Math.max(damp.low, interval.low), likely: Math.max(damp.likely, interval.likely), high: Math.max(damp.high, interval.high) };
}

/** The dated steps of a stack of coats, innermost first. Throws a Refusal: no_coats, days_refused, date_refused. */
export function curingPlan(start: string, coats: readonly CuringCoat[], check_after_days: readonly number[] = CHECK_AFTER_DAYS): CuringPlan {
  check(coats);
  return { steps: stepsFrom(dayNumber(start), coats, check_after_days), warnings: warningsOf(coats) };
}

function stepsFrom(start: number, coats: readonly CuringCoat[], check_after_days: readonly number[]): DatedStep[] {
  let laid: Days = [start, start, start];
  let lastLaid = laid;
  let frostFree = laid;
  const steps: [StepOfCuring, number | null, Days][] = [];
  coats.forEach((coat, place) => {
    const dampUntil = after(laid, coat.damp_days);
    steps.push(["lay", place, laid], ["damp_until", place, dampUntil]);
    frostFree = later(frostFree, after(laid, coat.frost_free_days));
    [lastLaid, laid] = [laid, after(laid, daysToNext(coat))];
  });
  steps.push(["frost_free_until", null, frostFree]);
  for (const days of check_after_days) steps.push(["check", null, after(lastLaid, { low: days, likely: days, high: days })]);
  steps.sort((one, other) => one[2][1] - other[2][1]);
  return steps.map(([kind, coat, [earliest, likely, latest]]) => ({ kind, coat, earliest: dateOfDay(earliest), likely: dateOfDay(likely), latest: dateOfDay(latest) }));
}

const after = (on: Days, days: Range): Days => [on[0] + Math.ceil(days.low), on[1] + Math.ceil(days.likely), on[2] + Math.ceil(days.high)];
const later = (one: Days, other: Days): Days => [Math.max(one[0], other[0]), Math.max(one[1], other[1]), Math.max(one[2], other[2])];

/** Days since 1970 of a date. Throws a Refusal: date_refused. */
export function dayNumber(date: string): number {
  const days = /^\d{4}-\d\d-\d\d$/.test(date) ? Date.parse(`${date}T00:00:00Z`) / DAY_MS : NaN;
  // Date.parse lets the 31st of a shorter month run over into the next.
  if (!Number.isInteger(days) || dateOfDay(days) !== date) throw new Refusal("date_refused", { start: date });
  return days;
}

/** The date that many days after 1970. Throws a Refusal: date_refused. */
export function dateOfDay(days: number): string {
  if (!(Math.abs(days) <= LAST_DAY)) throw new Refusal("date_refused", { start: String(days) });
  return new Date(days * DAY_MS).toISOString().slice(0, 10);
}

function warningsOf(coats: readonly CuringCoat[]): string[] {
  const mixes = Object.fromEntries(coats.map((coat, place) => [String(place), coat.mix as Mix]));
  const stack = coats.map((coat, place) => ({ mix: String(place), thickness_mm: coat.thickness_mm }));
  return [...new Set<string>(stackWarnings(stack, mixes, null))].sort();
}

function check(coats: readonly CuringCoat[]): void {
  if (coats.length === 0) throw new Refusal("no_coats", { coats: "empty" });
  for (const { low, likely, high } of coats.flatMap((coat) => [coat.damp_days, coat.interval_days, coat.frost_free_days])) {
    if (!(0 <= low && low <= likely && likely <= high && high <= MOST_DAYS)) throw new Refusal("days_refused", { coats: "days" });
  }
}

/** What is laid, with its mix as the plan takes it; `place` says which coat or lift it is. */
export type LaidCoat = CuringCoat & { place: Laid };

/** What is laid, as the plan takes it; coats of a mix that is not known are left out. */
export function curingCoats(laid: readonly Laid[], mixes: Record<string, Mix>): LaidCoat[] {
  return laid.flatMap((place): LaidCoat[] => {
    const mix = mixes[place.mix];
    const { damp_days, interval_days, frost_free_days } = place;
    return mix ? [{ place, mix, thickness_mm: place.thickness_mm ?? 0, damp_days, interval_days, frost_free_days }] : [];
  });
}

/** Of the defects of a ticket, what is laid on the one that is through last: the others wait along with it. Empty if none has a coat. */
export const coatsOfParts = (parts: readonly Part[], mixes: Record<string, Mix>): LaidCoat[] =>
  slowest(parts.map((part) => curingCoats(laidCoats(part.estimate.layers, mixes, part.method.cure), mixes)));

/** Of several stacks the one that is through last. */
export function slowest(stacks: readonly LaidCoat[][]): LaidCoat[] {
  const end = (coats: readonly LaidCoat[]) => (coats.length === 0 ? -1 : Math.max(...curingPlan("2000-01-01", coats, []).steps.map((step) => dayNumber(step.likely))));
  return stacks.reduce<LaidCoat[]>((longest, one) => (end(one) > end(longest) ? one : longest), []);
}

/** Days from the first work for which frost must stay away, by the plan. */
export function frostFreeFromStart(coats: readonly CuringCoat[]): Range {
  const start = "2000-01-01";
  const step = coats.length > 0 ? curingPlan(start, coats, []).steps.find((one) => one.kind === "frost_free_until") : undefined;
  const after = (on: string) => dayNumber(on) - dayNumber(start);
  return step ? { low: after(step.earliest), likely: after(step.likely), high: after(step.latest) } : { low: 0, likely: 0, high: 0 };
}

/** How long the work of these coats must stay free of frost at most, likely figure. */
export const frostFreeDays = (coats: readonly LaidCoat[]): number => Math.max(0, ...coats.map((coat) => coat.frost_free_days.likely));
