/** How fast a finish wears and how many storms like the last are left, in sentences. */
import type { Gathered } from "../../model/lasting/gather";
import { rainOn } from "../../model/lasting/gather";
import type { Finish } from "../../model/types";
import type { Erosion } from "../../model/lasting/wear";
import { t } from "../../words";
import { isUs, showMm, showNumber } from "../../words/measures";
import { MM_PER_IN, showDose } from "../../parts/lasting/lastedWords";

/** What the last storm drove onto a finish; null where no storm reached it or it is not known. */
export function lastStormOn(finish: Finish, rows: Gathered): number | null {
  const last = rainOn(finish, rows).filter((one) => one.l_m2 === null || one.l_m2 > 0).at(-1);
  return last?.l_m2 ?? null;
}

export function wearWords({ deepest, breached, warnings }: Erosion): string[] {
  if (breached) return [t("wear_through")];
  const left = t("wear_left", { left: showMm(deepest.left_mm) });
  if (warnings.includes("depth_fell")) return [left, t("wear_fell")];
  if (warnings.includes("one_depth_only")) return [left, t("wear_one_look")];
  if (warnings.includes("no_wear_seen")) return [left, t("wear_none")];
  const rate = deepest.mm_per_l_m2;
  const round_l_m2 = isUs() ? 4 * MM_PER_IN : 100;
  const said = [left];
  if (rate) said.push(t("wear_rate", { rate: showMm(rate.likely * round_l_m2), dose: showDose(round_l_m2) }));
  if (deepest.doses) said.push(t("wear_storms", { n: Math.max(1, Math.round(deepest.doses.likely)), low: showNumber(Math.floor(deepest.doses.low), 0) }));
  else if (deepest.years) said.push(t("wear_years", { n: Math.max(1, Math.round(deepest.years.likely)) }));
  return said;
}
