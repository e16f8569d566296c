/** Which repair method to suggest: a table read from the top, the first line that fits wins. Twin of domain/method.py. */
import type { FinishKind, SuggestNeeds, SuggestRule } from "./catalogue";

/** What is known of a defect; null is unknown, and an unknown never meets a need. */
export type SuggestFacts = {
  kind: string | null;
  signs?: readonly string[] | null;
  depth_max_mm?: number | null;
  cover_mm?: number | null;
  area_m2?: number | null;
  crack_width_mm?: number | null;
  wall_material?: string | null;
  finish_kind?: FinishKind | null;
};

const over = (value: number | null | undefined, limit: number | undefined): boolean => value != null && limit !== undefined && value > limit;

const TESTS: { [K in keyof Required<SuggestNeeds>]: (facts: SuggestFacts, need: Required<SuggestNeeds>[K]) => boolean } = {
  sign: (facts, sign) => facts.signs?.includes(sign) ?? false,
  depth_over_mm: (facts, limit) => over(facts.depth_max_mm, limit),
  depth_upto_mm: (facts, limit) => facts.depth_max_mm != null && facts.depth_max_mm <= limit,
  crack_over_mm: (facts, limit) => over(facts.crack_width_mm, limit),
  area_over_m2: (facts, limit) => over(facts.area_m2, limit),
  beyond_cover: (facts, wanted) =>
    facts.depth_max_mm != null && facts.cover_mm != null && facts.depth_max_mm >= facts.cover_mm === wanted,
  finish_kind: (facts, kind) => facts.finish_kind === kind,
  wall_material: (facts, walls) => facts.wall_material != null && walls.includes(facts.wall_material),
};

function meets<K extends keyof SuggestNeeds>(facts: SuggestFacts, needs: SuggestNeeds, need: K): boolean {
  return TESTS[need](facts, needs[need] as Required<SuggestNeeds>[K]);
}

/** The id of the method the table suggests; null only while no catalogue has come. */
export function suggest(facts: SuggestFacts, rules: readonly SuggestRule[]): string | null {
  const fits = rules.find(
    (rule) =>
      (rule.kinds.includes("*") || (facts.kind !== null && rule.kinds.includes(facts.kind))) &&
      (Object.keys(rule.needs) as (keyof SuggestNeeds)[]).every((need) => meets(facts, rule.needs, need)),
  );
  return fits?.method ?? null;
}
