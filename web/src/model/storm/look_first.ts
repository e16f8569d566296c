/** Where to look first after a storm: each side's points, with the reasons they were given for; rules in shared/look_first.json. */
import type { LookFirstRules, LookReason } from "../catalogue";
import type { Id, OpeningKind, TicketState, Urgency } from "../types";

/** What is known of one side. `dose_l_m2` null: not to be reckoned; `bare`: no finish is kept for it. */
export type Side = {
  id: Id; name: string; dose_l_m2: number | null; bare: boolean; openings: readonly OpeningKind[];
  defects: readonly { kind: string | null; urgency: Urgency | null }[]; tickets: readonly TicketState[];
};
export type Reason = { id: LookReason; n: number; points: number };
export type Ranked = { id: Id; points: number; dose_points: number; dose_l_m2: number | null; reasons: Reason[] };

const PRESSING: readonly (Urgency | null)[] = ["make_safe_now", "before_next_rain"];

function countsOf(side: Side, bareKinds: readonly string[]): Record<LookReason, number> {
  const pressing = side.defects.filter((one) => PRESSING.includes(one.urgency)).length;
  const laidBare = side.defects.some((one) => one.kind !== null && bareKinds.includes(one.kind));
  return {
    urgent: pressing,
    weak: side.defects.length - pressing,
    // Taken and not done, or done and not checked: an open ticket has changed nothing on the wall yet.
    unfinished: side.tickets.filter((state) => state === "taken" || state === "done").length,
    bare: side.bare || laidBare ? 1 : 0,
    gutter: side.openings.filter((kind) => kind === "gutter").length,
    ledge: side.openings.filter((kind) => kind === "ledge").length,
  };
}

/** All sides, the one to look at first at the head; equal ones by dose, then by name. */
export function lookFirst(sides: readonly Side[], rules: LookFirstRules): Ranked[] {
  const most = Math.max(0, ...sides.map((side) => side.dose_l_m2 ?? 0));
  const ranked = sides.map((side) => {
    const counts = countsOf(side, rules.bare_kinds);
    const reasons = (Object.keys(rules.reasons) as LookReason[]).flatMap((id): Reason[] => {
      const { points, at_most } = rules.reasons[id];
      return counts[id] > 0 ? [{ id, n: counts[id], points: Math.min(at_most, counts[id] * points) }] : [];
    });
    const dose_points = most > 0 ? (rules.dose.points * (side.dose_l_m2 ?? 0)) / most : 0;
    const points = dose_points + reasons.reduce((sum, one) => sum + one.points, 0);
    return { name: side.name, ranked: { id: side.id, points, dose_points, dose_l_m2: side.dose_l_m2, reasons: reasons.sort((a, b) => b.points - a.points) } };
  });
  ranked.sort((a, b) => b.ranked.points - a.ranked.points || b.ranked.dose_points - a.ranked.dose_points || a.name.localeCompare(b.name));
  return ranked.map((one) => one.ranked);
}
