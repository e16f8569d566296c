import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/estimate.json";
import type { Material, Method, Mix } from "../catalogue";
import type { Defect, Elevation, Mark, Reading, Structure } from "../types";
import { movesOf } from "./moves";
import { type Choices, type Found, type SiteWays, reckonRepair, withoutLoss } from "./repair";
import { coatsOfParts } from "../waiting/curing";
import { laidCoats } from "../waiting/laid";
import { lastDay, waitsOf } from "../waiting/waits";

// The vectors hold what the estimate reads; waiting days and bags are added here.
const days = (likely: number) => ({ low: likely - 1, likely, high: likely + 1 });
const given = vectors.catalogue as unknown as { mixes: Record<string, Mix>; materials: Record<string, Material> };
const book = {
  mixes: Object.fromEntries(Object.entries(given.mixes).map(([id, mix]): [string, Mix] => [id, { ...mix, damp_days: days(3), interval_days: days(5) }])),
  materials: { ...given.materials, nhl_2: { ...given.materials.nhl_2, bag_kg: 25 } as Material },
};
const methods = vectors.catalogue.methods as unknown as Record<string, Method>;
const method = (id: string): Method => ({ ...(methods[id] as Method), cure: [], words: { en: { name: id }, es: { name: id } } as Method["words"] });
const row = { site_id: "s", rev: 1, made_at: "2026-03-01T10:00:00Z", made_by: "Oona" };
const elevation: Elevation = {
  ...row, id: "e", structure_id: "st", name: "south", bearing_deg: 180, openings: null, backdrop: null,
  surface: { kind: "round_wall", radius_m: 3, height_m: 3 },
};
const structure: Structure = { ...row, id: "st", name: "hide", wall_material: "cob", wall_thickness_mm: 450, note: null };
const finish = { ...row, id: "f", elevation_id: "e", name: "lime", coats: [{ mix: "lime_coat", thickness_mm: 20 }], region: null, made_on: null, ended_on: null, sample_panel: null, note: null };
const square = (x: number, side: number): Mark => ({ view: "seen", shape: "outline", points_m: [[x, 0.5], [x + side, 0.5], [x + side, 0.5 + side], [x, 0.5 + side]] });

function found(id: string, mark: Mark, read: Partial<Reading> = {}): Found {
  const defect: Defect = { ...row, id, number: 1, elevation_id: "e", kind: "spalling", mark, cause: null, signs: null, note: null };
  const reading: Reading = {
    ...row, id: `r${id}`, defect_id: id, survey_id: null, at: row.made_at, mark: null, area_m2: null, length_m: null, depth_mean_mm: 24,
    depth_max_mm: 30, crack_width_mm: null, count: null, state: "new", note: null, ...read,
  };
  return { defect, readings: [reading], wall: { elevation, structure, finishes: [finish] } };
}
const plain: Choices = { coats: null, loss: null, margin_mm: null };
const site: SiteWays = { loss: null, bags: null };
const patch = method("patch_three_coats");

describe("a ticket's repair", () => {
  test("two defects take what each takes alone, and the area is the true one", () => {
    const [a, b] = [found("a", square(-2, 0.6)), found("b", square(1.5, 0.5))];
    const both = reckonRepair([a, b], patch, plain, site, book);
    const apart = [a, b].map((one) => reckonRepair([one], patch, plain, site, book));
    const add = (of: (one: (typeof apart)[number]) => number) => apart.reduce((all, one) => all + of(one), 0);
    expect(both.area_m2).toBeCloseTo(add((one) => one.area_m2), 12);
    expect(both.area_m2).toBeGreaterThan(both.as_drawn_m2);
    expect(both.as_drawn_m2).toBeCloseTo(0.36 + 0.25, 9);
    expect(both.materials.nhl_2?.amount.high).toBeCloseTo(add((one) => one.materials.nhl_2?.amount.high ?? NaN), 9);
    expect(both.with_loss_l.likely).toBeCloseTo(add((one) => one.with_loss_l.likely), 9);
    expect(both.purchases.nhl_2?.bags).toBe(Math.ceil((both.materials.nhl_2?.amount.high ?? NaN) / 25));
  });

  test("batches are cut from the whole ticket, not patch by patch", () => {
    const small = ["a", "b", "c"].map((id, i) => found(id, square(-1 + i * 0.5, 0.2)));
    const whole = reckonRepair(small, patch, plain, site, book);
    expect(whole.mixes.map((need) => need.batches.count)).toEqual(whole.mixes.map(() => 1));
    expect(whole.parts.flatMap((part) => part.estimate.mixes)).toHaveLength(3 * whole.mixes.length);
  });

  test("loss: the ticket's own before the site's, the site's before the method's", () => {
    const one = [found("a", square(-1, 0.5))];
    const lossOf = (choices: Choices, ways: SiteWays) => reckonRepair(one, patch, choices, ways, book).loss.likely;
    expect(lossOf({ ...plain, loss: 0.3 }, { ...site, loss: 0.2 })).toBe(0.3);
    expect(lossOf(plain, { ...site, loss: 0.2 })).toBe(0.2);
    expect(lossOf(plain, site)).toBe(patch.loss.likely);
    expect(lossOf({ ...plain, loss: 0 }, { ...site, loss: 0.2 })).toBe(0);
  });

  test("own coats and margin reach the estimate; loss comes off again", () => {
    const one = [found("a", { view: "seen", shape: "pin", points_m: [[0, 1]] }, { area_m2: 1, depth_mean_mm: 10, depth_max_mm: 10 })];
    const own = { coats: [{ mix: "lime_coat", thickness_mm: 10 }], loss: 0.25, margin_mm: 0 };
    const repair = reckonRepair(one, method("patch_one_coat"), own, site, book);
    expect(repair.in_place_l.likely).toBeCloseTo(10, 9);
    expect(repair.with_loss_l.likely).toBeCloseTo(12.5, 9);
    const [layer] = repair.parts[0]?.estimate.layers ?? [];
    expect(layer && withoutLoss(layer, repair.loss).likely).toBeCloseTo(10, 9);
  });

  test("the site's own bags count", () => {
    const one = [found("a", square(-1, 1))];
    const bought = reckonRepair(one, patch, plain, { loss: null, bags: { nhl_2: { bag_kg: 10, price: 7 } } }, book).purchases.nhl_2;
    expect(bought?.bag_kg).toBe(10);
    expect(bought?.price).toBe((bought?.bags ?? NaN) * 7);
  });
});

describe("coats and waiting", () => {
  const mix = (id: string, kind: Mix["kind"], damp: number, interval: number): [string, Mix] =>
    [id, { ...(book.mixes.lime_coat as Mix), kind, damp_days: days(damp), interval_days: days(interval) }];
  const mixes = Object.fromEntries([mix("a", "plaster", 3, 6), mix("b", "plaster", 7.5, 5), mix("w", "wash", 1, 1)]);
  const layer = (id: string, lifts: number) => ({ mix: id, part: "coat" as const, thickness_mm: 10, lifts, wet_l: days(5) });

  test("the next coat waits for the longer of damp time and interval, each lift anew, part days up", () => {
    const waits = waitsOf(laidCoats([layer("a", 2), layer("b", 1), layer("w", 1), layer("w", 1)], mixes), mixes);
    expect(waits.map((wait) => [wait.mix, wait.times, wait.starts_days.likely])).toEqual([["a", 2, 0], ["b", 1, 12], ["w", 2, 20]]);
    expect(waits[0]?.thickness_mm).toBe(5);
    expect(lastDay(waits)).toEqual({ low: 2 * 5 + 7 + 0 + 0, likely: 12 + 8 + 1 + 1, high: 2 * 7 + 9 + 2 + 2 });
  });

  test("of several repairs the longest is shown; without layers there is none", () => {
    const deep = found("deep", square(-2, 0.5), { depth_mean_mm: 90, depth_max_mm: 110 });
    const shallow = found("shallow", square(1, 0.5), { depth_mean_mm: 10, depth_max_mm: 12 });
    const repair = reckonRepair([shallow, deep], method("dub_out_then_coats"), plain, site, book);
    const places = coatsOfParts(repair.parts, book.mixes).map((coat) => coat.place);
    expect(places).toEqual(laidCoats(repair.parts[1]?.estimate.layers ?? [], book.mixes));
    expect(places.length).toBeGreaterThan(repair.parts[0]?.estimate.layers.length ?? NaN);
    expect(coatsOfParts(reckonRepair([deep], method("drain_first"), plain, site, book).parts, book.mixes)).toEqual([]);
  });
});

describe("what moves the number", () => {
  test("each end lies on its side of the likely amount; the strongest comes first", () => {
    const repair = reckonRepair([found("a", square(-1, 0.8))], patch, plain, site, book);
    const moves = movesOf(repair, patch, book);
    expect(moves.map((move) => move.what).sort()).toEqual(["loss", "size", "thickness"]);
    for (const move of moves) {
      expect(move.low_l).toBeLessThan(repair.with_loss_l.likely);
      expect(move.high_l).toBeGreaterThan(repair.with_loss_l.likely);
      // The weight moves the way the litres do.
      const likely_kg = Object.values(repair.materials).reduce((sum, need) => sum + (need.unit === "kg" ? need.amount.likely : 0), 0);
      expect(move.low_kg).toBeLessThan(likely_kg);
      expect(move.high_kg).toBeGreaterThan(likely_kg);
    }
    const spans = moves.map((move) => move.high_l - move.low_l);
    expect(spans).toEqual([...spans].sort((a, b) => b - a));
  });

  test("nothing mixed, nothing moved", () => {
    const one = [found("a", square(-1, 0.8))];
    expect(movesOf(reckonRepair(one, method("drain_first"), plain, site, book), method("drain_first"), book)).toEqual([]);
  });
});
