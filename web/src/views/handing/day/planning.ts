/** The chosen tickets as the plan takes them, and the plan itself. */
import { useMemo } from "preact/hooks";
import type { Catalogue } from "../../../model/catalogue";
import { coatVisits, mixWays } from "../../../model/planning/coats";
import { ANYBODY, visitsOf } from "../../../model/planning/hours";
import { turnOf } from "../../../model/planning/order";
import type { Job, Plan, Visit } from "../../../model/planning/shapes";
import { planWork } from "../../../model/planning/workDay";
import { Refusal } from "../../../model/refusal";
import type { Ticket } from "../../../model/types";
import { NO_WALL, type WallNow } from "../../../model/waiting/answers";
import { catalogue, drafts, readDraft, row, table } from "../../../store";
import { ticketState } from "../../../parts/judged";
import { type Known, engineerFirst, knownOf, reckon, ticketUrgency, wallWords, worstOf } from "../../../parts/ticket/gathered";
import { chosenOf } from "../../buying/gathering";
import { type DayDraft, skillId } from "./draft";

export type Planned = { plan: Plan; jobs: ReadonlyMap<string, Job>; tickets: readonly Ticket[] };
export type Outcome = Planned | { refused: string };

/** How far the plan looks ahead: long enough for three coats of lime. */
const DAYS_AHEAD = 45;

function leftOut(ticket: Ticket, known: readonly Known[], visits: readonly Visit[], book: Catalogue): string | null {
  if (engineerFirst(ticket.method, known)) return "engineer_first";
  if (["done", "checked"].includes(ticketState(ticket))) return "already_done";
  if (!ticket.method || !book.methods[ticket.method]) return "no_method";
  return visits.length === 0 ? "no_size" : null;
}

function visitsFor(ticket: Ticket, book: Catalogue, mixer: boolean): Visit[] {
  const rates = book.work_rates;
  const method = ticket.method ? rates?.methods[ticket.method] : undefined;
  const skill = skillId(book.methods[ticket.method ?? ""]?.skills[0] ?? ANYBODY);
  const reckoned = reckon(ticket, book);
  if (!rates || !method || !reckoned || "refused" in reckoned) return [];
  const { repair } = reckoned;
  const size = { area_m2: repair.coated_area_m2, length_m: repair.length_m, count: repair.count };
  return visitsOf(size, coatVisits(repair.parts, book.mixes), method, rates, { skill, mixer });
}

/** The day a wall seen wet got wet: as answered, else the last storm. */
function wetOn(wall: WallNow): string | null {
  const storms = [...table("storm").value.values()].map((storm) => storm.began_on).sort();
  return wall.wet_on ?? storms.at(-1) ?? null;
}

function jobOf(ticket: Ticket, book: Catalogue, mixer: boolean): Job {
  const known = knownOf(ticket.defect_ids);
  const worst = worstOf(known);
  const wall = readDraft<WallNow>(`gate/wall/${ticket.id}`) ?? NO_WALL;
  const visits = visitsFor(ticket, book, mixer);
  return {
    id: ticket.id, urgency: ticketUrgency(ticket, known), turn: turnOf(ticket, Object.keys(book.methods)),
    wall: worst ? wallWords(worst.defect) : "", place: row("elevation", worst?.defect.elevation_id)?.structure_id ?? "",
    left_out: leftOut(ticket, known, visits, book), visits,
    wall_dry: wall.dry === null ? null : wall.dry === "dry", wet_on: wall.dry === "wet" ? wetOn(wall) : null, covered: wall.covered,
  };
}

function outcome(draft: DayDraft, tickets: readonly Ticket[], jobs: readonly Job[], book: Catalogue): Outcome {
  try {
    const plan = planWork({
      start: draft.on, days: DAYS_AHEAD, jobs: [...jobs], crew: draft.crew, forecast: draft.forecast,
      mixes: mixWays(book.mixes), covers: book.work_rates?.covers ?? {},
    });
    return { plan, jobs: new Map(jobs.map((job) => [job.id, job])), tickets };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { refused: error.code };
  }
}

/** What was answered about walls on this phone, as a text that changes with it. */
const wallsAnswered = (): string => JSON.stringify([...drafts.value].flatMap(([key, draft]) => (key.startsWith("gate/wall/") ? [draft.value] : [])));

/** The plan for what is entered; null while the catalogue, or its working hours, have not come. */
export function usePlanned(draft: DayDraft): Outcome | null {
  const book = catalogue.value;
  const rows = (["ticket", "step", "defect", "reading", "elevation", "finish", "storm"] as const).map((type) => table(type).value);
  const { tickets, jobs } = useMemo(() => {
    const tickets = chosenOf(draft.ticket_ids);
    return { tickets, jobs: book ? tickets.map((ticket) => jobOf(ticket, book, draft.mixer)) : [] };
  }, [book, draft.ticket_ids, draft.mixer, wallsAnswered(), ...rows]);
  // Names and the note are typed letter by letter and change no plan.
  const asked = JSON.stringify([draft.on, draft.crew.map((one) => [one.hours, one.skills]), draft.forecast]);
  return useMemo(() => (book?.work_rates ? outcome(draft, tickets, jobs, book) : null), [book, asked, tickets, jobs]);
}
