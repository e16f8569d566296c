import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/calendar.json";
import { calendarText } from "./calendar";

describe("calendar text", () => {
  test.each(vectors.cases.map((one) => [one.name, one] as const))("%s", (_name, one) => {
    expect(calendarText(one.in.name, one.in.entries, one.in.made_at)).toBe(one.out.text);
  });
});
