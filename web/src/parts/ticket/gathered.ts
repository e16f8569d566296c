/** A ticket put together from the rows on this phone: its defects, urgency, name and estimate. */
import type { Catalogue, Method } from "../../model/catalogue";
import { suggest } from "../../model/method";
import { Refusal } from "../../model/refusal";
import { type Choices, type Found, type Repair, type SiteWays, reckonRepair } from "../../model/repair/repair";
import { asLaid, wayOf } from "../../model/repair/ways";
import type { Coat, Defect, Id, Ticket, Urgency } from "../../model/types";
import type { UrgencyTable } from "../../model/urgency";
import { catalogue, currentSite, localNumber, row, sites } from "../../store";
import { readingsOf, standingFinishes, structureOf } from "../../store/lookup";
import { language, t } from "../../words";
import { showArea, showMetres } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { type Judged, judged } from "../judged";
import { triedOn } from "../lasting/ledger";

export type Known = { defect: Defect; judged: Judged };
export type Pressing = { urgency: Urgency; reasons: string[]; engineer_first: boolean };
/** What is chosen for a ticket: by its row, or in the form while it is being made. */
export type Wanted = Choices & { defect_ids: readonly Id[]; method: string | null };
export type Reckoned = { repair: Repair } | { refused: string };

export const ticketName = (ticket: Ticket): string =>
  ticket.number === null ? t("ticket_name_new", { n: localNumber("ticket", ticket.id) ?? "•" }) : t("ticket_name", { n: ticket.number });

/** The defects of a ticket that are on this phone and can be judged. */
export function knownOf(ids: readonly Id[]): Known[] {
  return ids.flatMap((id) => {
    const defect = row("defect", id);
    const found = defect ? judged(defect) : null;
    return defect && found ? [{ defect, judged: found }] : [];
  });
}

const urgencyTable = (): UrgencyTable | undefined => catalogue.value?.urgency as UrgencyTable | undefined;
const deepest = (known: Known): number => known.judged.facts.depth_max_mm ?? 0;

/** The defect that decides for all of them: the most pressing, then the deepest. */
export function worstOf(known: readonly Known[]): Known | null {
  const order = urgencyTable()?.order ?? [];
  const rank = (one: Known) => order.indexOf(one.judged.urgency);
  return [...known].sort((a, b) => rank(a) - rank(b) || deepest(b) - deepest(a))[0] ?? null;
}

/** How pressing the defects are together, with the reasons of all that are as pressing as the worst. */
export function pressing(known: readonly Known[]): Pressing | null {
  const worst = worstOf(known);
  if (!worst) return null;
  const engineer_first = known.some((one) => one.judged.engineer_first);
  const speaking = known.filter((one) => one.judged.urgency === worst.judged.urgency || one.judged.engineer_first);
  return { urgency: worst.judged.urgency, engineer_first, reasons: [...new Set(speaking.flatMap((one) => one.judged.reasons))] };
}

/** The sentence of an urgency rule, in the language of this device. */
export function ruleOf(id: string): { sentence: string; source: string; basis: string } {
  const table = urgencyTable();
  const rule = table?.default.id === id ? table.default : table?.rules.find((one) => one.id === id);
  return { sentence: rule?.words[language()] ?? id, source: rule?.source ?? "", basis: rule?.basis ?? "" };
}

export function ticketUrgency(ticket: Ticket, known: readonly Known[]): Urgency {
  return ticket.urgency ?? pressing(known)?.urgency ?? "keep_watch";
}

export function engineerFirst(method: string | null, known: readonly Known[]): boolean {
  return known.some((one) => one.judged.engineer_first) || (method !== null && catalogue.value?.methods[method]?.engineer_first === true);
}

/** The method the table suggests for the worst of these defects; null while the catalogue has not come. */
export function suggestedFor(known: readonly Known[]): { method: string; because: Known } | null {
  const because = worstOf(known);
  const method = because && catalogue.value ? suggest(because.judged.facts, catalogue.value.suggest) : null;
  return because && method ? { method, because } : null;
}

function foundOf({ defect }: Known): Found[] {
  const elevation = row("elevation", defect.elevation_id);
  if (!elevation) return [];
  return [{ defect, readings: readingsOf(defect.id), wall: { elevation, structure: structureOf(elevation), finishes: standingFinishes(elevation.id), tried: triedOn(elevation.structure_id) } }];
}

export const siteNow = () => sites.value.find((site) => site.id === currentSite.value) ?? null;

/** The estimate of a ticket, or the code of what cannot be reckoned with; null while method or catalogue are unknown. */
export function reckon(wanted: Wanted, book: Catalogue | null): Reckoned | null {
  const site = siteNow();
  return reckonWith(wanted, book, { loss: site?.loss ?? null, bags: site?.bags ?? null, thickness_factor: site?.thickness_factor ?? null });
}

/** The estimate as the methods say it, without the site's own figures: what those are learnt from. */
export const reckonUsual = (wanted: Wanted, book: Catalogue | null): Reckoned | null => reckonWith(wanted, book, { loss: null, bags: null, thickness_factor: null });

function reckonWith(wanted: Wanted, book: Catalogue | null, site: SiteWays): Reckoned | null {
  const method = wanted.method ? book?.methods[wanted.method] : undefined;
  if (!book || !method) return null;
  try {
    return { repair: reckonRepair(knownOf(wanted.defect_ids).flatMap(foundOf), method, wanted, site, book) };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { refused: error.code };
  }
}

/** A ticket's method in the words of what it lays; undefined where it has none or this phone does not know it. */
export function methodOf(wanted: Wanted, book: Catalogue | null): Method | undefined {
  const reckoned = reckon(wanted, book);
  return reckoned && "repair" in reckoned ? reckoned.repair.method : wanted.method ? book?.methods[wanted.method] : undefined;
}

/** The same by the finish of its defects alone, without reckoning what it takes. */
export function methodHere(id: string | null, known: readonly Known[], coats: Coat[] | null): Method | undefined {
  const book = catalogue.value;
  const usual = id ? book?.methods[id] : undefined;
  if (!book || !usual) return undefined;
  return wayOf(known.map((one) => asLaid(usual, { finish_kind: one.judged.facts.finish_kind, coats }, [], book.mixes)), usual);
}

export const kindWords = (defect: Defect): string => (defect.kind ? vocabularyWord("kinds", defect.kind) : t("ticket_kind_unknown"));

/** The kinds on a ticket, each once. */
export const kindsWords = (known: readonly Known[]): string => [...new Set(known.map((one) => kindWords(one.defect)))].join(", ");

export function wallWords(defect: Defect): string {
  const elevation = row("elevation", defect.elevation_id);
  const structure = structureOf(elevation);
  return [structure?.name, elevation?.name].filter(Boolean).join(" · ");
}

/** The walls a ticket touches, each once. */
export const wallsWords = (known: readonly Known[]): string => [...new Set(known.map((one) => wallWords(one.defect)))].join("; ");

/** How much there is of it, in the measure that fits: area, length or number; empty where nobody said. */
export function sizeWords(known: readonly Known[]): string {
  const add = (of: (one: Known) => number | null | undefined) => known.reduce((all, one) => all + (of(one) ?? 0), 0);
  const [area, length] = [add((one) => one.judged.size.area_m2), add((one) => one.judged.size.length_m)];
  const count = add((one) => readingsOf(one.defect.id).at(-1)?.count);
  return [area ? showArea(area) : "", length ? showMetres(length) : "", count && !area ? t("ticket_count", { n: count }) : ""].filter(Boolean).join(" · ");
}
