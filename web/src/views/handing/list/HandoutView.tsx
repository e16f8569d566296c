/** One hand-out: for whom, in which order, how it reaches them (link, code, sheet of paper), and its end. */
import { dayOf } from "../../../model/storm/limits";
import type { Handout } from "../../../model/types";
import { catalogue, changesOf, flushDrafts, nowIso, put, putMany, row, whole } from "../../../store";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { useDraft } from "../../../parts/draft";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Pick, TextField, Toggle, languageTiles } from "../../../parts/frame/Field";
import { Page } from "../../../parts/frame/Page";
import { SureButton } from "../../../parts/frame/SureButton";
import { type Params, go } from "../../../parts/frame/route";
import { may } from "../../../parts/may";
import { forWhom } from "./HandoutRow";
import { JobRow } from "./JobRow";
import { LinkCard } from "./LinkCard";
import { ProgressBar } from "./ProgressBar";
import { listedOf } from "./listed";
import { ticketName } from "../../../parts/ticket/gathered";
import { throwAway, useTakeOut } from "../../../parts/undo/undo";
import "../../tickets/tickets.css";
import "../handing.css";

type Draft = Pick<Handout, "person" | "ticket_ids" | "language" | "show_place" | "note">;
type Change = (fields: Partial<Draft>) => void;

export function HandoutView({ params }: { params: Params }) {
  const handout = row("handout", params.id);
  if (handout) return <Whole key={handout.id} handout={handout} />;
  return <Page title={t("handout_title")} place="tickets" back="/workdays"><p>{t(whole.value ? "not_here" : "loading")}</p></Page>;
}

/** The list with its order in the hands of the keeper: up, down, out, and back in. */
function OrderCard({ draft, change, mayEdit }: { draft: Draft; change: Change; mayEdit: boolean }) {
  const ids = draft.ticket_ids;
  const swap = (n: number, by: -1 | 1) => change({ ticket_ids: ids.map((id, at) => (at === n ? (ids[n + by] ?? id) : at === n + by ? (ids[n] ?? id) : id)) });
  const takeOut = useTakeOut(ids, (ticket_ids) => change({ ticket_ids }));
  const jobs = listedOf(draft);
  return (
    <Card title={t("handout_order")}>
      <ProgressBar jobs={jobs} />
      <ol class="rows">
        {jobs.map((job, n) => (
          <JobRow key={job.id} job={job}>
            {mayEdit ? (
              <div class="order-deeds">
                <Button disabled={n === 0} label={t("handout_up_of", { n: job.place })} onPress={() => swap(n, -1)}><span aria-hidden="true">↑</span></Button>
                <Button disabled={n === jobs.length - 1} label={t("handout_down_of", { n: job.place })} onPress={() => swap(n, 1)}><span aria-hidden="true">↓</span></Button>
                <Button kind="warning" label={t("handout_out_of", { n: job.place })} onPress={() => takeOut(n, job.ticket ? ticketName(job.ticket) : String(job.place))}>{t("remove")}</Button>
              </div>
            ) : null}
          </JobRow>
        ))}
      </ol>
    </Card>
  );
}

function WhoCard({ draft, change }: { draft: Draft; change: Change }) {
  return (
    <Card title={t("handout_who_title")}>
      <TextField label={t("handout_who")} value={draft.person ?? ""} max={120} onInput={(person) => change({ person })} />
      <Pick
        legend={t("handout_language")} value={draft.language ?? "en"} onPick={(language) => change({ language })}
        options={languageTiles()}
      />
      <div class="handout-place"><Toggle label={t("handout_place")} hint={t("handout_place_hint")} on={draft.show_place === true} onChange={(show_place) => change({ show_place })} /></div>
      <TextField long label={t("handout_note")} value={draft.note ?? ""} max={4000} onInput={(note) => change({ note })} />
    </Card>
  );
}

function EndCard({ handout }: { handout: Handout }) {
  const end = () => put("handout", handout.id, { ended_on: dayOf(nowIso()) });
  if (handout.ended_on) {
    return <Card title={t("handout_ended", { date: showDate(handout.ended_on) })}><p>{t("handout_ended_say")}</p><Button onPress={() => void put("handout", handout.id, { ended_on: null })}>{t("handout_again")}</Button></Card>;
  }
  return <div class="deeds"><SureButton label={t("handout_end")} title={t("handout_end_ask")} say={t("handout_end_say")} yes={t("handout_end")} onYes={end} /></div>;
}

const fieldsOf = ({ person, ticket_ids, language, show_place, note }: Draft): Draft => ({
  person: person?.trim() || null, ticket_ids, language, show_place, note: note?.trim() || null,
});

function useHandout(handout: Handout) {
  const key = `handout/${handout.id}`;
  const [draft, change] = useDraft<Draft>(key, () => fieldsOf(handout));
  const set = changesOf(handout, fieldsOf(draft));
  const changed = Object.keys(set).length > 0;
  const keep = async () => {
    await flushDrafts();
    await putMany([{ type: "handout", id: handout.id, set }], { draft: key });
  };
  const leave = async () => {
    await throwAway(key, t("handout_for", { person: forWhom(handout) }), () => go(handout.work_day_id ? `/workday/${handout.work_day_id}` : "/workdays", true));
  };
  return { draft, change, changed, keep, leave };
}

function Whole({ handout }: { handout: Handout }) {
  const { draft, change, changed, keep, leave } = useHandout(handout);
  const mayEdit = may("edit", "handout") && handout.ended_on === null;
  const deeds = mayEdit && changed ? <><Button onPress={() => void leave()}>{t("throw_changes")}</Button><Button kind="primary" disabled={draft.ticket_ids.length === 0} onPress={() => void keep()}>{t("keep")}</Button></> : null;
  const back = !may("see", "work_day") ? "/list" : handout.work_day_id ? `/workday/${handout.work_day_id}` : "/workdays";
  return (
    <Page title={t("handout_for", { person: forWhom(handout) })} sub={showDate(handout.on)} place="tickets" back={back} actions={deeds}>
      <div class="handing-columns list-first">
        <div>
          <OrderCard draft={draft} change={change} mayEdit={mayEdit} />
          <p class="hint">{catalogue.value ? t("handout_order_say") : ""}{catalogue.value && mayEdit ? ` ${t("handout_order_change")}` : ""}</p>
        </div>
        <div>
          {mayEdit ? <WhoCard draft={draft} change={change} /> : null}
          {mayEdit ? <LinkCard handout={handout} unsaved={changed} /> : null}
          {may("edit", "handout") ? <EndCard handout={handout} /> : null}
        </div>
      </div>
    </Page>
  );
}
