/** What a storm drove onto a side, as the sums of what lasted take it: an upright wall facing as the drawn middle line does. */
import { toldDose, upright } from "../../model/storm/told";
import type { Elevation, Storm } from "../../model/types";

/** Likely L/m2; null where rain or wind of the storm, or of one of its hours, is not recorded. */
export function faceDose(elevation: Elevation, storm: Storm): number | null {
  const found = toldDose(storm, upright(elevation.bearing_deg));
  return found && found.missing_h === 0 ? found.likely : null;
}
