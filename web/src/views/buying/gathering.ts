/** The chosen tickets put together: what they need, merged first and rounded once, and which could not be reckoned. */
import type { Catalogue } from "../../model/catalogue";
import { type Line, linesOf, takesAnything } from "../../model/materials/buying";
import { mergeNeeds, shoppingList } from "../../model/materials/shopping";
import type { Repair } from "../../model/repair/repair";
import type { Id, Ticket } from "../../model/types";
import { frostFreeDays } from "../../model/waiting/curing";
import { row, table } from "../../store";
import { ticketState } from "../../parts/judged";
import { type Reckoned, engineerFirst, knownOf, reckon, siteNow } from "../../parts/ticket/gathered";
import { coatsOf } from "../../parts/waiting/CuringCard";

/** What this phone keeps of a list. `picked` null: every ticket that is open or taken. */
export type BuyingDraft = { picked: Id[] | null; have: string[]; load: number | null };
export const FRESH: BuyingDraft = { picked: null, have: [], load: null };

export type Gathered = {
  lines: Line[];
  water_l: number;
  hazards: string[];
  /** Tickets whose amounts are not in the list, and those an engineer must see first. */
  left_out: Ticket[];
  engineer: Ticket[];
  /** Those an engineer must see first of which nothing is in the list. */
  engineer_bare: Ticket[];
  frost_free_days: number;
};

const AFTER_ALL = 1e9;
const turn = (ticket: Ticket): number => ticket.number ?? AFTER_ALL + Date.parse(ticket.made_at) / 1e6;

/** Tickets to choose from: open and taken ones, and whichever was asked for by name. */
export function choosable(picked: readonly Id[] | null): Ticket[] {
  const wanted = (ticket: Ticket) => ["open", "taken"].includes(ticketState(ticket)) || picked?.includes(ticket.id);
  return [...table("ticket").value.values()].filter(wanted).sort((a, b) => turn(a) - turn(b));
}

export function chosenOf(picked: readonly Id[] | null): Ticket[] {
  if (picked === null) return choosable(null);
  return picked.flatMap((id) => row("ticket", id) ?? []).sort((a, b) => turn(a) - turn(b));
}

const waitsForEngineer = (ticket: Ticket): boolean => engineerFirst(ticket.method, knownOf(ticket.defect_ids));
const inTheList = (reckoned: Reckoned | null): boolean => reckoned !== null && "repair" in reckoned && takesAnything(reckoned.repair.materials);

export function gather(tickets: readonly Ticket[], book: Catalogue, have: readonly string[]): Gathered {
  const all = tickets.map((ticket) => ({ ticket, reckoned: reckon(ticket, book) }));
  const repairs = all.flatMap(({ reckoned }): Repair[] => (reckoned && "repair" in reckoned ? [reckoned.repair] : []));
  const merged = mergeNeeds(repairs.map((repair) => repair.materials));
  return {
    lines: linesOf(shoppingList(merged, book.materials, siteNow()?.bags ?? {}), book.materials, have),
    water_l: merged.water?.amount.likely ?? 0,
    hazards: [...new Set(repairs.flatMap((repair) => repair.hazards))].sort(),
    left_out: all.flatMap(({ ticket, reckoned }) => (reckoned && "repair" in reckoned ? [] : [ticket])),
    engineer: all.filter(({ ticket, reckoned }) => waitsForEngineer(ticket) && inTheList(reckoned)).map(({ ticket }) => ticket),
    engineer_bare: all.filter(({ ticket, reckoned }) => waitsForEngineer(ticket) && !inTheList(reckoned)).map(({ ticket }) => ticket),
    frost_free_days: Math.max(0, ...repairs.map((repair) => frostFreeDays(coatsOf(repair)))),
  };
}
