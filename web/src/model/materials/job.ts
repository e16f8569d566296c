/** What the estimate takes and gives. Twin of science/shapes.py. */
import type { FinishKind, Unit } from "../catalogue";
import type { Coat, Range } from "../types";

/** What is known of one repair; absent or null is unknown. */
export type Job = {
  area_m2?: number | null;
  /** Of the outline; unknown: of the circle of that area, which is the least it can be. */
  perimeter_m?: number | null;
  length_m?: number | null;
  count?: number | null;
  depth_mean_mm?: number | null;
  depth_max_mm?: number | null;
  crack_width_mm?: number | null;
  /** Thickness of the coats that were there. */
  cover_mm?: number | null;
  wall_material?: string | null;
  finish_kind?: FinishKind | null;
  /** Instead of the method's own. */
  coats?: Coat[] | null;
  margin_mm?: number | null;
  loss?: number | null;
  /** Mixes with a sample panel on this wall. */
  panel_mixes?: string[] | null;
  /** The largest vessel to mix in, litres; and what one person lays in an hour. */
  container_l?: number | null;
  laying_l_per_h?: number | null;
};

export type Layer = {
  mix: string;
  part: "dub_out" | "fill" | "coat";
  thickness_mm: number | null;
  lifts: number;
  wet_l: Range;
};
export type BatchPlan = { count: number; each_l: number; limited_by: "container" | "time" };
export type MixNeed = { mix: string; wet_l: Range; batches: BatchPlan };
export type MaterialNeed = {
  unit: Unit;
  /** In `unit`. */
  amount: Range;
  /** Loose and dry; null for what is not measured by volume. */
  l: Range | null;
  /** The same sand as it fills a bucket when damp. */
  damp_l: Range | null;
};
export type Warning =
  | "no_area" | "no_length" | "no_count" | "no_crack_width" | "perimeter_assumed" | "depth_unknown" | "thin_over_cover" | "proud_of_face"
  | "richer_than_below" | "thicker_than_below" | "too_thick" | "stronger_than_wall" | "untested_on_this_wall"
  | "cement_over_earth" | "lean" | "odd_hair" | "much_oil";
export type Estimate = {
  area_m2: number;
  margin_mm: number;
  /** The band that is cut back round the damage. */
  margin_area_m2: number;
  coated_area_m2: number;
  loss: Range;
  /** Innermost first. */
  layers: Layer[];
  mixes: MixNeed[];
  materials: Record<string, MaterialNeed>;
  hazards: string[];
  warnings: Warning[];
  engineer_first: boolean;
};
