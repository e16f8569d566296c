/** What is saved where, in words. It leads to the page that says more. */
import { syncState } from "../../store";
import { openClashes } from "../clashes";
import { t } from "../../words";
import { showTime } from "../../words/measures";
import { Link } from "./Link";

/** The truthful short sentence for the present state: never "sent" while anything waits. */
export function syncWords(): string {
  const s = syncState.value;
  const needsYou = s.parked + openClashes().length;
  if (needsYou > 0) return t("sync_parked", { n: needsYou });
  const waiting = s.waiting + s.photosWaiting;
  if (waiting > 0) return t("sync_waiting", { n: waiting });
  if (s.lastSentAt) return t("sync_sent", { time: showTime(s.lastSentAt) });
  return t("sync_saved_here");
}

export function SyncBadge() {
  const s = syncState.value;
  const tone = s.parked + openClashes().length > 0 ? "badge badge-warn" : s.waiting + s.photosWaiting > 0 ? "badge badge-wait" : "badge";
  return <Link to="/phone" class={tone}>{syncWords()}</Link>;
}
