import { describe, expect, test } from "vitest";
import estimates from "../../../../shared/vectors/estimate.json";
import type { Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import { coatVisits, mixWays } from "./coats";

const days = (n: number) => ({ low: n, likely: n, high: n });
const known = estimates.catalogue.mixes as unknown as Record<string, Mix>;
const frost = { ...days(14), basis: "from memory" as const, source: "" };
const mixes: Record<string, Mix> = {
  fast: { ...(known.lime_coat as Mix), damp_days: days(1), interval_days: days(2), frost_free_days: frost },
  slow: { ...(known.lime_coat as Mix), damp_days: days(9), interval_days: days(8), frost_free_days: frost },
};
const layer = (mix: string, litres: number, lifts = 1): Layer => ({ mix, part: "coat", thickness_mm: 10, lifts, wet_l: days(litres) });
const part = (layers: Layer[]) => ({ estimate: { layers }, method: { cure: [] } });

describe("coats as visits", () => {
  test("lifts are visits of their share; a part with fewer coats joins for the last", () => {
    const visits = coatVisits([part([layer("fast", 12, 2), layer("slow", 4)]), part([layer("fast", 3)]), part([layer("gone", 9)])], mixes);
    expect(visits.map((one) => one.laid.map(({ mix, litres }) => [mix, litres.likely]))).toEqual([[["fast", 6]], [["fast", 6]], [["slow", 4], ["fast", 3]]]);
    const filled = coatVisits([part([{ ...layer("fast", 12, 2), part: "dub_out" }, layer("slow", 4)]), part([layer("fast", 3)])], mixes);
    expect(filled.map((one) => one.place)).toEqual([
      { part: "dub_out", n: null, lift: 1, lifts: 2 }, { part: "dub_out", n: null, lift: 2, lifts: 2 }, { part: "coat", n: 1, lift: 1, lifts: 1 },
    ]);
    expect(visits[2]?.coat).toEqual({ damp_days: days(9), interval_days: days(8), frost_free_days: days(14) });
  });

  test("the method's own waits hold on a work day too", () => {
    const longer = { estimate: { layers: [layer("fast", 12), layer("slow", 4)] }, method: { cure: [{ wait: "coat_1" as const, days: days(6) }] } };
    expect(coatVisits([longer], mixes)[0]?.coat.interval_days).toEqual(days(6));
  });

  test("nothing laid is no visit", () => {
    expect(coatVisits([part([]), part([])], mixes)).toEqual([]);
    expect(coatVisits([], mixes)).toEqual([]);
  });

  test("a mix is good for its shortest working time", () => {
    const mix = mixes.fast as Mix;
    expect(mixWays(mixes).fast).toEqual({ container_l: mix.container_l, working_h: mix.working_h.low });
  });
});
