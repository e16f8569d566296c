/** What one assumption moves: the amount to mix, and its weight without water, when it is taken at its low and at its high end, everything else as likely. */
import type { Method } from "../catalogue";
import { type Job, estimate } from "../estimate";
import { AREA_GROWTH_SHARE } from "../growth";
import { exactly, total } from "../materials/range";
import type { Range } from "../types";
import type { Book, Repair } from "./repair";

export type Move = { what: "thickness" | "loss" | "size"; from: Range; low_l: number; high_l: number; low_kg: number; high_kg: number };
type Amount = { litres: number; kg: number };

/** A loss set by hand is no better known than this either way: assumed. */
const LOSS_OFF = 0.05;

function amount(jobs: readonly Job[], method: Method, book: Book): Amount {
  const estimates = jobs.map((job) => estimate(job, method, book.mixes, book.materials));
  const dry = estimates.flatMap((one) => Object.values(one.materials)).filter((need) => need.unit === "kg");
  return {
    litres: total(estimates.flatMap((one) => one.mixes.map((need) => need.wet_l))).likely,
    kg: total(dry.map((need) => need.amount)).likely,
  };
}

const between = (what: Move["what"], from: Range, low: Amount, high: Amount): Move =>
  ({ what, from, low_l: low.litres, high_l: high.litres, low_kg: low.kg, high_kg: high.kg });

function sized(job: Job, factor: number): Job {
  const times = (value: number | null | undefined, by: number) => (value == null ? value : value * by);
  return { ...job, area_m2: times(job.area_m2, factor), perimeter_m: times(job.perimeter_m, Math.sqrt(factor)), length_m: times(job.length_m, factor) };
}

/** The moves of a ticket, the strongest first; none where nothing is mixed. */
export function movesOf(repair: Repair, method: Method, book: Book): Move[] {
  const jobs = repair.parts.map((part) => part.job);
  if (repair.with_loss_l.likely === 0) return [];
  const thick = (factor: number) => amount(jobs, { ...method, thickness_factor: exactly(factor) }, book);
  const lost = (loss: number) => amount(jobs.map((job) => ({ ...job, loss })), method, book);
  const size = (factor: number) => amount(jobs.map((job) => sized(job, factor)), method, book);
  const loss = repair.loss.low < repair.loss.high
    ? repair.loss
    : { low: Math.max(0, repair.loss.likely - LOSS_OFF), likely: repair.loss.likely, high: Math.min(1, repair.loss.likely + LOSS_OFF) };
  const factor = method.thickness_factor;
  const off = { low: 1 - AREA_GROWTH_SHARE, likely: 1, high: 1 + AREA_GROWTH_SHARE };
  const moves: Move[] = [
    between("thickness", factor, thick(factor.low), thick(factor.high)),
    between("loss", loss, lost(loss.low), lost(loss.high)),
    between("size", off, size(off.low), size(off.high)),
  ];
  return moves.sort((a, b) => b.high_l - b.low_l - (a.high_l - a.low_l));
}
