/**
 * From the size of a repair to its materials, without signal: multiplies, adds and rounds catalogue coefficients.
 * Twin of science/estimate.py, held to it by shared/vectors/estimate.json.
 */
import { batches, wholeUnits } from "./materials/batch";
import type { Extra, Material, Method, Mix } from "./catalogue";
import { coatsFor, fillMixFor, isEarth, stackWarnings, thicknessTotalMm } from "./materials/coats";
import type { Estimate, Job, Layer, MaterialNeed, MixNeed, Warning } from "./materials/job";
import { exactly, oneAnd, plus, scaled, times, total } from "./materials/range";
import { Refusal } from "./refusal";
import type { Coat, Range } from "./types";

export type { Estimate, Job } from "./materials/job";

type Mixes = Record<string, Mix>;
type Materials = Record<string, Material>;
type Size = { area_m2: number; margin_mm: number; band_m2: number; coated_m2: number; length_m: number; count: number; depth_mm: number; deepest_mm: number };

const SIZES = [
  "area_m2", "perimeter_m", "length_m", "count", "depth_mean_mm", "depth_max_mm", "crack_width_mm", "cover_mm",
  "margin_mm", "loss", "container_l", "laying_l_per_h",
] as const;

/** Area of the band of width `margin_mm` round an outline; exact where it is convex. */
export function marginBandM2(perimeter_m: number, margin_mm: number): number {
  const margin_m = margin_mm / 1000;
  return perimeter_m * margin_m + Math.PI * margin_m * margin_m;
}

/** Perimeter of the circle of that area: the least that any outline can have. */
export const leastPerimeterM = (area_m2: number): number => 2 * Math.sqrt(Math.PI * area_m2);

/** Reckon what one repair takes, with loss. Throws a Refusal: bad_value, unknown_mix, unknown_material. */
export function estimate(job: Job, method: Method, mixes: Mixes, materials: Materials): Estimate {
  check(job);
  const coats = coatsFor(job, method);
  checkCoats(coats, mixes);
  const warnings = new Set<Warning>();
  const size = sizeOf(job, method, warnings);
  const loss = job.loss == null ? method.loss : exactly(job.loss);
  const bare = method.per === "none" ? [] : layersOf(job, method, coats, mixes, size, warnings);
  const layers = bare.map((layer) => ({ ...layer, wet_l: times(layer.wet_l, oneAnd(loss)) }));
  const needs = mixNeeds(job, layers, mixes);
  warnOfCoats(job, size, layers, mixes, warnings);
  return {
    area_m2: size.area_m2, margin_mm: size.margin_mm, margin_area_m2: size.band_m2, coated_area_m2: size.coated_m2,
    loss, layers, mixes: needs,
    materials: materialNeeds(needs, extrasOf(method, size, warnings), mixes, materials),
    hazards: [...new Set([...method.hazards, ...needs.flatMap((need) => mixes[need.mix]?.hazards ?? [])])].sort(),
    warnings: [...warnings].sort(), engineer_first: method.engineer_first,
  };
}

function check(job: Job): void {
  for (const name of SIZES) {
    const value = job[name];
    if (value == null) continue;
    if (!Number.isFinite(value) || value < 0) throw new Refusal("bad_value", { [name]: "not negative" });
  }
  if ((job.loss ?? 0) > 1) throw new Refusal("bad_value", { loss: "0 to 1" });
  for (const name of ["container_l", "laying_l_per_h"] as const) {
    if (job[name] === 0) throw new Refusal("bad_value", { [name]: "more than 0" });
  }
}

function checkCoats(coats: readonly Coat[], mixes: Mixes): void {
  for (const coat of coats) {
    if (!mixes[coat.mix]) throw new Refusal("unknown_mix", { coats: coat.mix });
    if (!(Number.isFinite(coat.thickness_mm) && coat.thickness_mm > 0)) throw new Refusal("bad_value", { coats: coat.mix });
  }
}

function mixOf(mixes: Mixes, id: string): Mix {
  const mix = mixes[id];
  if (!mix) throw new Refusal("unknown_mix", { mix: id });
  return mix;
}

function sizeOf(job: Job, method: Method, warnings: Set<Warning>): Size {
  const area_m2 = job.area_m2 ?? 0;
  const margin_mm = job.margin_mm ?? method.margin_mm;
  let band_m2 = 0;
  if (area_m2 > 0 && margin_mm > 0) {
    if (!job.perimeter_m) warnings.add("perimeter_assumed");
    band_m2 = marginBandM2(job.perimeter_m || leastPerimeterM(area_m2), margin_mm);
  }
  const depth_mm = job.depth_mean_mm ?? job.depth_max_mm ?? 0;
  return {
    area_m2, margin_mm, band_m2, coated_m2: area_m2 + band_m2, length_m: job.length_m ?? 0, count: job.count ?? 0,
    depth_mm, deepest_mm: Math.max(job.depth_max_mm ?? 0, depth_mm),
  };
}

function layersOf(job: Job, method: Method, coats: Coat[], mixes: Mixes, size: Size, warnings: Set<Warning>): Layer[] {
  if (size.area_m2 === 0 && (coats.length > 0 || method.per === "area" || method.per === "volume")) warnings.add("no_area");
  const fillMix = fillMixFor(job, method);
  const dubMix = (isEarth(job) && method.earth_dub_out_mix) || method.dub_out_mix;
  const layers: Layer[] = [];
  if (fillMix) {
    const wet_l = fillL(job, method, size, warnings);
    if (wet_l.high > 0) layers.push({ mix: fillMix, part: "fill", thickness_mm: null, lifts: 1, wet_l });
  }
  if (size.area_m2 === 0) return layers;
  let left_mm = dubMix ? leftToFillMm(thicknessTotalMm(coats, mixes), size, warnings) : 0;
  if (dubMix && left_mm > method.dub_out_over_mm) {
    layers.push(dubOut(method, dubMix, left_mm, size));
    left_mm = 0;
  }
  for (const coat of coats) {
    const layer = coatLayer(coat, method, mixOf(mixes, coat.mix), size, left_mm);
    layers.push(layer);
    if (layer.thickness_mm) left_mm = 0;
  }
  return layers;
}

/** Mean depth beyond the coats; warns of what is not known and of coats that stand proud. */
function leftToFillMm(coats_mm: number, size: Size, warnings: Set<Warning>): number {
  if (size.depth_mm === 0) warnings.add("depth_unknown");
  else if (size.deepest_mm < coats_mm) warnings.add("proud_of_face");
  return Math.max(0, size.depth_mm - coats_mm);
}

function dubOut(method: Method, mix: string, fill_mm: number, size: Size): Layer {
  const deepest_mm = fill_mm + size.deepest_mm - size.depth_mm;
  const lifts = wholeUnits(deepest_mm, method.lift_mm || deepest_mm);
  return { mix, part: "dub_out", thickness_mm: fill_mm, lifts, wet_l: scaled(method.thickness_factor, size.area_m2 * fill_mm) };
}

/** One coat; `left_mm` of depth too shallow to dub out is laid with it over the damaged area. */
function coatLayer(coat: Coat, method: Method, mix: Mix, size: Size, left_mm: number): Layer {
  const cover = mix.coverage_m2_per_l;
  if (cover) {
    const wet_l = { low: size.coated_m2 / cover.high, likely: size.coated_m2 / cover.likely, high: size.coated_m2 / cover.low };
    return { mix: coat.mix, part: "coat", thickness_mm: null, lifts: 1, wet_l };
  }
  const volume_l = size.coated_m2 * coat.thickness_mm + size.area_m2 * left_mm;
  return { mix: coat.mix, part: "coat", thickness_mm: coat.thickness_mm + left_mm, lifts: 1, wet_l: scaled(method.thickness_factor, volume_l) };
}

function fillL(job: Job, method: Method, size: Size, warnings: Set<Warning>): Range {
  if (method.per === "count") {
    if (size.count === 0) warnings.add("no_count");
    return scaled(method.fill_l_each ?? exactly(0), size.count);
  }
  if (size.length_m === 0) warnings.add("no_length");
  return scaled(method.fill_l_per_m ?? crackLPerM(job, method, size, warnings), size.length_m);
}

function crackLPerM(job: Job, method: Method, size: Size, warnings: Set<Warning>): Range {
  const width_mm = job.crack_width_mm ?? 0;
  if (width_mm === 0) warnings.add("no_crack_width");
  if (size.depth_mm === 0) warnings.add("depth_unknown");
  const depth_mm = size.depth_mm ? scaled(method.thickness_factor, size.depth_mm) : method.crack_depth_mm;
  return scaled(depth_mm ?? exactly(0), Math.max(width_mm, method.opened_mm ?? 0) / 1000);
}

function extrasOf(method: Method, size: Size, warnings: Set<Warning>): [string, Range][] {
  return method.extra.flatMap((extra) =>
    extraTerms(extra, size).map(([amount, measure, warning]): [string, Range] => {
      if (measure === 0) warnings.add(warning);
      return [extra.material, scaled(amount, measure)];
    }),
  );
}

function extraTerms(extra: Extra, size: Size): [Range, number, Warning][] {
  const terms: [Range, number, Warning][] = [];
  if (extra.per_m2) terms.push([extra.per_m2, size.coated_m2, "no_area"]);
  if (extra.per_m) terms.push([extra.per_m, size.length_m, "no_length"]);
  if (extra.per_each) terms.push([extra.per_each, size.count, "no_count"]);
  return terms;
}

function mixNeeds(job: Job, layers: readonly Layer[], mixes: Mixes): MixNeed[] {
  return [...new Set(layers.map((layer) => layer.mix))].map((id) => {
    const mix = mixOf(mixes, id);
    const wet_l = total(layers.filter((layer) => layer.mix === id).map((layer) => layer.wet_l));
    const plan = batches(wet_l.likely, job.container_l ?? mix.container_l, mix.working_h.low, job.laying_l_per_h ?? mix.laying_l_per_h);
    return { mix: id, wet_l, batches: plan };
  });
}

function warnOfCoats(job: Job, size: Size, layers: readonly Layer[], mixes: Mixes, warnings: Set<Warning>): void {
  const coats = layers.filter((layer) => layer.part === "coat").map((layer) => ({ mix: layer.mix, thickness_mm: layer.thickness_mm ?? 0 }));
  const filled_mm = layers.reduce((sum, layer) => sum + (layer.thickness_mm ?? 0), 0);
  for (const layer of layers) {
    const mix = mixOf(mixes, layer.mix);
    for (const warning of mix.warnings) warnings.add(warning as Warning);
    if (job.wall_material && mix.not_over.includes(job.wall_material)) warnings.add("stronger_than_wall");
    const isPlaster = layer.part !== "fill" && (mix.kind === "plaster" || mix.kind === "earth");
    if (isPlaster && !job.panel_mixes?.includes(layer.mix)) warnings.add("untested_on_this_wall");
  }
  const below = layers.find((layer) => layer.part === "dub_out")?.mix ?? null;
  for (const warning of stackWarnings(coats, mixes, below)) warnings.add(warning);
  const cover_mm = job.cover_mm ?? 0;
  if (cover_mm > 0 && cover_mm <= size.deepest_mm && coats.length > 0 && filled_mm < cover_mm) warnings.add("thin_over_cover");
}

function materialNeeds(needs: readonly MixNeed[], extras: readonly [string, Range][], mixes: Mixes, materials: Materials): Record<string, MaterialNeed> {
  const found: Record<string, MaterialNeed> = {};
  for (const need of needs) {
    for (const [id, each] of Object.entries(mixOf(mixes, need.mix).per_l)) {
      addNeed(found, id, materials, each.kg && times(each.kg, need.wet_l), each.l && times(each.l, need.wet_l));
    }
  }
  for (const [id, amount] of extras) addNeed(found, id, materials, amount, materials[id]?.unit === "l" ? amount : null);
  return found;
}

function addNeed(found: Record<string, MaterialNeed>, id: string, materials: Materials, kg: Range | null, loose_l: Range | null): void {
  const material = materials[id];
  if (!material) throw new Refusal("unknown_material", { material: id });
  const before = found[id];
  const more = (material.unit === "l" ? loose_l : kg) ?? exactly(0);
  const l = before?.l && loose_l ? plus(before.l, loose_l) : (before?.l ?? loose_l);
  found[id] = {
    unit: material.unit,
    amount: before ? plus(before.amount, more) : more,
    l,
    damp_l: material.bulking && l ? times(l, oneAnd(material.bulking)) : null,
  };
}
