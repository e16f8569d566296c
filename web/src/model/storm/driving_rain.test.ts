import { expect, test } from "vitest";
import dose from "../../../../shared/vectors/dose.json";
import rain from "../../../../shared/vectors/driving_rain.json";
import { Refusal } from "../refusal";
import { faceOf } from "../lasting/place";
import type { Mark, Surface } from "../types";
import { type BareStorm, type Face, type HourLists, doseByHours, stormDose, wallIndex } from "./driving_rain";
import { type Told, partDoses, partsOf, totalsOf } from "./told";

const NOT_TOLD: Told = { rain_mm: null, wind_m_s: null, wind_from_deg: null, duration_h: null, hours: null };
type Given = {
  hour?: { wind_m_s: number; rain_mm_h: number; angle_deg: number }; face?: Face; driven?: number; hours?: HourLists; storm?: unknown;
  totals?: HourLists; surface?: Surface; bearing_deg?: number; bands?: number; region?: Mark | null;
};

function run({ hour, face, driven, hours, storm, totals, surface, bearing_deg, bands, region }: Given): unknown {
  if (hour) return { l_m2: wallIndex(hour.wind_m_s, hour.rain_mm_h, hour.angle_deg) };
  if (totals) return totalsOf(totals);
  if (surface && region !== undefined) return faceOf({ surface, bearing_deg: bearing_deg as number }, region);
  if (surface) {
    const parts = partsOf(surface, bearing_deg as number, bands);
    return { parts, doses: partDoses({ ...NOT_TOLD, ...(storm as Partial<Told>) }, parts) };
  }
  return hours ? doseByHours(hours, face as Face, driven) : stormDose(storm as BareStorm, face as Face, driven);
}

function same(got: unknown, wanted: unknown, where: string): void {
  if (typeof wanted === "number") {
    expect(Math.abs((got as number) - wanted), where).toBeLessThanOrEqual(1e-9 * Math.abs(wanted) + 1e-12);
  } else if (typeof wanted === "object" && wanted !== null) {
    expect(Object.keys(got as object).sort(), where).toEqual(Object.keys(wanted).sort());
    for (const [key, one] of Object.entries(wanted)) same((got as Record<string, unknown>)[key], one, `${where}.${key}`);
  } else expect(got, where).toEqual(wanted);
}

type Case = { name: string; in: Given; out?: unknown; error?: string };
const CASES = [...(rain.cases as Case[]), ...(dose.cases as unknown as Case[])];

test.each(CASES.map((one) => [one.name, one] as const))("%s", (name, one) => {
  if (one.error === undefined) return same(run(one.in), one.out, name);
  let code = "";
  try {
    run(one.in);
  } catch (refusal) {
    code = refusal instanceof Refusal ? refusal.code : String(refusal);
  }
  expect(code).toBe(one.error);
});

test("there are enough of them", () => expect(CASES.length).toBeGreaterThan(60));
