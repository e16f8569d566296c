/** What the ledger suggests before the next rains, side by side of the walls: reasons in order of how they press. */
import type { Coat, Id, Range } from "../types";
import type { Followed } from "./follow";

/** One finish as the plan sees it. `mended`: all the damage that told of it has been put right. `storms_left`: likely storms like the last until the wall shows. */
export type Standing = {
  finish: { id: Id; name: string; sample_panel: boolean; ended: boolean; coats: readonly Coat[] };
  elevation: Id; structure: Id | null; followed: Followed; mended: boolean; storms_left: number | null; breached: boolean;
};
export type OpenRepair = { ticket: Id; elevations: readonly Id[]; hours: Range | null };
export type Reason =
  | { why: "bare"; defect: Id }
  | { why: "let_go"; finish: Id }
  | { why: "wear"; finish: Id; storms: number }
  | { why: "open"; ticket: Id; hours: Range | null }
  | { why: "worn"; finish: Id }
  | { why: "better"; finish: Id }
  | { why: "untested" };
export type WallPlan = { elevation: Id; reasons: Reason[]; without_ticket: boolean };

const PRESSING: readonly Reason["why"][] = ["bare", "let_go", "wear", "open", "worn", "better", "untested"];
const rank = (reason: Reason): number => PRESSING.indexOf(reason.why);

/** What a finish of the wall itself asks for; sample panels ask for nothing. */
function needOf(one: Standing, shows_storms: number): Reason | null {
  const { finish, followed } = one;
  if (finish.sample_panel || finish.ended) return null;
  if (one.breached || (followed.verdict === "let_go" && !one.mended)) return { why: "let_go", finish: finish.id };
  if (one.storms_left !== null && one.storms_left <= shows_storms) return { why: "wear", finish: finish.id, storms: one.storms_left };
  return followed.verdict === "worn" && !one.mended ? { why: "worn", finish: finish.id } : null;
}

/** The panel on this structure that was seen to stand the most rain; none that stood no rain at all. */
function bestPanel(all: readonly Standing[], structure: Id | null): Standing | null {
  const stood = (one: Standing) => one.followed.l_m2?.left ?? 0;
  const held = all.filter((one) => one.finish.sample_panel && one.structure === structure && one.followed.verdict === "held" && stood(one) > 0);
  return [...held].sort((a, b) => stood(b) - stood(a) || (a.finish.id < b.finish.id ? -1 : 1))[0] ?? null;
}

/** Walls that need something, the most pressing first. `bare`: defects that leave bag or straw open, with their side. */
export function seasonPlan(all: readonly Standing[], repairs: readonly OpenRepair[], bare: readonly { defect: Id; elevation: Id }[], shows_storms: number): WallPlan[] {
  const plans = new Map<Id, Reason[]>();
  const add = (elevation: Id, reason: Reason) => plans.set(elevation, [...(plans.get(elevation) ?? []), reason]);
  for (const one of bare) add(one.elevation, { why: "bare", defect: one.defect });
  for (const one of all) {
    const need = needOf(one, shows_storms);
    if (need) add(one.elevation, need);
  }
  for (const { ticket, elevations, hours } of repairs) for (const [i, id] of elevations.entries()) add(id, { why: "open", ticket, hours: i === 0 ? hours : null });
  return [...plans].map(([elevation, reasons]) => {
    const structure = all.find((one) => one.elevation === elevation)?.structure ?? null;
    const coats = reasons.some((one) => one.why === "let_go" || one.why === "wear");
    const best = coats ? bestPanel(all, structure) : null;
    const hints: Reason[] = coats ? [best ? { why: "better", finish: best.finish.id } : { why: "untested" }] : [];
    const sorted = [...reasons, ...hints].sort((a, b) => rank(a) - rank(b));
    return { elevation, reasons: sorted, without_ticket: coats && !reasons.some((one) => one.why === "open") };
  }).sort((a, b) => Math.min(...a.reasons.map(rank)) - Math.min(...b.reasons.map(rank)) || (a.elevation < b.elevation ? -1 : 1));
}

/** Hours of several repairs together; how many days that is for some people working the same hours. */
export function daysOfWork(hours: readonly (Range | null)[], people: number, day_h: number): { hours: Range; days: number; unknown: number } {
  const known = hours.filter((one) => one !== null);
  const sum = known.reduce((all, one) => ({ low: all.low + one.low, likely: all.likely + one.likely, high: all.high + one.high }), { low: 0, likely: 0, high: 0 });
  return { hours: sum, days: Math.ceil(sum.likely / (people * day_h)), unknown: hours.length - known.length };
}
