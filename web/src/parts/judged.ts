/** Urgency and size of a defect as every screen shows them: looked up once per state of the rows they follow from. */
import { type Size, factsOf, markOf, sizeOf } from "../model/defect";
import type { TicketState } from "../model/types";
import { type TicketStates, stateOf } from "../model/ticket";
import type { Defect, Elevation, Finish, Mark, Reading, Structure, Ticket, Urgency } from "../model/types";
import { type Facts, type Judgement, type UrgencyTable, URGENCIES, judge } from "../model/urgency";
import { catalogue, localNumber, row } from "../store";
import { t } from "../words";
import { showArea, showMetres } from "../words/measures";
import { vocabularyWord } from "../words/vocabulary";
import type { DrawnMark } from "./drawing/WallDrawing";
import { familyOfKind } from "./drawing/KindDrawing";
import { readingsOf, standingFinishes, stepsOf, structureOf, ticketsOf } from "../store/lookup";
import type { FinishKind } from "../model/catalogue";

export type Judged = {
  urgency: Urgency;
  /** Ids of the rules that speak; reasonWords() in the catalogue's urgency table holds their sentences. */
  reasons: string[];
  engineer_first: boolean;
  size: Size;
  facts: Facts & { finish_kind: FinishKind };
  mark: Mark;
};
type Ground = {
  readings: readonly Reading[]; elevation: Elevation; structure: Structure | undefined; finishes: readonly Finish[]; catalogue: unknown;
};

const known = new WeakMap<Defect, { ground: Ground; judged: Judged }>();
const sameRows = (a: readonly unknown[], b: readonly unknown[]) => a === b || (a.length === b.length && a.every((one, i) => one === b[i]));
const same = (a: Ground, b: Ground) =>
  a.elevation === b.elevation && a.structure === b.structure && a.catalogue === b.catalogue && sameRows(a.readings, b.readings) && sameRows(a.finishes, b.finishes);

/** What is known of a defect now; null while its elevation or the catalogue has not come. */
export function judged(defect: Defect): Judged | null {
  const elevation = row("elevation", defect.elevation_id);
  const book = catalogue.value;
  if (!elevation || !book) return null;
  const ground: Ground = {
    readings: readingsOf(defect.id), elevation, structure: structureOf(elevation), finishes: standingFinishes(elevation.id), catalogue: book,
  };
  const before = known.get(defect);
  if (before && same(before.ground, ground)) return before.judged;
  const size = sizeOf(defect, ground.readings, elevation);
  const facts = factsOf(defect, ground.readings, ground, book.mixes, size);
  const found: Judged = { ...judge(facts, book.urgency as UrgencyTable), facts, size, mark: markOf(defect, ground.readings) };
  known.set(defect, { ground, judged: found });
  return found;
}

/** The number on the wall: the server's, else the phone's own after a star, else a dot. */
export function defectLabel(defect: Defect): string {
  if (defect.number !== null) return String(defect.number);
  const local = localNumber("defect", defect.id);
  return local === null ? "•" : `*${local}`;
}

export function ticketState(ticket: Ticket): TicketState {
  const states = catalogue.value?.states as TicketStates | undefined;
  return states ? stateOf(stepsOf(ticket.id), states).state : "open";
}

/** The newest ticket for a defect, and where it stands. */
export function ticketFor(defect: Defect): { ticket: Ticket; state: TicketState } | null {
  const ticket = ticketsOf(defect.id).at(-1);
  return ticket ? { ticket, state: ticketState(ticket) } : null;
}

/** Whether nothing more is to be done: its ticket was checked, or the latest reading says repaired. */
export function isClosed(defect: Defect): boolean {
  const last = readingsOf(defect.id).at(-1);
  const ticket = ticketFor(defect);
  if (ticket) return ticket.state === "checked" && (!last || last.state === "repaired" || last.at <= (stepsOf(ticket.ticket.id).at(-1)?.at ?? ""));
  return last?.state === "repaired";
}

/** The day of the look that found it repaired, and whether that look checked a ticket; null while it is not closed. */
export function closedBy(defect: Defect): { at: string; checked: boolean } | null {
  if (!isClosed(defect)) return null;
  const ticket = ticketFor(defect);
  const at = (ticket ? stepsOf(ticket.ticket.id) : readingsOf(defect.id)).at(-1)?.at;
  return at === undefined ? null : { at, checked: ticket !== null };
}

/** Whether this is the rule that speaks where no other does: all it says is what its urgency means. */
export const judgesNothing = (id: string): boolean => (catalogue.value?.urgency as UrgencyTable | undefined)?.default.id === id;

/** Whether nobody can say yet how pressing it is: it has no name, and nothing seen on it speaks for itself. */
export const notJudged = (kind: string | null, { reasons }: Pick<Judgement, "reasons">): boolean => kind === null && reasons.every(judgesNothing);

/** How a defect stands, in a word: repaired, not judged yet, or how pressing. */
export function standingWord(defect: Defect, found: Judged): string {
  if (isClosed(defect)) return t("standing_repaired");
  return notJudged(defect.kind, found) ? t("standing_unjudged") : vocabularyWord("urgencies", found.urgency);
}

/** Area or length, whichever is known, in this device's measures; null where neither is. */
export function sizeWords(size: Size): string | null {
  if (size.area_m2 !== null) return showArea(size.area_m2);
  return size.length_m !== null ? showMetres(size.length_m) : null;
}

/** What a screen reader says of a mark. */
function spokenName(defect: Defect, found: Judged): string {
  return t("defect_spoken", {
    number: defectLabel(defect), kind: defect.kind ? vocabularyWord("kinds", defect.kind) : t("elevation_no_kind"),
    size: sizeWords(found.size) ?? t("elevation_no_size"), standing: standingWord(defect, found),
  });
}

/** A defect as the drawing takes it; null while it cannot be judged. */
export function drawnMark(defect: Defect): DrawnMark | null {
  const found = judged(defect);
  if (!found) return null;
  const label = defectLabel(defect);
  return {
    id: defect.id, label, mark: found.mark, family: familyOfKind(defect.kind), closed: isClosed(defect),
    // Of thousands on a wall few are named at a time.
    get name() {
      return spokenName(defect, found);
    },
  };
}

/** Most pressing first, then by number; those without a number of the server's come last. */
export function byUrgency(defects: readonly Defect[]): Defect[] {
  // Each is judged once: a comparison that judges both sides would do it twenty times over.
  const ranked = defects.map((one) => ({ one, rank: URGENCIES.indexOf(judged(one)?.urgency ?? "keep_watch"), number: one.number ?? Infinity }));
  // Two numbers that are both missing differ by NaN, which counts as no difference.
  ranked.sort((a, b) => a.rank - b.rank || a.number - b.number || (a.one.made_at < b.one.made_at ? -1 : 1));
  return ranked.map(({ one }) => one);
}
