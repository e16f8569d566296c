/** The order in which a plan comes to its tickets: the most pressing first, wall by wall, on one wall the same work together. */
import type { Ticket } from "../types";
import { URGENCIES } from "../urgency";
import type { Job } from "./shapes";

/** More than any site has tickets: those without a number come after all that have one. */
const AFTER_ALL = 1e9;
/** Milliseconds since 1970, over this, stay far below AFTER_ALL and still tell two taps apart. */
const TIME_PARTS = 1e6;

/** A ticket's place on its wall: by method in the order of the catalogue, then by number, those without one by the time they were made. */
export function turnOf({ method, number, made_at }: Pick<Ticket, "method" | "number" | "made_at">, methods: readonly string[]): number {
  const within = number ?? AFTER_ALL + Date.parse(made_at) / TIME_PARTS;
  return methods.indexOf(method ?? "") * 2 * AFTER_ALL + within;
}

const before = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
const rank = (job: Job): number => URGENCIES.indexOf(job.urgency);

/** By urgency, then wall, then turn. */
export const byTurn = (a: Job, b: Job): number => rank(a) - rank(b) || before(a.wall, b.wall) || a.turn - b.turn || before(a.id, b.id);
