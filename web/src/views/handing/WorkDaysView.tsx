/** The work days of the site, those to come first, and the hand-outs that belong to none. */
import type { WorkDay } from "../../model/types";
import { dayOf } from "../../model/storm/limits";
import { nowIso, table, whole } from "../../store";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { handoutsOf } from "./day/HandoutsCard";
import { personWords } from "./day/dayWords";
import { HandoutRow } from "./list/HandoutRow";
import "./handing.css";

function DayRow({ day }: { day: WorkDay }) {
  const crew = (day.crew ?? []).map((one, n) => personWords(one.person, n)).join(", ");
  return (
    <li>
      <Link to={`/workday/${day.id}`} class="row-link">
        <DaySign on={day.on} />
        <span class="grow">
          <strong>{showDate(day.on)}</strong>
          <small class="block">{[crew || t("crew_count", { n: 0 }), t("workdays_lists", { n: handoutsOf(day.id).length })].join(" · ")}</small>
        </span>
      </Link>
    </li>
  );
}

/** A leaf of a calendar with the day of the month. */
function DaySign({ on }: { on: string }) {
  return (
    <svg viewBox="0 0 48 48" width="48" height="48" aria-hidden="true" class="day-sign">
      <rect x="4" y="8" width="40" height="36" rx="5" fill="var(--paper)" stroke="var(--ink)" stroke-width="2" />
      <path d="M4 18H44M15 4v8M33 4v8" stroke="var(--ink)" stroke-width="2.5" fill="none" />
      <text x="24" y="37" text-anchor="middle">{Number(on.slice(8))}</text>
    </svg>
  );
}

function Days({ title, days }: { title: string; days: readonly WorkDay[] }) {
  return days.length > 0 ? <Card title={title}><ul class="rows">{days.map((day) => <DayRow key={day.id} day={day} />)}</ul></Card> : null;
}

export function WorkDaysView() {
  const today = dayOf(nowIso());
  const days = [...table("work_day").value.values()].sort((a, b) => (a.on < b.on ? -1 : 1));
  const known = new Set(days.map((day) => day.id));
  const loose = [...table("handout").value.values()].filter((one) => one.work_day_id === null || !known.has(one.work_day_id));
  const plan = may("make", "work_day") ? <Button kind="primary" onPress={() => go("/workday/new")}>{t("workdays_plan")}</Button> : null;
  return (
    <Page title={t("workdays_title")} sub={t("workdays_sub", { n: days.length })} place="tickets" back="/tickets" actions={plan}>
      {days.length + loose.length === 0 ? whole.value ? <Empty scene="workdays">{t(may("make", "work_day") ? "workdays_none" : "workdays_none_here")}</Empty> : <p>{t("loading")}</p> : null}
      <Days title={t("workdays_to_come")} days={days.filter((day) => day.on >= today)} />
      <Days title={t("workdays_past")} days={days.filter((day) => day.on < today).reverse()} />
      {loose.length > 0 ? <Card title={t("handouts_title")}><ul class="rows">{loose.map((one) => <HandoutRow key={one.id} handout={one} />)}</ul></Card> : null}
    </Page>
  );
}
