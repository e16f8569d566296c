/** The dates of one ticket from the day its first coat is laid: a list on a common scale of days, and a file for any calendar. */
import { useState } from "preact/hooks";
import type { Repair } from "../../model/repair/repair";
import { dayOf } from "../../model/storm/limits";
import type { Ticket } from "../../model/types";
import { type CuringPlan, type LaidCoat, coatsOfParts, curingPlan } from "../../model/waiting/curing";
import { Refusal } from "../../model/refusal";
import { catalogue, nowIso } from "../../store";
import { refusalWords, t } from "../../words";
import { useDraft } from "../draft";
import { Button } from "../frame/Button";
import { Card } from "../frame/Card";
import { TextField } from "../frame/Field";
import { CuringList } from "./CuringList";
import { calendarOf } from "./calendarOf";
import { saveFile } from "./handOut";
import "./waiting.css";

type Planned = { plan: CuringPlan } | { refused: string };

/** The coats of the slowest of a ticket's repairs; none for work without coats. */
export function coatsOf(repair: Repair): LaidCoat[] {
  return coatsOfParts(repair.parts, catalogue.value?.mixes ?? {});
}

function planned(start: string, coats: readonly LaidCoat[]): Planned {
  try {
    return { plan: curingPlan(start, coats) };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { refused: error.code };
  }
}

export function CuringCard({ ticket, repair }: { ticket: Ticket; repair: Repair }) {
  const [{ start }, change] = useDraft<{ start: string }>(`curing/${ticket.id}`, () => ({ start: dayOf(nowIso()) }));
  const [saved, setSaved] = useState("");
  const coats = coatsOf(repair);
  if (coats.length === 0) return null;
  const found = planned(start, coats);
  const wrong = "refused" in found ? (start ? refusalWords(found.refused) : t("curing_start_wrong")) : null;
  const save = (plan: CuringPlan) => {
    const { name, text } = calendarOf(ticket, plan, coats);
    saveFile(name, text, "text/calendar;charset=utf-8");
    setSaved(name);
  };
  return (
    <Card title={t("curing_title")}>
      <TextField label={t("curing_start")} type="date" value={start} onInput={(next) => change({ start: next })} wrong={wrong} />
      {"plan" in found ? (
        <>
          <CuringList plan={found.plan} coats={coats} />
          <Button onPress={() => save(found.plan)}>{t("curing_save")}</Button>
          <p role="status" class="hint">{saved ? t("curing_saved", { file: saved }) : ""}</p>
        </>
      ) : null}
      <p class="hint">{t("curing_caution")}</p>
    </Card>
  );
}
