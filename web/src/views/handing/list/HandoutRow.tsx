/** One hand-out in a list: for whom, for which day, and how far it has come, drawn and in words. */
import type { Handout } from "../../../model/types";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { Link } from "../../../parts/frame/Link";
import { ProgressBar } from "./ProgressBar";
import { listedOf } from "./listed";

export const forWhom = (handout: Handout): string => handout.person?.trim() || t("handout_anybody");

export function HandoutRow({ handout }: { handout: Handout }) {
  const jobs = listedOf(handout);
  return (
    <li>
      <Link to={`/handout/${handout.id}`} class="row-link">
        <span class="grow">
          <strong>{forWhom(handout)}</strong> · {showDate(handout.on)}
          <small class="block">{handout.ended_on ? t("handout_ended", { date: showDate(handout.ended_on) }) : t("handout_tickets", { n: handout.ticket_ids.length })}</small>
          <ProgressBar jobs={jobs} />
        </span>
      </Link>
    </li>
  );
}
