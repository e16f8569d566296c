/** What is saved where, in words. It leads to the page that says more. */
import { syncState } from "../../store";
import { openClashes } from "../clashes";
import { t } from "../../words";
import { showTime } from "../../words/measures";
import { Link } from "./Link";

export function SyncBadge() {
  const { parked, waiting, photosWaiting, originalsHeld, lastSentAt } = syncState.value;
  const needsYou = parked + openClashes().length;
  const unsent = waiting + photosWaiting;
  const tone = needsYou > 0 ? "badge badge-warn" : unsent > 0 ? "badge badge-wait" : "badge";
  return <Link to="/phone" class={tone}><span aria-live="polite">{badgeWords({ needsYou, unsent, held: originalsHeld > 0 && waiting === 0, lastSentAt })}</span></Link>;
}

/** The truthful short sentence for the present state: never "sent" while anything waits. */
type Saved = { needsYou: number; unsent: number; held: boolean; lastSentAt: string | null };

function badgeWords({ needsYou, unsent, held, lastSentAt }: Saved): string {
  if (needsYou > 0) return t("sync_parked", { n: needsYou });
  if (held) return t("sync_originals_held");
  if (unsent > 0) return t("sync_waiting", { n: unsent });
  return lastSentAt ? t("sync_sent", { time: showTime(lastSentAt) }) : t("sync_saved_here");
}
