import { describe, expect, test } from "vitest";
import table from "../../../shared/urgency.json";
import vectors from "../../../shared/vectors/urgency.json";
import vocabulary from "../../../shared/vocabulary.json";
import { goesBeyondCover, judge, speaks, type Facts, type UrgencyTable } from "./urgency";

const rules = table as UrgencyTable;
const nothing: Facts = {
  kind: null, signs: [], depth_max_mm: null, cover_mm: null, area_m2: null, crack_width_mm: null, wall_material: null, finish_kind: null,
};
const rank = (facts: Facts) => rules.order.indexOf(judge(facts, rules).urgency);

describe("urgency", () => {
  test.each(vectors.cases.map((c) => [c.name, c.in, c.out] as const))("%s", (_name, facts, out) => {
    expect(judge(facts, rules)).toEqual(out);
  });

  test("there are at least 60 vectors", () => {
    expect(vectors.cases.length).toBeGreaterThanOrEqual(60);
  });

  test.each(vocabulary.kinds.map((k) => k.id))("width of a crack alone never lifts %s over this season", (kind) => {
    for (const wall_material of vocabulary.wall_materials.map((m) => m.id)) {
      const without = rank({ ...nothing, kind, wall_material });
      for (const crack_width_mm of [0.1, 1, 5, 5.1, 15, 25, 100]) {
        const limit = Math.min(without, rules.order.indexOf("this_season"));
        expect(rank({ ...nothing, kind, wall_material, crack_width_mm })).toBeGreaterThanOrEqual(limit);
      }
    }
  });

  test.each(vocabulary.signs.filter((s) => s.structural).map((s) => s.id))("sign %s means engineer first on every kind", (sign) => {
    for (const { id } of vocabulary.kinds) {
      expect(judge({ ...nothing, kind: id, signs: [sign] }, rules).engineer_first).toBe(true);
    }
  });

  test("a depth that reaches the wall goes beyond the cover, an unknown one does not", () => {
    expect(goesBeyondCover({ ...nothing, depth_max_mm: 20, cover_mm: 20 })).toBe(true);
    expect(goesBeyondCover({ ...nothing, depth_max_mm: 19.9, cover_mm: 20 })).toBe(false);
    expect(goesBeyondCover({ ...nothing, depth_max_mm: 20 })).toBe(false);
    expect(speaks({ beyond_cover: false }, { ...nothing, depth_max_mm: 5, cover_mm: 20 })).toBe(true);
  });
});
