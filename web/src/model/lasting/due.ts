/** Which sample panels want a look today, and which mixes have been tried enough on a structure. */
import type { LastingRules } from "../catalogue";
import type { Finish, Id, Storm } from "../types";
import { type Followed, daysBetween } from "./follow";

export type Panel = { finish: Finish; followed: Followed; structure: Id | null };
export type Due = Panel & { why: "after_storm" | "weekly"; storm: Storm | null; since: string | null };

const lastLook = (followed: Followed): string | null => followed.sightings.at(-1)?.on ?? null;

/** Standing panels that have not let go. */
export const standing = (panels: readonly Panel[]): Panel[] =>
  panels.filter(({ finish, followed }) => finish.sample_panel === true && finish.ended_on === null && followed.verdict !== "let_go");

/** After a storm each panel is due once; while it is young, each week. */
export function duePanels(panels: readonly Panel[], storms: readonly Storm[], today: string, rules: LastingRules["panels"]): Due[] {
  const past = storms.filter((one) => one.began_on <= today && daysBetween(one.began_on, today) <= rules.after_storm_days);
  const latest = [...past].sort((a, b) => (a.began_on < b.began_on ? -1 : 1)).at(-1) ?? null;
  return standing(panels).flatMap((one): Due[] => {
    const made = one.finish.made_on;
    if (made === null || made > today) return [];
    const since = lastLook(one.followed) ?? made;
    // A look on the day of the storm may have been before it: that one does not count.
    if (latest && latest.began_on >= made && since <= latest.began_on) return [{ ...one, why: "after_storm", storm: latest, since }];
    const young = daysBetween(made, today) <= rules.young_days && daysBetween(since, today) >= rules.young_every_days;
    return young ? [{ ...one, why: "weekly", storm: null, since }] : [];
  });
}

/** Mixes of which enough panels on this structure were looked at and held: only these count as tried on its walls. */
export function triedMixes(panels: readonly Panel[], structure: Id | null, needed: number): string[] {
  const counts = new Map<string, number>();
  for (const one of panels) {
    const counts_as_tried = one.finish.sample_panel && one.structure === structure && (one.followed.verdict === "held" || one.followed.verdict === "worn");
    for (const mix of counts_as_tried ? new Set(one.finish.coats.map((coat) => coat.mix)) : []) counts.set(mix, (counts.get(mix) ?? 0) + 1);
  }
  return [...counts].filter(([, n]) => n >= needed).map(([mix]) => mix).sort();
}
