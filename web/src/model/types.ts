/** The shapes that move between phone and server, and what the sums take and give. Held to shared/records.json by tests/contract. */

import type { Language } from "./catalogue";

export type Id = string;
export type Range = { low: number; likely: number; high: number };
/** Metres on the drawing: y up from the foot; x from the left edge on flat and unrolled walls, from the middle line on surfaces seen round, from the axis seen from above. */
export type WallPoint = readonly [number, number] & { readonly __wall?: never };
/** Pixels on a photo: x right, y down from its top left corner. */
export type PhotoPoint = readonly [number, number] & { readonly __photo?: never };

export type FlatSurface = { kind: "flat"; width_m: number; height_m: number; batter_deg: number };
export type RoundWallSurface = { kind: "round_wall"; radius_m: number; height_m: number };
export type DomeSurface = { kind: "dome" } & (
  | { shape: "hemisphere"; radius_m: number }
  | { shape: "cap"; base_radius_m: number; height_m: number }
  | { shape: "lancet"; base_radius_m: number; height_m: number }
  | { shape: "cone"; base_radius_m: number; top_radius_m: number; height_m: number }
  | { shape: "profile"; points_m: [radius_m: number, height_m: number][] }
);
export type Surface = FlatSurface | RoundWallSurface | DomeSurface;
export type View = "seen" | "unrolled" | "above";

export type OpeningKind = "door" | "window" | "niche" | "ledge" | "gutter";
/** x_m, y_m: lower left corner, in the coordinates of the seen view. */
export type Opening = { kind: OpeningKind; x_m: number; y_m: number; width_m: number; height_m: number; head: "flat" | "arched" };
export type MarkShape = "pin" | "line" | "outline";
export type Mark = { view: View; shape: MarkShape; points_m: WallPoint[] };
/** A picture lying behind the drawing: photo pixels -> wall metres by the 3x3 homography, row by row. */
export type Backdrop = { photo_id: Id; homography: number[]; opacity: number };
export type Coat = { mix: string; thickness_mm: number };
export type FileFacts = {
  lat: number | null; lon: number | null; heading_deg: number | null; taken_at: string | null;
  make: string | null; model: string | null; doubtful: string[];
};

/** What every row carries. rev is 0 and made_by is the phone's own person until the server has seen it. */
export type RowBase = { id: Id; site_id: Id; rev: number; made_at: string; made_by: string };
export type Site = RowBase & {
  name: string; note: string | null; currency: string | null; lat: number | null; lon: number | null;
  bucket_l: number | null; loss: number | null; bags: Record<string, { bag_kg: number; price: number | null }> | null; own_figures: boolean | null; thickness_factor: number | null;
};
export type Structure = RowBase & { name: string; wall_material: string; wall_thickness_mm: number | null; note: string | null };
export type Elevation = RowBase & {
  structure_id: Id; name: string; surface: Surface; bearing_deg: number; openings: Opening[] | null; backdrop: Backdrop | null;
};
export type Finish = RowBase & {
  elevation_id: Id; name: string; coats: Coat[]; region: Mark | null; made_on: string | null; ended_on: string | null;
  sample_panel: boolean | null; ticket_id: Id | null; by: string | null; weather: string | null; batches: string | null; sand: string | null;
  water: string | null; cure: string | null; note: string | null;
};
/** Hours in a row, equally many in each list; null is "not recorded", never "dry". */
export type StormHours = { from: string; rain_mm: (number | null)[]; wind_m_s: (number | null)[]; from_deg: (number | null)[] };
export type Storm = RowBase & {
  name: string; began_on: string; duration_h: number | null; rain_mm: number | null; wind_m_s: number | null;
  wind_from_deg: number | null; gust_m_s: number | null; hail: boolean | null;
  rain_1h_mm: number | null; rain_24h_mm: number | null; hours: StormHours | null; source: string | null; note: string | null;
};
export type Survey = RowBase & { on: string; storm_id: Id | null; elevation_ids: Id[] | null; note: string | null };
export type Defect = RowBase & {
  number: number | null; elevation_id: Id; kind: string | null; mark: Mark; cause: string | null; signs: string[] | null; note: string | null;
};
export type ReadingState = "new" | "grown" | "held" | "repaired";
export type Reading = RowBase & {
  defect_id: Id; survey_id: Id | null; at: string; mark: Mark | null; area_m2: number | null; length_m: number | null;
  depth_mean_mm: number | null; depth_max_mm: number | null; crack_width_mm: number | null; count: number | null;
  state: ReadingState | null; note: string | null;
};
export type Urgency = "make_safe_now" | "before_next_rain" | "this_season" | "keep_watch";
export type Ticket = RowBase & {
  number: number | null; defect_ids: Id[]; method: string | null; urgency: Urgency | null; coats: Coat[] | null;
  loss: number | null; margin_mm: number | null; note: string | null;
};
export type StepKind = "taken" | "done" | "checked" | "rechecked" | "reopened";
export type TicketState = "open" | "taken" | "done" | "checked";
export type CheckAnswer = "ok" | "not_ok" | "not_looked";
export type Used = Record<string, { kg: number } | { l: number } | { m2: number } | { each: number }>;
export type Step = RowBase & {
  ticket_id: Id; kind: StepKind; at: string; used: Used | null; batches: number | null; area_m2: number | null; thickness_mm: number | null;
  checks: Record<string, CheckAnswer> | null; own_work: boolean | null; storm_id: Id | null; note: string | null;
};
export type Worker = { person: string; hours: number; skills: string[] };
export type ForecastDay = { on: string; low_c: number | null; high_c: number | null; rain_mm: number | null };
export type WorkDay = RowBase & {
  on: string; crew: Worker[] | null; mixer: boolean | null; forecast: ForecastDay[] | null; ticket_ids: Id[] | null; note: string | null;
};
export type Handout = RowBase & {
  work_day_id: Id | null; person: string | null; on: string; ticket_ids: Id[]; language: Language | null; show_place: boolean | null;
  ended_on: string | null; note: string | null;
};
export type Score = RowBase & {
  finish_id: Id; survey_id: Id | null; at: string; verdict: "held" | "worn" | "let_go"; crack_width_mm: number | null;
  crack_spacing_mm: number | null; rub: "clean" | "dust" | "grains" | "crumbles" | null; tap: "solid" | "hollow_spots" | "hollow" | null;
  bead: "beads" | "slow" | "soaks" | null; colour: "even" | "faded" | "stained" | null; depth_mean_mm: number | null; depth_max_mm: number | null;
  note: string | null;
};
export type PositionSource = "phone" | "camera_file" | "hand";
export type Photo = RowBase & {
  of_type: "defect" | "step" | "elevation" | "ticket" | "finish" | "score"; of_id: Id; sha256: string;
  media_type: "image/jpeg" | "image/png" | "image/heic"; bytes: number; taken_at: string | null;
  lat: number | null; lon: number | null; accuracy_m: number | null; heading_deg: number | null; position_source: PositionSource | null;
  preview: string | null; same_place_as: Id | null; stored: boolean | null; width_px: number | null; height_px: number | null; file_facts: FileFacts | null;
};
export type Note = RowBase & { of_type: "defect" | "ticket" | "elevation" | "storm" | "survey" | "finish"; of_id: Id; at: string; text: string };
export type Clash = RowBase & {
  of_type: string; of_id: Id; field: string; kept: unknown; lost: unknown; kept_by: string; lost_by: string; chosen: "kept" | "lost" | null;
};

export type Rows = {
  site: Site; structure: Structure; elevation: Elevation; finish: Finish; storm: Storm; survey: Survey; defect: Defect;
  reading: Reading; ticket: Ticket; step: Step; work_day: WorkDay; handout: Handout; score: Score; photo: Photo; note: Note; clash: Clash;
};
export type RowType = keyof Rows;
/** The fields a person writes: a row without what every row carries. */
export type Fields<T extends RowType> = Omit<Rows[T], keyof RowBase>;

export type Role = "keeper" | "surveyor" | "helper" | "reader";

/** One change, waiting in the outbox until the server has answered for it by its op id. */
export type Op = {
  op: Id; n: number; type: RowType; id: Id; site: Id; kind: "put" | "del"; base: number; at: string; set?: Record<string, unknown>;
};
export type OpResult = {
  op: Id; st: "applied" | "clash" | "rejected"; rev?: number; code?: string; say?: string; fields?: string[];
};
export type PulledRow = { type: RowType; id: Id; site: Id; rev: number; deleted?: true; d?: Record<string, unknown> };
