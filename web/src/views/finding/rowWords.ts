/** What any row is called, which page shows it, and what it belongs to: the same words in what was found, changed and deleted. */
import type { Defect, Elevation, Handout, Id, Photo, RowType, Rows, Step, Ticket } from "../../model/types";
import { limited, row } from "../../store";
import { structureOf } from "../../store/lookup";
import { kindsWords, knownOf, ticketName } from "../../parts/ticket/gathered";
import { defectLabel } from "../../parts/judged";
import { may } from "../../parts/may";
import { isSentence, t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";

type Any = { type: RowType; id: Id; fields: Record<string, unknown> };
const MOST_LETTERS = 90;

/** The first words of a text. */
export const short = (text: string): string => (text.length > MOST_LETTERS ? `${text.slice(0, MOST_LETTERS).trimEnd()} …` : text);

export function typeWords(type: string): string {
  const key = `row_${type}`;
  return isSentence(key) ? t(key) : type;
}

export function sideName(elevation: Elevation | undefined): string {
  return [structureOf(elevation)?.name, elevation?.name].filter(Boolean).join(" · ");
}

export function defectName(defect: Defect): string {
  const kind = defect.kind ? vocabularyWord("kinds", defect.kind) : t("elevation_no_kind");
  return t("defect_name", { number: defectLabel(defect), kind });
}

/** Another row by its type and id, as `nameOf` wants it; null if it is not here. */
function other(type: string, id: unknown): Any | null {
  const found = row(type as RowType, String(id));
  return found ? { type: type as RowType, id: found.id, fields: { ...found } } : null;
}

const PLACE: Partial<Record<RowType, (fields: Record<string, unknown>) => Any | null>> = {
  reading: (one) => other("defect", one.defect_id), step: (one) => other("ticket", one.ticket_id), score: (one) => other("finish", one.finish_id),
  photo: (one) => other(String(one.of_type), one.of_id), note: (one) => other(String(one.of_type), one.of_id),
};

/** What a row belongs to: the defect of a reading, the ticket of a step, the wall of a photo. */
export const ownerOf = (one: Any): Any | null => PLACE[one.type]?.(one.fields) ?? null;

/** What a row is called in a list, whether it is there or was deleted. */
export function nameOf(one: Any): string {
  const { type, fields } = one;
  const own = { ...fields, id: one.id } as unknown;
  if (type === "elevation") return sideName(own as Elevation);
  if (type === "finish") return [String(fields.name), sideName(row("elevation", String(fields.elevation_id)))].filter(Boolean).join(", ");
  if (type === "survey") return t("survey_of", { date: showDate(String(fields.on)) });
  if (type === "work_day") return t("workday_of", { date: showDate(String(fields.on)) });
  if (type === "handout") return t("handout_for", { person: (own as Handout).person?.trim() || t("handout_anybody") });
  if (type === "defect") return [defectName({ ...(own as Defect), number: (own as Defect).number ?? null }), sideName(row("elevation", (own as Defect).elevation_id))].filter(Boolean).join(", ");
  if (type === "ticket") return ticketWords(own as Ticket);
  if (type === "step") return [vocabularyWord("steps", (own as Step).kind, "did"), ownerName(one)].filter(Boolean).join(" · ");
  const owner = ownerName(one);
  if (type === "note") return short(String(fields.text));
  return owner || String(fields.name ?? typeWords(type));
}

const ownerName = (one: Any): string => {
  const owner = ownerOf(one);
  return owner ? nameOf(owner) : "";
};

export function ticketWords(ticket: Ticket): string {
  return [ticketName({ ...ticket, number: ticket.number ?? null }), kindsWords(knownOf(ticket.defect_ids ?? []))].filter(Boolean).join(" · ");
}

/** The page that shows a row; null where there is none for this device. */
export function pathOf(one: Any): string | null {
  const { type, id } = one;
  if (type === "structure") return may("edit", "structure") ? `/structure/${id}` : "/walls";
  if (type === "work_day") return `/workday/${id}`;
  if (type === "handout") return limited.value ? "/list" : `/handout/${id}`;
  if (type === "site") return "/walls";
  if (["elevation", "defect", "finish", "ticket", "storm", "survey"].includes(type)) return `/${type}/${id}`;
  const owner = ownerOf(one);
  return owner ? pathOf(owner) : null;
}

/** A row of this site as these words take it. */
export const asAny = <T extends RowType>(type: T, one: Rows[T]): Any => ({ type, id: one.id, fields: one as unknown as Record<string, unknown> });
export type { Any };
export type PhotoOwner = Photo["of_type"];
