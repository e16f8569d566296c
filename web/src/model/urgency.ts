/** How pressing a defect is, and why: the table of shared/urgency.json held against what was seen. Twin of domain/urgency.py. */

import type { Urgency } from "./types";

/** From the most pressing to the least, as the order of the table. */
export const URGENCIES: readonly Urgency[] = ["make_safe_now", "before_next_rain", "this_season", "keep_watch"];

/** What is known of one defect; null where nobody has said. cover_mm: thickness of all coats; finish_kind: lime, earth or none, as repair methods read it. */
export type Facts = {
  kind: string | null; signs: readonly string[]; depth_max_mm: number | null; cover_mm: number | null; area_m2: number | null;
  crack_width_mm: number | null; wall_material: string | null; finish_kind: string | null;
};
/** The conditions of a rule; all that are given must hold. */
export type When = {
  kinds?: string[]; wall_materials?: string[]; signs?: string[]; all_signs?: string[];
  beyond_cover?: boolean; depth_over_mm?: number; area_over_m2?: number; crack_over_mm?: number;
};
export type UrgencyRule = {
  id: string; when: When; gives: Urgency; engineer_first?: boolean; words: { en: string; es: string }; source: string; basis: string;
};
/** order runs from the most pressing to the least. */
export type UrgencyTable = { order: Urgency[]; default: Omit<UrgencyRule, "when" | "engineer_first">; rules: UrgencyRule[] };
export type Judgement = { urgency: Urgency; reasons: string[]; engineer_first: boolean };

/** Whether the deepest place reaches the wall behind the coats; unknown counts as no. */
export function goesBeyondCover(facts: Facts): boolean {
  return facts.depth_max_mm !== null && facts.cover_mm !== null && facts.depth_max_mm >= facts.cover_mm;
}

function over(value: number | null, limit: number | undefined): boolean {
  return limit === undefined || (value !== null && value > limit);
}

function oneOf(value: string | null, allowed: string[] | undefined): boolean {
  return allowed === undefined || (value !== null && allowed.includes(value));
}

function signsFit(when: When, signs: readonly string[]): boolean {
  return (when.signs?.some((s) => signs.includes(s)) ?? true) && (when.all_signs?.every((s) => signs.includes(s)) ?? true);
}

/** Whether every condition given holds for these facts. */
export function speaks(when: When, facts: Facts): boolean {
  return oneOf(facts.kind, when.kinds)
    && oneOf(facts.wall_material, when.wall_materials)
    && signsFit(when, facts.signs)
    && (when.beyond_cover === undefined || goesBeyondCover(facts) === when.beyond_cover)
    && over(facts.depth_max_mm, when.depth_over_mm)
    && over(facts.area_m2, when.area_over_m2)
    && over(facts.crack_width_mm, when.crack_over_mm);
}

/** The most pressing urgency any rule gives, with its reasons in the order of the table. */
export function judge(facts: Facts, rules: UrgencyTable): Judgement {
  const speaking = rules.rules.filter((rule) => speaks(rule.when, facts));
  if (speaking.length === 0) return { urgency: rules.default.gives, reasons: [rules.default.id], engineer_first: false };
  const urgency = rules.order.find((u) => speaking.some((rule) => rule.gives === u)) ?? rules.default.gives;
  const reasons = speaking.filter((rule) => rule.gives === urgency || rule.engineer_first === true).map((rule) => rule.id);
  return { urgency, reasons, engineer_first: speaking.some((rule) => rule.engineer_first === true) };
}
