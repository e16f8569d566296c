/** The plan of the season from the rows on this phone, with the hours of each open repair. */
import { coverOf } from "../../model/defect";
import { depthsOf } from "../../model/lasting/gather";
import { type OpenRepair, type Standing, type WallPlan, seasonPlan } from "../../model/lasting/season";
import { erosion } from "../../model/lasting/wear";
import { coatVisits } from "../../model/planning/coats";
import { ANYBODY, visitsOf } from "../../model/planning/hours";
import { Refusal } from "../../model/refusal";
import type { Range, Ticket } from "../../model/types";
import { catalogue, row, table } from "../../store";
import { isClosed, ticketState } from "../../parts/judged";
import { type Entry, ledger } from "../../parts/lasting/ledger";
import { reckon } from "../../parts/ticket/gathered";
import { bareNow } from "./ClocksCard";
import { lastStormOn } from "./wearWords";

const SHOWS_STORMS = 2;

export const openTickets = (): Ticket[] => [...table("ticket").value.values()].filter((one) => ["open", "taken"].includes(ticketState(one)));

/** Hours of one repair, mixed by hand; null where method, size or rates are not known. */
export function hoursOf(ticket: Ticket): Range | null {
  const book = catalogue.value;
  const reckoned = book && reckon(ticket, book);
  const method = ticket.method ? book?.work_rates?.methods[ticket.method] : undefined;
  if (!book?.work_rates || !method || !reckoned || "refused" in reckoned) return null;
  const { repair } = reckoned;
  const size = { area_m2: repair.coated_area_m2, length_m: repair.length_m, count: repair.count };
  const visits = visitsOf(size, coatVisits(repair.parts, book.mixes), method, book.work_rates, { skill: ANYBODY, mixer: false });
  if (!visits.length) return null;
  return visits.reduce((sum, { hours }) => ({ low: sum.low + hours.low, likely: sum.likely + hours.likely, high: sum.high + hours.high }), { low: 0, likely: 0, high: 0 });
}

/** Storms like the last until the wall shows, and whether it shows already; neither where nothing tells. */
export function wearLeft(entry: Entry): { storms_left: number | null; breached: boolean } {
  const [depths, cover] = [depthsOf(entry.finish, entry.rows), coverOf(entry.finish.coats)];
  if (!depths.length || cover <= 0) return { storms_left: null, breached: false };
  try {
    const found = erosion(depths, cover, lastStormOn(entry.finish, entry.rows));
    return { storms_left: found.deepest.doses?.likely ?? null, breached: found.breached };
  } catch (error) {
    if (error instanceof Refusal) return { storms_left: null, breached: false };
    throw error;
  }
}

/** Whether every damage that told of the finish has been put right; a score sheet's word stands until the next one. */
function mended(entry: Entry): boolean {
  const told = entry.followed.sightings.filter((one) => one.verdict !== "held");
  return told.length > 0 && told.every((one) => {
    const defect = one.source === "reading" ? row("defect", row("reading", one.id)?.defect_id) : undefined;
    return defect !== undefined && isClosed(defect);
  });
}

const standingOf = (entry: Entry): Standing => ({
  finish: { id: entry.finish.id, name: entry.finish.name, sample_panel: entry.finish.sample_panel === true, ended: entry.finish.ended_on !== null, coats: entry.finish.coats },
  elevation: entry.elevation.id, structure: entry.structure?.id ?? null, followed: entry.followed, mended: mended(entry), ...wearLeft(entry),
});

function repairOf(ticket: Ticket): OpenRepair {
  const sides = ticket.defect_ids.flatMap((id) => row("defect", id)?.elevation_id ?? []);
  return { ticket: ticket.id, elevations: [...new Set(sides)], hours: hoursOf(ticket) };
}

export function seasonNow(): { walls: WallPlan[]; repairs: OpenRepair[] } {
  const repairs = openTickets().map(repairOf);
  const bare = bareNow().map(({ defect }) => ({ defect: defect.id, elevation: defect.elevation_id }));
  return { walls: seasonPlan(ledger.value.map(standingOf), repairs, bare, catalogue.value?.lasting?.wall_shows_storms ?? SHOWS_STORMS), repairs };
}
