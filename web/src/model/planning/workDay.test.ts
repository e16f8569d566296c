import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/work_day.json";
import { Refusal } from "../refusal";
import { type CoatVisit, type MethodRates, type Rates, type Ways, type WorkSize, visitsOf } from "./hours";
import type { Ask } from "./shapes";
import { planWork } from "./workDay";

type Given = { plan?: Ask; hours?: { size: WorkSize; coats: CoatVisit[]; method: MethodRates; rates: Rates; ways: Ways } };
type Case = { name: string; in: Given; out?: unknown; error?: string };

function run({ plan, hours }: Given): unknown {
  if (plan) return planWork(plan);
  return hours && { visits: visitsOf(hours.size, hours.coats, hours.method, hours.rates, hours.ways) };
}

/** Numbers to a billionth, everything else exactly. */
function same(got: unknown, expected: unknown, where: string): void {
  if (typeof expected === "number") {
    expect(typeof got, where).toBe("number");
    expect(Math.abs((got as number) - expected), where).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));
  } else if (expected && typeof expected === "object") {
    expect(Object.keys(got as object).sort(), where).toEqual(Object.keys(expected).sort());
    for (const [name, value] of Object.entries(expected)) same((got as Record<string, unknown>)[name], value, `${where}.${name}`);
  } else expect(got, where).toEqual(expected);
}

describe("the work day as the server plans it", () => {
  test.each((vectors.cases as unknown as Case[]).map((one) => [one.name, one] as const))("%s", (_name, one) => {
    if (one.error === undefined) return same(run(one.in), one.out, one.name);
    let code = "nothing refused";
    try {
      run(one.in);
    } catch (refusal) {
      code = refusal instanceof Refusal ? refusal.code : String(refusal);
    }
    expect(code).toBe(one.error);
  });
});
