/** The fields of each row type, so that a row made here is shown whole. Held to shared/records.json by fields.test.ts. */
import type { Fields, RowType } from "../model/types";

type Names = { [T in RowType]: readonly (keyof Fields<T>)[] };

export const FIELDS: Names = {
  site: ["name", "note", "currency", "lat", "lon", "bucket_l", "loss", "bags", "own_figures", "thickness_factor"],
  structure: ["name", "wall_material", "wall_thickness_mm", "note"],
  elevation: ["structure_id", "name", "surface", "bearing_deg", "openings", "backdrop"],
  finish: ["elevation_id", "name", "coats", "region", "made_on", "ended_on", "sample_panel", "ticket_id", "by", "weather", "batches", "sand", "water", "cure", "note"],
  storm: [
    "name", "began_on", "duration_h", "rain_mm", "wind_m_s", "wind_from_deg", "gust_m_s", "hail", "rain_1h_mm", "rain_24h_mm", "hours", "source", "note",
  ],
  survey: ["on", "storm_id", "elevation_ids", "note"],
  defect: ["number", "elevation_id", "kind", "mark", "cause", "signs", "note"],
  reading: [
    "defect_id", "survey_id", "at", "mark", "area_m2", "length_m", "depth_mean_mm", "depth_max_mm", "crack_width_mm", "count", "state", "note",
  ],
  ticket: ["number", "defect_ids", "method", "urgency", "coats", "loss", "margin_mm", "note"],
  step: ["ticket_id", "kind", "at", "used", "batches", "area_m2", "thickness_mm", "checks", "own_work", "storm_id", "note"],
  work_day: ["on", "crew", "mixer", "forecast", "ticket_ids", "note"],
  handout: ["work_day_id", "person", "on", "ticket_ids", "language", "show_place", "ended_on", "note"],
  score: [
    "finish_id", "survey_id", "at", "verdict", "crack_width_mm", "crack_spacing_mm", "rub", "tap", "bead", "colour", "depth_mean_mm",
    "depth_max_mm", "note",
  ],
  photo: [
    "of_type", "of_id", "sha256", "media_type", "bytes", "taken_at", "lat", "lon", "accuracy_m", "heading_deg", "position_source",
    "preview", "same_place_as", "stored", "width_px", "height_px", "file_facts",
  ],
  note: ["of_type", "of_id", "at", "text"],
  clash: ["of_type", "of_id", "field", "kept", "lost", "kept_by", "lost_by", "chosen"],
};

export const ROW_TYPES = Object.keys(FIELDS) as RowType[];
/** Types that are never edited or dropped. */
export const APPEND_ONLY: ReadonlySet<RowType> = new Set<RowType>(["reading", "step", "score", "photo", "note"]);
/** Fields that only the server writes. */
export const SERVERS: ReadonlySet<string> = new Set(["number", "stored", "width_px", "height_px", "file_facts"]);
/** Types that carry a number given by the server, and a local one until then. */
export const NUMBERED: ReadonlySet<RowType> = new Set<RowType>(["defect", "ticket"]);

/** A row of `type` with every field null. */
export function emptyRow(type: RowType): Readonly<Record<string, unknown>> {
  return (EMPTY[type] ??= Object.fromEntries(FIELDS[type].map((name) => [name, null])));
}

// Made once for each type: thousands of rows begin with it while the app opens.
const EMPTY: Partial<Record<RowType, Readonly<Record<string, unknown>>>> = {};
