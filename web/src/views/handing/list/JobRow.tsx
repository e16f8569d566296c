/** One ticket of a list: its place in the order, how pressing, what and where, how it stands; what nobody may touch says so. */
import type { ComponentChildren } from "preact";
import { catalogue } from "../../../store";
import { language, t } from "../../../words";
import { Link } from "../../../parts/frame/Link";
import { KindDrawing } from "../../../parts/drawing/KindDrawing";
import { PressingChip } from "../../../parts/ticket/PressingChip";
import { StateChip } from "../../../parts/ticket/StateChip";
import { kindsWords, methodOf, sizeWords, ticketName, wallsWords } from "../../../parts/ticket/gathered";
import type { ListedJob } from "./listed";

export function JobRow({ job, children }: { job: ListedJob; children?: ComponentChildren }) {
  const { ticket, known } = job;
  if (!ticket) return <li class="list-job"><p class="row-link"><span class="list-place">{job.place}</span> {t("handout_ticket_gone")}</p>{children}</li>;
  const kind = known[0]?.defect.kind;
  const method = methodOf(ticket, catalogue.value)?.words[language()].name;
  return (
    <li class={job.engineer ? "list-job do-not-touch" : "list-job"}>
      <Link to={`/ticket/${ticket.id}`} class="row-link">
        <span class="list-place">{job.place}</span>
        <span class="thumb-kind">{kind ? <KindDrawing kind={kind} /> : null}</span>
        <span class="grow">
          {job.engineer ? <span class="engineer-mark">{t("do_not_touch_engineer")}</span> : null}
          <strong class="block">{[ticketName(ticket), kindsWords(known)].filter(Boolean).join(" · ")}</strong>
          <small class="block">{[wallsWords(known), sizeWords(known), job.engineer ? "" : method].filter(Boolean).join(" · ")}</small>
          <span class="chips"><PressingChip ticket={ticket} known={known} state={job.state} /> {job.engineer ? null : <StateChip state={job.state} />}</span>
        </span>
      </Link>
      {children}
    </li>
  );
}
