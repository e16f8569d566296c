/** When a closed repair wants another look: after each storm, and a week and a month after it was done. */
import type { Step, Storm } from "../types";
import { CHECK_AFTER_DAYS, dateOfDay, dayNumber } from "../waiting/curing";

const LOOKS: readonly Step["kind"][] = ["checked", "rechecked"];
const dayOfStep = (step: Step): string => step.at.slice(0, 10);

/** The day of the last look that found it sound; null if nobody has looked since it was last opened. */
export function lastLook(steps: readonly Step[]): string | null {
  const last = steps.at(-1);
  return last && LOOKS.includes(last.kind) ? dayOfStep(last) : null;
}

/** The latest storm that came after the last look; null where none did. A storm of the same day counts as looked at. */
export function stormSince<S extends Pick<Storm, "began_on">>(steps: readonly Step[], storms: readonly S[]): S | null {
  const looked = lastLook(steps);
  if (looked === null) return null;
  const later = storms.filter((one) => one.began_on > looked);
  return later.reduce<S | null>((latest, one) => (latest === null || one.began_on > latest.began_on ? one : latest), null);
}

/** The next look by the calendar; null when the last of them was made. */
export function nextLook(steps: readonly Step[]): string | null {
  const looked = lastLook(steps);
  const done = [...steps].reverse().find((one) => one.kind === "done");
  if (looked === null || !done) return null;
  const days = CHECK_AFTER_DAYS.map((after) => dateOfDay(dayNumber(dayOfStep(done)) + after));
  return days.find((day) => day > looked) ?? null;
}

export type Due = { why: "storm"; storm: Pick<Storm, "id" | "name" | "began_on"> } | { why: "date"; on: string };

/** Whether a closed repair is to be looked at again by today, and why. */
export function recheckDue(steps: readonly Step[], storms: readonly Storm[], today: string): Due | null {
  const storm = stormSince(steps, storms);
  if (storm) return { why: "storm", storm };
  const on = nextLook(steps);
  return on !== null && on <= today ? { why: "date", on } : null;
}
