/** When a closed repair wants another look, and why. */
import { nextLook, recheckDue } from "../../../model/closing/recheck";
import { dayOf } from "../../../model/storm/limits";
import type { Ticket } from "../../../model/types";
import { nowIso, table } from "../../../store";
import { stepsOf } from "../../../store/lookup";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { Card } from "../../../parts/frame/Card";

export function RecheckCard({ ticket }: { ticket: Ticket }) {
  const steps = stepsOf(ticket.id);
  const due = recheckDue(steps, [...table("storm").value.values()], dayOf(nowIso()));
  const next = nextLook(steps);
  if (due?.why === "storm") {
    return <Card tone="caution" title={t("recheck_title")}><p>{t("recheck_storm", { storm: due.storm.name, date: showDate(due.storm.began_on) })}</p></Card>;
  }
  if (due) return <Card tone="caution" title={t("recheck_title")}><p>{t("recheck_date", { date: showDate(due.on) })}</p></Card>;
  return <Card title={t("recheck_title")}><p>{next ? t("recheck_next", { date: showDate(next) }) : t("recheck_next_storm")}</p></Card>;
}
