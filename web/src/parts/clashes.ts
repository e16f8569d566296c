/** Clashes that no page of their own shows: they are decided on this phone's page. */
import type { Clash } from "../model/types";
import { table } from "../store";

/** Clashes nobody has decided yet, on anything but a defect, whose page shows its own. */
export function openClashes(): Clash[] {
  return [...table("clash").value.values()].filter((one) => one.chosen === null && one.of_type !== "defect");
}
