/** What still cures on finished work, counted from the day it was done, and when it can be looked at a second time. */
import { lastDone } from "../../../model/closing/closing";
import { dayOf } from "../../../model/storm/limits";
import type { Ticket, TicketState } from "../../../model/types";
import { nowIso } from "../../../store";
import { stepsOf } from "../../../store/lookup";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { Card } from "../../../parts/frame/Card";
import { cureOf } from "./cured";

/** Nothing on a checked ticket whose work has cured and may freeze. */
export function CureCard({ ticket, state }: { ticket: Ticket; state: TicketState }) {
  const done = lastDone(stepsOf(ticket.id));
  const cure = cureOf(ticket, done);
  const today = dayOf(nowIso());
  const [damp, frost] = [cure !== null && today < cure.damp_until, cure !== null && today < cure.frost_free_until];
  if (!done || (state === "checked" && !damp && !frost)) return null;
  return (
    <Card title={t("cure_title", { date: showDate(done.at) })}>
      {cure && damp ? <p><strong>{t("curing_damp", { date: showDate(cure.damp_until) })}</strong></p> : null}
      {cure && frost ? <><p><strong>{t("curing_frost", { date: showDate(cure.frost_free_until) })}</strong></p><p class="hint">{t("curing_frost_say")}</p></> : null}
      {state === "done" ? <p>{cure && damp ? t("cure_look_from", { date: showDate(cure.damp_until) }) : t("cure_look_now")}</p> : null}
    </Card>
  );
}
