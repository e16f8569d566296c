/** A defect while it is being marked: what the screen asks, and the rows it becomes. */
import type { FinishKind, Mix } from "../catalogue";
import { type Size, type Wall, factsOf, sizeOfMark } from "../defect";
import type { OnPhoto } from "../measuring/draft";
import type { Defect, Elevation, Fields, Id, Mark, MarkShape, Reading, View, WallPoint } from "../types";
import type { Facts } from "../urgency";

export type Measures = Pick<Reading, "area_m2" | "length_m" | "depth_max_mm" | "depth_mean_mm" | "crack_width_mm" | "count">;
export type Question = "area" | "depth" | "crack_width" | "length" | "count";
export type Drawn = { view: View; shape: MarkShape; points_m: readonly WallPoint[] };
export type MarkDraft = Drawn & Measures & {
  elevation_id: Id;
  /** The defect that is being changed and the revision the person saw; null for a new one. */
  defect_id: Id | null;
  seen: number | null;
  kind: string | null;
  signs: readonly string[];
  cause: string | null;
  note: string;
  /** Directions of photos given by hand, by hash. */
  headings: Record<string, number>;
  /** An outline being drawn on a photo. */
  on_photo?: OnPhoto | null;
};

export const NO_MEASURES: Measures = { area_m2: null, length_m: null, depth_max_mm: null, depth_mean_mm: null, crack_width_mm: null, count: null };

export function emptyMark(elevation_id: Id): MarkDraft {
  return {
    ...NO_MEASURES, elevation_id, defect_id: null, seen: null, view: "seen", shape: "pin", points_m: [], kind: null, signs: [], cause: null,
    note: "", headings: {},
  };
}

/** A defect as it stands, to be changed; what was measured or drawn anew stays with its readings. */
export function draftOf(defect: Defect): MarkDraft {
  return {
    ...emptyMark(defect.elevation_id), ...defect.mark, defect_id: defect.id, seen: defect.rev, kind: defect.kind, signs: defect.signs ?? [],
    cause: defect.cause, note: defect.note ?? "",
  };
}

const LEAST: Record<MarkShape, number> = { pin: 1, line: 2, outline: 3 };

/** The mark as it would be kept: with too few points for its shape it counts as the lesser one; null without a point. */
export function markOfDrawn({ view, shape, points_m }: Drawn): Mark | null {
  const n = points_m.length;
  if (n === 0) return null;
  const kept = n >= LEAST[shape] ? shape : n >= 2 ? "line" : "pin";
  return { view, shape: kept, points_m: kept === "pin" ? points_m.slice(0, 1) : [...points_m] };
}

/** Points as an address carries them, "1.25,0.4;2,0.4"; what is no pair of numbers is left out. */
export function readPoints(text: string | undefined): WallPoint[] {
  const pairs = (text ?? "").split(";").map((pair) => pair.split(",").map((one) => (one.trim() === "" ? NaN : Number(one))));
  return pairs.filter((pair) => pair.length === 2 && pair.every(Number.isFinite)).map(([x = 0, y = 0]): WallPoint => [x, y]);
}

/** What to ask: the kind's own measures, else those that the drawn shape suggests. */
export function questionsFor(measures: readonly Question[] | null, shape: MarkShape): Question[] {
  if (measures) return [...measures];
  return shape === "line" ? ["crack_width", "length"] : ["area", "depth"];
}

/** Measures with what the drawing itself tells: a drawn outline has its area, a drawn line its length. */
export function measuredOn(measures: Measures, size: Size | null): Measures {
  return { ...NO_MEASURES, ...pickMeasures(measures), area_m2: size?.area_m2 ?? measures.area_m2, length_m: size?.length_m ?? measures.length_m };
}

export function pickMeasures(from: Measures): Measures {
  const { area_m2, length_m, depth_max_mm, depth_mean_mm, crack_width_mm, count } = from;
  return { area_m2, length_m, depth_max_mm, depth_mean_mm, crack_width_mm, count };
}

/** The code of what makes a mark none on this wall, or null. A steep view is a warning and no refusal. */
export function refusalOf(size: Size | null): string | null {
  return size?.warnings.find((code) => code.startsWith("outline_") || code.endsWith("_refused") || code === "bad_value") ?? null;
}

export const sizeOfDrawn = (drawn: Drawn, elevation: Elevation): Size | null => {
  const mark = markOfDrawn(drawn);
  return mark ? sizeOfMark(mark, elevation) : null;
};

export function defectFields(draft: MarkDraft, mark: Mark): Partial<Fields<"defect">> {
  const note = draft.note.trim();
  return {
    elevation_id: draft.elevation_id, kind: draft.kind, mark, cause: draft.cause, signs: draft.signs.length ? [...draft.signs] : null,
    note: note === "" ? null : note,
  };
}

/** Facts for urgency and method while nothing is kept yet; null until there is a mark. */
export function draftFacts(draft: MarkDraft, readings: readonly Reading[], wall: Wall, mixes: Record<string, Mix>): (Facts & { finish_kind: FinishKind }) | null {
  const mark = markOfDrawn(draft);
  if (!mark) return null;
  const base = { id: "", site_id: "", rev: 0, made_at: "", made_by: "" };
  const defect: Defect = { ...base, number: null, elevation_id: draft.elevation_id, kind: draft.kind, mark, cause: draft.cause, signs: [...draft.signs], note: null };
  if (draft.defect_id) return factsOf(defect, readings, wall, mixes);
  const first: Reading = {
    ...base, ...measuredOn(draft, sizeOfMark(mark, wall.elevation)), defect_id: "", survey_id: null, at: "", mark: null, state: null, note: null,
  };
  return factsOf(defect, [first], wall, mixes);
}

/** Whether anything was entered that would be missed. */
export function isBlank(draft: MarkDraft): boolean {
  return draft.points_m.length === 0 && draft.kind === null && draft.signs.length === 0 && draft.note === "" && draft.cause === null
    && Object.values(pickMeasures(draft)).every((value) => value === null);
}
