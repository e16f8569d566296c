/** The catalogue the server publishes (DEVELOPERS.md 3.4): words, coefficients and rules, kept on the phone so that it can reckon without signal. */
import type { MethodRates, Rates } from "./planning/hours";
import type { Coat, Range } from "./types";

export type Language = "en" | "es";
export type Words<T> = Record<Language, T>;

/** Where a number comes from: seen in its source, from memory of it, what people do, or assumed. */
export type Basis = "read" | "from memory" | "common practice" | "assumed";
export type Unit = "kg" | "l" | "m2" | "each";

export type Material = {
  words: Words<string>;
  unit: Unit;
  /** What the trade usually packs it in; null where it is bought loose. */
  bag_kg: number | null;
  bulk_kg_l: Range | null;
  /** How much more room damp sand takes than dry, as a share; null for what does not bulk. */
  bulking: Range | null;
  basis: Basis;
  source: string;
  hazards: string[];
  /** Measured in spoons and grams rather than in buckets. */
  small: boolean;
};

/** Of one litre in place; `kg` or `l` is null where it makes no sense for the material. */
export type PerLitre = { kg: Range | null; l: Range | null };
export type MixKind = "plaster" | "wash" | "earth" | "grout";
export type Yield = {
  voids_filled: number | null;
  dry_loose_factor: Range;
  /** Litres of water for one litre in place, also in `per_l`. */
  water_l: Range;
  fresh_kg_l: Range;
};

export type Mix = {
  words: Words<{ name: string; use: string }>;
  /** Loose volumes, dry sand; water is left out where it follows from the rest. */
  parts: { material: string; parts: number }[];
  additions: { material: string; kg_per_m3?: Range; l_per_m3?: Range; note: Words<string> }[];
  kind: MixKind;
  per_l: Record<string, PerLitre>;
  yield: Yield;
  /** Binder parts to one part of aggregate: the larger, the richer. */
  rich: number;
  /** Wall materials that are weaker than this mix. */
  not_over: string[];
  /** A thrown key coat, excepted from the rule that no coat is richer than the one below. */
  stipple: boolean;
  /** Usual thickness of one coat; null for what is not laid in coats. */
  coat_mm: Range | null;
  /** Square metres that one litre covers in one coat; only for washes. */
  coverage_m2_per_l: Range | null;
  damp_days: Range;
  interval_days: Range;
  /** How long it must not freeze after laying; where that figure comes from stands with it. */
  frost_free_days: Range & { basis: Basis; source: string };
  working_h: Range;
  /** The vessel it is usually mixed in, and what one person lays in an hour; both assumed. */
  container_l: number;
  laying_l_per_h: number;
  warnings: string[];
  hazards: string[];
  basis: Basis;
  source: string;
};

export type Per = "area" | "length" | "count" | "volume" | "none";
/** One of the amounts, in the material's own unit. */
export type Extra = { material: string; per_m2?: Range; per_m?: Range; per_each?: Range };

export type MethodWords = { name: string; short: string; steps: string[]; tools: string[]; cautions: string[] };
/** A wait a method names itself. `wait`: which days of what is laid it makes longer; null, or missing in an old catalogue: nothing laid waits for it. */
export type Cure = { words: Words<string>; days: Range; wait?: "lift" | "filling" | "coat_1" | "coat_2" | "between" | "last" | "frost" | null };
export type Method = {
  words: Words<MethodWords>;
  per: Per;
  coats: Coat[];
  /** Taken instead of `coats` where the finish is earth or there is none; null: the same coats. */
  earth_coats: Coat[] | null;
  /** What depth beyond the coats is filled with, in lifts of at most `lift_mm`. */
  dub_out_mix: string | null;
  earth_dub_out_mix: string | null;
  lift_mm: number | null;
  /** Depth beyond the coats up to which it is laid with the first coat. */
  dub_out_over_mm: number;
  /** What a crack, a hole, a bed or a metre of cap is filled with. */
  fill_mix: string | null;
  earth_fill_mix: string | null;
  /** Litres of fill for each hole or stone. */
  fill_l_each: Range | null;
  /** Litres of fill for each metre of cap or ledge; null: width times depth of the crack. */
  fill_l_per_m: Range | null;
  /** Depth of a crack nobody measured. */
  crack_depth_mm: Range | null;
  /** A crack is opened at least this wide before it is filled. */
  opened_mm: number | null;
  margin_mm: number;
  /** How far laid thickness strays from the thickness asked for. */
  thickness_factor: Range;
  loss: Range;
  extra: Extra[];
  cure: Cure[];
  /** What stands instead where all that is laid is earth; missing in a catalogue kept from before it came. */
  earth?: { words: Words<MethodWords>; cure: Cure[]; basis: Basis; source: string } | null;
  skills: string[];
  hazards: string[];
  engineer_first: boolean;
  basis: Basis;
  source: string;
};

export type Hazard = { words: Words<{ name: string; short: string; care: string[] }>; basis: Basis; source: string };

export type SuggestNeeds = {
  sign?: string;
  depth_over_mm?: number;
  depth_upto_mm?: number;
  crack_over_mm?: number;
  area_over_m2?: number;
  beyond_cover?: boolean;
  finish_kind?: FinishKind;
  wall_material?: string[];
};
/** `kinds` may be ["*"]: every kind. */
export type SuggestRule = { id: string; kinds: string[]; needs: SuggestNeeds; method: string };
export type FinishKind = "lime" | "earth" | "none";

/** Hours of work, all assumed (shared/work_rates.json). */
export type WorkRates = Rates & {
  covers: Record<string, string[]>; methods: Record<string, MethodRates & { basis: Basis; source: string }>; basis: Basis; source: string;
};

/** What tells that a finish wore or let go, when panels are due, and clocks for what lies bare (shared/lasting.json). */
export type LastingRules = {
  kinds: { let_go: string[]; worn: string[]; basis: Basis; source: string };
  thickness_mm: number[];
  panels: { needed: number; young_days: number; young_every_days: number; after_storm_days: number; basis: Basis; source: string };
  wall_shows_storms: number;
  clocks: { id: "bag_in_sun" | "straw_wet"; wall_materials: string[]; kinds: string[]; signs: string[]; weeks: number[]; basis: Basis; source: string }[];
};

/** What a side earns on the list of where to look first (shared/look_first.json). */
export type LookFirstRules = {
  dose: { points: number; basis: Basis; source: string };
  reasons: Record<LookReason, { points: number; at_most: number; basis: Basis; source: string }>;
  bare_kinds: string[];
};
export type LookReason = "urgent" | "weak" | "unfinished" | "bare" | "gutter" | "ledge";

export type Catalogue = {
  hash: string;
  vocabulary: Record<string, unknown>;
  drawings: Record<string, unknown>;
  urgency: Record<string, unknown>;
  states: Record<string, unknown>;
  roles: Record<string, unknown>;
  /** `defer` is the sentence that goes with every safety card. */
  hazards: { defer: Words<string>; hazards: Record<string, Hazard> };
  materials: Record<string, Material>;
  mixes: Record<string, Mix>;
  methods: Record<string, Method>;
  suggest: SuggestRule[];
  /** Missing in a catalogue kept from before it came. */
  work_rates?: WorkRates;
  lasting?: LastingRules;
  look_first?: LookFirstRules;
  /** Sources in the other languages, by their English text. */
  sources?: Partial<Record<Language, Record<string, string>>>;
};

const SILENT: Words<string> = { en: "", es: "" };

/** The name of a mix, with proportions that no line end may part: "1 : 2½". */
export const mixName = (mix: Mix, language: Language): string => mix.words[language].name.replaceAll(" : ", "\u00a0:\u00a0");

/** The name of a material, mix or method; its id where the catalogue does not know it. */
export function nameOf(catalogue: Catalogue, what: "materials" | "mixes" | "methods" | "hazards", id: string, language: Language): string {
  if (what === "materials") return (catalogue.materials[id]?.words ?? SILENT)[language] || id;
  const mix = what === "mixes" ? catalogue.mixes[id] : undefined;
  if (what === "mixes") return mix ? mixName(mix, language) : id;
  if (what === "methods") return catalogue.methods[id]?.words[language].name ?? id;
  return catalogue.hazards.hazards[id]?.words[language].name ?? id;
}

/** The kind of finish that a stack of coats makes, for suggestions: the outermost coat that is not a wash decides. */
export function finishKindOf(coats: readonly Coat[], mixes: Record<string, Mix>): FinishKind {
  const kinds = coats.map((coat) => mixes[coat.mix]?.kind).filter((kind) => kind !== undefined && kind !== "wash");
  if (kinds.length === 0) return coats.length === 0 ? "none" : "lime";
  return kinds[kinds.length - 1] === "earth" ? "earth" : "lime";
}
