/** The papers there are, in the order a person looks for them. */
import type { Role } from "../../model/types";
import type { WordKey } from "../../words";

export type Paper = { id: string; words: WordKey; hint: WordKey; format: "PDF" | "CSV" | "GeoJSON" | "iCalendar" | "ZIP"; long: boolean; roles: readonly Role[] };

const ALL: readonly Role[] = ["keeper", "surveyor", "reader"];
const OWN: readonly Role[] = ["keeper", "surveyor"];
const paper = (id: string, words: WordKey, hint: WordKey, format: Paper["format"], long = false, roles = ALL): Paper => ({ id, words, hint, format, long, roles });

export const PAPERS: readonly Paper[] = [
  paper("report", "paper_report", "paper_report_hint", "PDF", true),
  paper("shopping", "paper_shopping", "paper_shopping_hint", "PDF"),
  paper("panels", "paper_panels", "paper_panels_hint", "PDF", true),
  paper("lasted", "lasted_title", "paper_lasted_hint", "PDF", true),
  paper("lasted-table", "paper_lasted_table", "paper_table_hint", "CSV"),
  paper("calendar", "paper_dates", "paper_dates_hint", "iCalendar"),
  paper("shopping-table", "paper_shopping", "paper_table_hint", "CSV"),
  paper("panels-table", "paper_panels", "paper_table_hint", "CSV"),
  paper("defects-table", "paper_defects", "paper_table_hint", "CSV"),
  paper("readings-table", "paper_readings", "paper_table_hint", "CSV"),
  paper("tickets-table", "paper_tickets", "paper_table_hint", "CSV"),
  paper("steps-table", "paper_steps", "paper_table_hint", "CSV"),
  paper("photos-table", "paper_photos", "paper_photos_hint", "CSV"),
  paper("places", "paper_places", "paper_places_hint", "GeoJSON", false, OWN),
  paper("originals", "paper_originals", "paper_originals_hint", "ZIP", true, OWN),
];
