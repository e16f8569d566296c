import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/scales.json";
import { Refusal } from "../refusal";
import { beaufort, classify, meanRain_mm_h } from "./scales";

type Case = { name: string; in: { scale?: string; figure?: number; wind_m_s?: number }; out?: unknown; error?: string };

const run = ({ scale, figure, wind_m_s }: Case["in"]) =>
  scale === undefined ? { force: beaufort(wind_m_s as number) } : classify(scale, figure as number);

describe("scales as the server has them", () => {
  test.each((vectors.cases as Case[]).map((one) => [one.name, one] as const))("%s", (_name, one) => {
    if (one.error === undefined) return expect(run(one.in)).toEqual(one.out);
    let code = "";
    try {
      run(one.in);
    } catch (refusal) {
      code = refusal instanceof Refusal ? refusal.code : String(refusal);
    }
    expect(code).toBe(one.error);
  });

  test.each([NaN, -0.01])("%d m/s is refused", (wind_m_s) => {
    expect(() => beaufort(wind_m_s)).toThrow(Refusal);
  });
});

test("the mean rain needs an amount and a length", () => {
  expect(meanRain_mm_h({ rain_mm: 46, duration_h: 20 })).toBeCloseTo(2.3);
  expect(meanRain_mm_h({ rain_mm: 0, duration_h: 20 })).toBe(0);
  expect(meanRain_mm_h({ rain_mm: null, duration_h: 20 })).toBeNull();
  expect(meanRain_mm_h({ rain_mm: 46, duration_h: null })).toBeNull();
  expect(meanRain_mm_h({ rain_mm: 46, duration_h: 0 })).toBeNull();
});
