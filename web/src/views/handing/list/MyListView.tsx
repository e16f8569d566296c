/** What a helper opens the app for: the tickets handed to them, in order, each leading to its steps, batches and photos. */
import type { Handout } from "../../../model/types";
import { whole } from "../../../store";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { Button } from "../../../parts/frame/Button";
import { Card, Empty } from "../../../parts/frame/Card";
import { Page } from "../../../parts/frame/Page";
import { go } from "../../../parts/frame/route";
import { ticketName } from "../../../parts/ticket/gathered";
import { forWhom } from "./HandoutRow";
import { JobRow } from "./JobRow";
import { ProgressBar } from "./ProgressBar";
import { type ListedJob, listedOf, nextOf, runningHandouts, toDo } from "./listed";
import "../../tickets/tickets.css";
import "../handing.css";

/** Told apart where one person has several lists for a day. */
function titleOf(handout: Handout, n: number): string {
  const title = `${forWhom(handout)} · ${showDate(handout.on)}`;
  return n > 1 ? t("list_again", { title, n }) : title;
}

type ListProps = { handout: Handout; jobs: readonly ListedJob[]; n: number };

function OneList({ handout, jobs, n }: ListProps) {
  const work = toDo(jobs);
  return (
    <Card title={titleOf(handout, n)}>
      <ProgressBar jobs={jobs} />
      {work.length > 0 && nextOf(jobs) === null ? <p class="list-all-done" role="status"><strong>{t("list_all_done")}</strong></p> : null}
      {handout.note ? <p class="ticket-note">{handout.note}</p> : null}
      <ol class="rows">{jobs.map((job) => <JobRow key={job.id} job={job} />)}</ol>
      <p class="hint">{t("list_made_by", { person: handout.made_by })}</p>
    </Card>
  );
}

export function MyListView() {
  const lists = runningHandouts().map((handout, at, all) => {
    const n = all.slice(0, at + 1).filter((one) => one.on === handout.on && forWhom(one) === forWhom(handout)).length;
    return { handout, jobs: listedOf(handout), n };
  });
  const next = lists.map(({ jobs }) => nextOf(jobs)).find((job) => job !== null) ?? null;
  const deed = next?.ticket ? <Button kind="primary" onPress={() => go(`/ticket/${next.id}`)}>{t("list_next", { ticket: ticketName(next.ticket) })}</Button> : null;
  return (
    <Page title={t("list_title")} sub={lists.length > 0 ? t("list_sub") : ""} place="tickets" actions={deed}>
      {lists.length > 0 ? lists.map((one) => <OneList key={one.handout.id} {...one} />) : whole.value ? <Empty scene="list" action={<Button onPress={() => go("/tickets")}>{t("tickets_all")}</Button>}>{t("list_none")}</Empty> : <p>{t("loading")}</p>}
    </Page>
  );
}
