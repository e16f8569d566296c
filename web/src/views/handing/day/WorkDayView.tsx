/** One work day: who comes and what the weather does, and from that who does what, what is mixed, bought, and left out. */
import { useState } from "preact/hooks";
import type { Ticket, WorkDay } from "../../../model/types";
import { catalogue, drop, bringThrownBack, throwDraft, row, whole } from "../../../store";
import { language, refusalWords, t } from "../../../words";
import { showDate } from "../../../words/measures";
import { useDraft } from "../../../parts/draft";
import { Button } from "../../../parts/frame/Button";
import { Card, Empty } from "../../../parts/frame/Card";
import { TextField } from "../../../parts/frame/Field";
import { Page } from "../../../parts/frame/Page";
import { SureButton } from "../../../parts/frame/SureButton";
import { type Params, go } from "../../../parts/frame/route";
import { leadToWrong } from "../../../parts/frame/wrong";
import { may } from "../../../parts/may";
import { choosable } from "../../buying/gathering";
import { PickTickets } from "../../buying/PickTickets";
import { CrewCard } from "./CrewCard";
import { DayBoard } from "./DayBoard";
import { ForecastCard } from "./ForecastCard";
import { HandoutsCard, canHandOut, handoutsOf } from "./HandoutsCard";
import { LeftOutCard } from "./LeftOutCard";
import { ShoppingCard } from "./ShoppingCard";
import { WeeksStrip } from "./WeeksStrip";
import { type DayDraft, beginFrom, draftKey } from "./draft";
import { useKeeping } from "./keeping";
import { type Outcome, type Planned, usePlanned } from "./planning";
import { offerRows } from "../../../parts/undo/undo";
import "../handing.css";

function NotHere({ said }: { said: string }) {
  return <Page title={t("workday_title")} place="tickets" back="/workdays"><p>{said}</p></Page>;
}

export function WorkDayView({ params }: { params: Params }) {
  const id = params.id === "new" ? null : (params.id ?? null);
  const day = row("work_day", id);
  if (!whole.value) return <NotHere said={t("loading")} />;
  if ((id && !day) || !may("see", "work_day")) return <NotHere said={t(id && !day ? "not_here" : "workday_not_yours")} />;
  return <Planning key={id ?? "new"} day={day ?? null} />;
}

function worked({ plan, tickets }: Planned): Ticket[] {
  const ids = new Set(plan.days.flatMap((day) => day.blocks.map((block) => block.job)));
  return tickets.filter((ticket) => ids.has(ticket.id));
}

function PlanCards({ found, draft }: { found: Outcome | null; draft: DayDraft }) {
  if (!found) return <p>{t(catalogue.value ? "workday_no_rates" : "loading")}</p>;
  if ("refused" in found) return <p class="wrong" role="alert">{refusalWords(found.refused)}</p>;
  const { days } = found.plan;
  return (
    <>
      {days[0] && days[0].on !== draft.on ? <p class="wrong">{t("workday_nothing_on", { date: showDate(draft.on), first: showDate(days[0].on) })}</p> : null}
      {days.length === 0 ? <Empty scene="workdays">{t(draft.forecast.length ? "workday_nothing" : "workday_nothing_people")}</Empty> : null}
      {days.map((one, n) => <DayBoard key={one.on} day={one} planned={found} crew={draft.crew} first={n === 0} />)}
      <WeeksStrip planned={found} />
      <LeftOutCard planned={found} />
      <ShoppingCard tickets={worked(found)} />
      <Card tone="caution"><p>{t("workday_assumed")}</p><p>{catalogue.value?.hazards.defer[language()]}</p></Card>
    </>
  );
}

function RemoveDay({ day }: { day: WorkDay }) {
  const remove = async () => {
    const drafted = await throwDraft(draftKey(day.id));
    await drop("work_day", day.id);
    go("/workdays", true);
    offerRows(t("workday_of", { date: showDate(day.on) }), [{ type: "work_day", id: day.id }], drafted ? () => bringThrownBack(draftKey(day.id)) : undefined);
  };
  return <div class="deeds"><SureButton label={t("workday_delete")} title={t("workday_delete_ask")} say={t("workday_delete_say")} yes={t("delete")} onYes={remove} /></div>;
}

function Planning({ day }: { day: WorkDay | null }) {
  const key = draftKey(day?.id ?? null);
  const [draft, change] = useDraft<DayDraft>(key, () => beginFrom(day));
  const found = usePlanned(draft);
  const planned = found && "plan" in found ? found : null;
  const all = choosable(draft.ticket_ids);
  const { mayKeep, changed, keep } = useKeeping(day, draft);
  const keepDay = async () => {
    if (!(await leadToWrong())) go(`/workday/${await keep()}`, true);
  };
  const [asking, setAsking] = useState(false);
  // Once the plan is kept, handing it out is what comes next.
  const next = day && !changed && planned && handoutsOf(day.id).length === 0 && canHandOut(planned);
  const deeds = next ? <Button kind="primary" onPress={() => setAsking(true)}>{t("handouts_make")}</Button> : mayKeep ? <Button kind="primary" disabled={!changed} onPress={() => void keepDay()}>{t(changed ? "workday_keep" : "workday_kept")}</Button> : null;
  return (
    <Page title={t("workday_title")} sub={showDate(draft.on)} place="tickets" back="/workdays" actions={deeds}>
      <div class="handing-columns">
        <div>
          <TextField label={t("workday_on")} type="date" value={draft.on} onInput={(on) => change(on ? { on } : {})} />
          <CrewCard draft={draft} change={change} open={day === null} />
          <ForecastCard draft={draft} change={change} />
          {all.length > 0 ? <PickTickets all={all} chosen={planned?.tickets ?? []} onPick={(ticket_ids) => change({ ticket_ids })} /> : <Empty scene="tickets" action={<Button onPress={() => go("/tickets")}>{t("tickets_all")}</Button>}>{t("workday_no_tickets")}</Empty>}
          <TextField long label={t("workday_note")} value={draft.note} max={4000} onInput={(note) => change({ note })} />
        </div>
        <div>
          <PlanCards found={found} draft={draft} />
          {planned ? <HandoutsCard day={day} planned={planned} draft={draft} keep={keep} changed={changed} asking={asking} setAsking={setAsking} /> : null}
          {day && may("drop", "work_day") ? <RemoveDay day={day} /> : null}
        </div>
      </div>
    </Page>
  );
}
