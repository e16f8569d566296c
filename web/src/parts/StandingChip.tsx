/** How a defect stands as one framed word: repaired, not judged yet, or how pressing. */
import type { Defect } from "../model/types";
import { Chip, UrgencyChip } from "./frame/Card";
import { type Judged, isClosed, notJudged, standingWord } from "./judged";

export function StandingChip({ defect, found }: { defect: Defect; found: Judged }) {
  return isClosed(defect) || notJudged(defect.kind, found) ? <Chip>{standingWord(defect, found)}</Chip> : <UrgencyChip urgency={found.urgency} />;
}
