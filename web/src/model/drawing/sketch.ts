/** A side of a structure as it is being entered: what people measure (across, not radius), possibly not all of it yet. */
import { Refusal } from "../refusal";
import { checkSurface } from "../surface";
import type { Elevation, Opening, OpeningKind, Surface } from "../types";
import { extentOf } from "./projection";

export type WallKind = Surface["kind"];
export type DomeShape = "hemisphere" | "cap" | "lancet" | "cone" | "profile";
export type Ring = { across_m: number | null; height_m: number | null };
export type OpeningSketch = Omit<Opening, "x_m" | "y_m" | "width_m" | "height_m"> & Record<"x_m" | "y_m" | "width_m" | "height_m", number | null>;
export type Sketch = {
  name: string; kind: WallKind; shape: DomeShape;
  width_m: number | null; height_m: number | null; batter_deg: number | null; across_m: number | null; across_top_m: number | null;
  rings: Ring[]; bearing_deg: number | null; openings: OpeningSketch[];
};
export type SizeField = "width_m" | "height_m" | "batter_deg" | "across_m" | "across_top_m" | "rings";

export const NEW_SKETCH: Sketch = {
  name: "", kind: "flat", shape: "lancet", width_m: null, height_m: null, batter_deg: 0, across_m: null, across_top_m: 0,
  rings: [{ across_m: null, height_m: 0 }, { across_m: null, height_m: null }], bearing_deg: null, openings: [],
};

const twice = (radius_m: number) => Math.round(radius_m * 2e6) / 1e6;

function sizesOf(surface: Surface): Partial<Sketch> {
  if (surface.kind === "flat") return { width_m: surface.width_m, height_m: surface.height_m, batter_deg: surface.batter_deg };
  if (surface.kind === "round_wall") return { across_m: twice(surface.radius_m), height_m: surface.height_m };
  switch (surface.shape) {
    case "hemisphere": return { shape: "hemisphere", across_m: twice(surface.radius_m) };
    case "cone": return { shape: "cone", across_m: twice(surface.base_radius_m), across_top_m: twice(surface.top_radius_m), height_m: surface.height_m };
    case "profile": return { shape: "profile", rings: surface.points_m.map(([radius, height_m]) => ({ across_m: twice(radius), height_m })) };
    default: return { shape: surface.shape, across_m: twice(surface.base_radius_m), height_m: surface.height_m };
  }
}

export function sketchOf(elevation: Elevation): Sketch {
  const { name, surface, bearing_deg, openings } = elevation;
  return { ...NEW_SKETCH, ...sizesOf(surface), name, kind: surface.kind, bearing_deg, openings: openings ?? [] };
}

/** The sizes that this kind of wall asks for. */
export function asked({ kind, shape }: Sketch): SizeField[] {
  if (kind === "flat") return ["width_m", "height_m", "batter_deg"];
  if (kind === "round_wall") return ["across_m", "height_m"];
  if (shape === "profile") return ["rings"];
  if (shape === "hemisphere") return ["across_m"];
  return shape === "cone" ? ["across_m", "across_top_m", "height_m"] : ["across_m", "height_m"];
}

const half = (across_m: number | null) => (across_m === null ? null : across_m / 2);

function described(sketch: Sketch): Record<string, unknown> {
  const { kind, shape, width_m, height_m, batter_deg, across_m, across_top_m, rings } = sketch;
  if (kind === "flat") return { kind, width_m, height_m, batter_deg: batter_deg ?? 0 };
  if (kind === "round_wall") return { kind, radius_m: half(across_m), height_m };
  if (shape === "hemisphere") return { kind, shape, radius_m: half(across_m) };
  if (shape === "profile") return { kind, shape, points_m: rings.map((ring) => [half(ring.across_m), ring.height_m]) };
  const sizes = { kind, shape, base_radius_m: half(across_m), height_m };
  return shape === "cone" ? { ...sizes, top_radius_m: half(across_top_m) ?? 0 } : sizes;
}

const FIELD_OF: Record<string, SizeField> = {
  width_m: "width_m", height_m: "height_m", batter_deg: "batter_deg", radius_m: "across_m", base_radius_m: "across_m", top_radius_m: "across_top_m", points_m: "rings",
};

export type SurfaceRead = { surface: Surface; wrong: null } | { surface: null; wrong: { field: SizeField; code: "missing" | "surface_refused" } };

/** The surface, or the first size that keeps it from being one. */
export function surfaceOf(sketch: Sketch): SurfaceRead {
  const missing = asked(sketch).find((field) => (field === "rings" ? sketch.rings.some((ring) => ring.across_m === null || ring.height_m === null)
    : field !== "batter_deg" && field !== "across_top_m" && sketch[field] === null));
  if (missing) return { surface: null, wrong: { field: missing, code: "missing" } };
  try {
    return { surface: checkSurface(described(sketch)), wrong: null };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { surface: null, wrong: { field: FIELD_OF[Object.keys(error.fields)[0] ?? ""] ?? "height_m", code: "surface_refused" } };
  }
}

/** Something of this kind to show while sizes are missing. */
export function guessed(sketch: Sketch): Surface {
  const filled: Sketch = {
    ...sketch, width_m: sketch.width_m ?? 4, height_m: sketch.height_m ?? (sketch.shape === "lancet" && sketch.kind === "dome" ? 3.6 : 2.2), across_m: sketch.across_m ?? 4,
    rings: sketch.rings.map((ring, i) => ({ across_m: ring.across_m ?? 4 - i, height_m: ring.height_m ?? i * 1.2 })),
  };
  return surfaceOf(filled).surface ?? { kind: "flat", width_m: 4, height_m: 2.2, batter_deg: 0 };
}

const SIZES: Record<OpeningKind, [width_m: number, height_m: number, up_m: number]> = {
  door: [0.9, 2, 0], window: [0.8, 0.8, 1], niche: [0.4, 0.5, 1.2], ledge: [1, 0.06, 1], gutter: [2, 0.12, 2.2],
};

/** An opening of the usual size for its kind, in the middle of the wall. */
export function newOpening(kind: OpeningKind, surface: Surface): OpeningSketch {
  const box = extentOf(surface, "seen");
  const [width_m, height_m, up] = SIZES[kind];
  const fits = { width_m: Math.min(width_m, box.x1 - box.x0), height_m: Math.min(height_m, box.y1) };
  const x_m = Math.round(((box.x0 + box.x1 - fits.width_m) / 2) * 1000) / 1000;
  return { kind, head: "flat", ...fits, x_m, y_m: Math.round(Math.max(0, Math.min(up, box.y1 - fits.height_m)) * 1000) / 1000 };
}

export type OpeningTrouble = { field: "x_m" | "y_m" | "width_m" | "height_m"; code: "missing" | "off" | "arch" };
const PARTS = ["width_m", "height_m", "y_m", "x_m"] as const;

/** The first thing that keeps an opening from being kept: the same limits as the server's. */
export function openingTrouble(opening: OpeningSketch, surface: Surface): OpeningTrouble | null {
  const missing = PARTS.find((field) => opening[field] === null);
  if (missing) return { field: missing, code: "missing" };
  const { x_m, y_m, width_m, height_m, head } = opening as Opening;
  const nothing = width_m <= 0 ? "width_m" : height_m <= 0 ? "height_m" : null;
  if (nothing) return { field: nothing, code: "missing" };
  if (head === "arched" && height_m < width_m / 2) return { field: "height_m", code: "arch" };
  const box = extentOf(surface, "seen");
  const slack = 0.001;
  if (x_m < box.x0 - slack || x_m + width_m > box.x1 + slack) return { field: "x_m", code: "off" };
  return y_m < -slack || y_m + height_m > box.y1 + slack ? { field: "y_m", code: "off" } : null;
}

/** Those openings that can be drawn and kept as they stand. */
export function soundOpenings(openings: readonly OpeningSketch[], surface: Surface): Opening[] {
  return openings.filter((one) => openingTrouble(one, surface) === null) as Opening[];
}
