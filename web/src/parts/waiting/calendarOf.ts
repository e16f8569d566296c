/** The plan of a ticket as calendar text in the language of this device. */
import type { Ticket } from "../../model/types";
import { type Entry, calendarText } from "../../model/waiting/calendar";
import type { CuringPlan, DatedStep, LaidCoat } from "../../model/waiting/curing";
import { nowIso } from "../../store";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { mixThenCoat } from "../ticket/coatWords";
import { knownOf, ticketName, wallsWords } from "../ticket/gathered";
import { fileName } from "./handOut";

function stepWords(step: DatedStep, coats: readonly LaidCoat[]): string {
  if (step.kind === "frost_free_until") return t("curing_cal_frost");
  const place = step.coat === null ? undefined : coats[step.coat]?.place;
  if (step.kind === "check" || !place) return t("curing_cal_check");
  return t(step.kind === "lay" ? "curing_cal_lay" : "curing_cal_damp", { coat: mixThenCoat([place.mix], place) });
}

const spreadWords = (step: DatedStep): string =>
  step.earliest === step.latest ? "" : t("curing_cal_spread", { early: showDate(step.earliest), late: showDate(step.latest) });

/** A step keeps its name when its date moves: its kind, and which of that kind it is. */
function uids(ticket: Ticket, plan: CuringPlan): string[] {
  const seen = new Map<string, number>();
  return plan.steps.map(({ kind, coat }) => {
    const turn = seen.get(kind) ?? 0;
    seen.set(kind, turn + 1);
    return `${ticket.id}-${kind}-${coat ?? turn}@makegood`;
  });
}

export function calendarOf(ticket: Ticket, plan: CuringPlan, coats: readonly LaidCoat[]): { name: string; text: string } {
  const title = ticketName(ticket);
  const walls = wallsWords(knownOf(ticket.defect_ids));
  const ids = uids(ticket, plan);
  const entries = plan.steps.map((step, i): Entry => ({
    uid: ids[i] ?? "", on: step.likely, summary: t("curing_cal_line", { ticket: title, step: stepWords(step, coats) }),
    description: [walls, spreadWords(step), t("curing_caution")].filter(Boolean).join("\n"),
  }));
  return { name: fileName(title, "ics"), text: calendarText(title, entries, nowIso()) };
}
