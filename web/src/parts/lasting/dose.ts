/** What a storm drove onto a face, as the sums of what lasted take it: by the wind as measured, whatever the height. */
import type { Face } from "../../model/storm/driving_rain";
import { toldDose } from "../../model/storm/told";
import type { Storm } from "../../model/types";

/** Likely L/m2; null where rain or wind of the storm, or of one of its hours, is not recorded. */
export function faceDose(face: Face, storm: Storm): number | null {
  const found = toldDose(storm, face);
  return found && found.missing_h === 0 ? found.likely : null;
}
