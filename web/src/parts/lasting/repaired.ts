/** The finish a repair left on the wall, as far as its ticket tells it. */
import { markOf } from "../../model/defect";
import { coatsFor } from "../../model/materials/coats";
import type { Coat, Finish, Id, Ticket } from "../../model/types";
import { dayOf } from "../../model/storm/limits";
import { catalogue, row, table } from "../../store";
import { readingsOf, stepsOf } from "../../store/lookup";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { ticketState } from "../judged";
import { knownOf } from "../ticket/gathered";

/** What was laid: the ticket's own coats, else those of its method for this kind of finish. */
function laidCoats(ticket: Ticket): Coat[] {
  const method = ticket.method ? catalogue.value?.methods[ticket.method] : undefined;
  const finish_kind = knownOf(ticket.defect_ids)[0]?.judged.facts.finish_kind;
  const usual = (method ? coatsFor({ finish_kind }, method) : []).map(({ mix, thickness_mm }) => ({ mix, thickness_mm }));
  return (ticket.coats ?? usual).filter((coat) => coat.thickness_mm > 0);
}

const lastDone = (ticket: Id) => stepsOf(ticket).filter((one) => one.kind === "done").at(-1) ?? null;

/** What to begin the form with; undefined where there is no such ticket. */
export function ofRepair(ticketId: Id | null, defectId: Id | null): Partial<Finish> | undefined {
  const ticket = row("ticket", ticketId);
  if (!ticket) return undefined;
  const defect = row("defect", defectId ?? ticket.defect_ids[0]);
  const mark = defect ? markOf(defect, readingsOf(defect.id)) : null;
  const done = lastDone(ticket.id);
  const on = done ? dayOf(done.at) : null;
  return {
    ticket_id: ticket.id, coats: laidCoats(ticket), made_on: on, by: done?.made_by ?? null, batches: done?.batches ? String(done.batches) : null,
    name: on ? t("finish_offer_name", { date: showDate(on) }) : "", region: mark?.shape === "outline" ? mark : null,
  };
}

/** Outlined damage of a finished repair whose new finish nobody has noted yet, with its side. */
export function withoutFinish(ticket: Ticket): { defect: Id; elevation: Id }[] {
  if (!["done", "checked"].includes(ticketState(ticket)) || !laidCoats(ticket).length) return [];
  if ([...table("finish").value.values()].some((one) => one.ticket_id === ticket.id)) return [];
  return ticket.defect_ids.flatMap((id) => {
    const defect = row("defect", id);
    return defect && markOf(defect, readingsOf(id)).shape === "outline" ? [{ defect: id, elevation: defect.elevation_id }] : [];
  });
}
