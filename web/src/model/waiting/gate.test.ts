import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/gate.json";
import { Refusal } from "../refusal";
import { type Today, daysLeftToDry, whyNotToday } from "./gate";

type Case = { name: string; in: { today?: Today; days_since_wet?: number }; out?: unknown; error?: string };

function run(given: Case["in"]): unknown {
  if (!given.today) return daysLeftToDry(given.days_since_wet as number);
  const { verdict, reasons } = whyNotToday(given.today);
  return { verdict, reasons: reasons.map(({ code, level }) => ({ code, level })) };
}

/** Drying days are differences, so the last bits may stray. */
function same(got: unknown, expected: unknown): void {
  if (typeof expected === "number") expect(got).toBeCloseTo(expected, 9);
  else if (expected && typeof expected === "object" && !Array.isArray(expected) && "likely" in expected) {
    for (const [end, value] of Object.entries(expected)) same((got as Record<string, unknown>)[end], value);
  } else expect(got).toEqual(expected);
}

describe("the gate as the server holds it", () => {
  test.each((vectors.cases as Case[]).map((one) => [one.name, one] as const))("%s", (_name, one) => {
    if (one.error === undefined) return same(run(one.in), one.out);
    let code = "nothing refused";
    try {
      run(one.in);
    } catch (refusal) {
      code = refusal instanceof Refusal ? refusal.code : String(refusal);
    }
    expect(code).toBe(one.error);
  });

  test("frost says which night, a short forecast how many days it should reach", () => {
    const fine: Today = { temperature_c: 15, trend: "rising", wall_dry: true, frost_free_days: 14 };
    expect(whyNotToday({ ...fine, nights_c: [4, 2, -1] }).reasons).toEqual([{ code: "frost_ahead", level: "stop", n: 3 }]);
    expect(whyNotToday({ ...fine, nights_c: [4, 2] }).reasons).toEqual([{ code: "forecast_too_short", level: "note", n: 14 }]);
  });
});
