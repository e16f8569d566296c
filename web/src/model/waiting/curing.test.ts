import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/curing.json";
import estimates from "../../../../shared/vectors/estimate.json";
import type { Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import { Refusal } from "../refusal";
import { laidCoats } from "./laid";
import { type CuringCoat, type LaidCoat, curingCoats, curingPlan, dayNumber, frostFreeDays, frostFreeFromStart, slowest } from "./curing";

type Case = { name: string; in: { start: string; coats: CuringCoat[]; check_after_days?: number[] }; out?: unknown; error?: string };
const codeOf = (deed: () => unknown): string => {
  try {
    deed();
  } catch (refusal) {
    return refusal instanceof Refusal ? refusal.code : String(refusal);
  }
  return "nothing refused";
};

describe("curing as the server reckons it", () => {
  test.each((vectors.cases as unknown as Case[]).map((one) => [one.name, one] as const))("%s", (_name, one) => {
    const run = () => curingPlan(one.in.start, one.in.coats, one.in.check_after_days);
    if (one.error === undefined) expect(run()).toEqual(one.out);
    else expect(codeOf(run)).toBe(one.error);
  });

  test.each(["2026-02-30", "2026-13-01", "tomorrow", "", "2026-1-2"])("%s is no date", (start) => {
    expect(codeOf(() => dayNumber(start))).toBe("date_refused");
  });
});

describe("the layers of a ticket as coats", () => {
  const days = (n: number) => ({ low: n, likely: n, high: n });
  const known = estimates.catalogue.mixes as unknown as Record<string, Mix>;
  const frost = (n: number) => ({ ...days(n), basis: "from memory" as const, source: "" });
  const mixes: Record<string, Mix> = {
    fast: { ...(known.lime_coat as Mix), damp_days: days(1), interval_days: days(2), frost_free_days: frost(14) },
    slow: { ...(known.lime_coat as Mix), damp_days: days(9), interval_days: days(9), frost_free_days: frost(49) },
  };
  const layer = (mix: string, lifts = 1): Layer => ({ mix, part: "coat", thickness_mm: 30, lifts, wet_l: days(5) });

  const coatsOfLayers = (layers: Layer[], book = mixes): LaidCoat[] => curingCoats(laidCoats(layers, book), book);

  test("each lift is a coat of its share of the thickness; unknown mixes are left out", () => {
    const coats = coatsOfLayers([layer("fast", 3), layer("slow"), layer("gone")], mixes);
    expect(coats.map((coat) => [coat.place.mix, coat.thickness_mm])).toEqual([["fast", 10], ["fast", 10], ["fast", 10], ["slow", 30]]);
    expect(frostFreeDays(coats)).toBe(49);
    expect(frostFreeDays([])).toBe(0);
    // Lifts 0, 2 and 4 days after the start, the slow coat after 6: 6 + 49.
    expect(frostFreeFromStart(coats)).toEqual(days(55));
    expect(frostFreeFromStart([])).toEqual(days(0));
  });

  test("the slowest of several repairs is planned; none without coats", () => {
    const [quick, late] = [coatsOfLayers([layer("fast")], mixes), coatsOfLayers([layer("fast"), layer("slow")], mixes)];
    expect(slowest([quick, late, []])).toBe(late);
    expect(slowest([[], []])).toEqual([]);
  });

  test("a catalogue from before the frost figures takes the wait before the next coat", () => {
    const { frost_free_days: _, ...old } = mixes.slow as Mix;
    expect(frostFreeDays(coatsOfLayers([layer("old")], { old: old as Mix }))).toBe(9);
  });
});
