import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/laid.json";
import { type Laid, laidCoats, laysEarth } from "./laid";

type Ask = { layers: Parameters<typeof laidCoats>[0]; mixes: Parameters<typeof laidCoats>[1] & Parameters<typeof laysEarth>[1]; cure: NonNullable<Parameters<typeof laidCoats>[2]> };
const cases = vectors.cases as unknown as { name: string; in: Ask; out: { earth: boolean; coats: Laid[] } }[];

describe("what is laid, as the server tells it", () => {
  test.each(cases.map((one) => [one.name, one] as const))("%s", (_name, { in: { layers, mixes, cure }, out }) => {
    expect(laidCoats(layers, mixes, cure)).toEqual(out.coats);
    expect(laysEarth(layers.map((layer) => layer.mix), mixes)).toBe(out.earth);
  });

  test("a method from a catalogue kept from before waits were named raises nothing", () => {
    const [, second] = cases;
    const { layers, mixes, cure } = second?.in ?? { layers: [], mixes: {}, cure: [] };
    expect(laidCoats(layers, mixes, cure.map(({ days }) => ({ days })))).toEqual(laidCoats(layers, mixes));
    expect(layers.length).toBeGreaterThan(0);
  });
});
