/** Sizes in words. */
import type { Size } from "../../model/defect";
import type { Measures } from "../../model/marking/marking";
import { t } from "../../words";
import { isUs, showArea, showMetres, showMm, showNumber, typedFromMm } from "../../words/measures";

/** Below this share of difference, "on the curve" and "as drawn" are the same to a person. */
const SAME_SHARE = 0.005;

/** "0.62 m² on the curve, 0.55 m² as drawn", or the length of a line; null where nothing is known. */
export function areaWords(size: Size): string | null {
  const { area_m2, as_drawn_m2, length_m } = size;
  if (area_m2 !== null) {
    const area = showArea(area_m2);
    if (as_drawn_m2 === null) return area;
    if (Math.abs(area_m2 - as_drawn_m2) <= area_m2 * SAME_SHARE) return t("size_drawn", { area });
    return t("size_curve", { area, drawn: showArea(as_drawn_m2) });
  }
  return length_m === null ? null : t("size_long", { length: showMetres(length_m) });
}

export const steepWords = (size: Size | null): string | null => (size?.warnings.includes("steep_view") ? t("size_steep") : null);

/** A crack's width: inches need a third decimal, or a hairline would be nothing. */
export const crackWords = (width_mm: number): string => (isUs() ? t("size_inches", { n: showNumber(typedFromMm(width_mm) ?? 0, 3) }) : showMm(width_mm));

/** One measure as a person reads it. */
export function measureWords(measure: keyof Measures, value: number): string {
  if (measure === "area_m2") return showArea(value);
  if (measure === "length_m") return t("size_long", { length: showMetres(value) });
  if (measure === "depth_max_mm") return t("size_deep", { depth: showMm(value) });
  if (measure === "depth_mean_mm") return t("size_deep_mean", { depth: showMm(value) });
  if (measure === "crack_width_mm") return t("size_wide", { width: crackWords(value) });
  return t("size_count", { n: showNumber(value, 0) });
}
