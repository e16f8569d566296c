/** The second look that closes a ticket: what it must have, and what it still lacks. */
import type { CheckAnswer, Step } from "../types";

/** A point of the second look, from the vocabulary: which methods ask for it. */
export type Point = { id: string; methods: readonly string[] };
export type Lack = "own_work" | "photo" | "curing" | "points" | "not_sound";
export type Look = {
  /** Who looks, and who said that the work was done; null where nobody did. */
  by: string;
  done_by: string | null;
  /** A keeper may check their own work, and says so. */
  own_work: boolean;
  may_own_work: boolean;
  photos: number;
  /** The day until which the work has to cure, as 2026-04-01; null for work without coats. */
  cured_on: string | null;
  today: string;
  points: readonly string[];
  answers: Readonly<Record<string, CheckAnswer>>;
};

/** The points to look at for a method; without one, those that fit any work. */
export function pointsOf(method: string | null, points: readonly Point[]): string[] {
  const found = points.filter((one) => method !== null && one.methods.includes(method));
  return (found.length > 0 ? found : points.filter((one) => one.methods.includes("keep_watch"))).map((one) => one.id);
}

/** The last step that said "done", in the order the steps are kept. */
export function lastDone(steps: readonly Step[]): Step | null {
  return [...steps].reverse().find((one) => one.kind === "done") ?? null;
}

export const isOwnWork = (look: Pick<Look, "by" | "done_by">): boolean => look.done_by !== null && look.done_by === look.by;

function lackOfPoints({ points, answers }: Look): Lack[] {
  if (points.some((one) => answers[one] === "not_ok")) return ["not_sound"];
  return points.every((one) => answers[one] === "ok") ? [] : ["points"];
}

/** What keeps this look from closing the ticket; empty when nothing does. */
export function lacks(look: Look): Lack[] {
  const own = isOwnWork(look) && !(look.may_own_work && look.own_work);
  return [
    ...(own ? (["own_work"] as const) : []),
    ...(look.cured_on !== null && look.today < look.cured_on ? (["curing"] as const) : []),
    ...(look.photos === 0 ? (["photo"] as const) : []),
    ...lackOfPoints(look),
  ];
}

/** What a look after a storm lacks: only its points count, as the ticket was closed before. */
export const lacksAgain = (look: Look): Lack[] => lackOfPoints(look);
