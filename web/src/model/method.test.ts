import { describe, expect, test } from "vitest";
import table from "../../../shared/methods.json";
import vectors from "../../../shared/vectors/suggest.json";
import type { SuggestRule } from "./catalogue";
import { suggest, type SuggestFacts } from "./method";

const rules = table.suggest as SuggestRule[];

describe("suggest.json", () => {
  test.each(vectors.cases.map((one) => [one.name, one.in as SuggestFacts, one.out.method] as const))("%s", (_name, facts, method) => {
    expect(suggest(facts, rules)).toBe(method);
  });

  test("there are at least 40 cases", () => {
    expect(vectors.cases.length).toBeGreaterThanOrEqual(40);
  });

  test("no catalogue, no suggestion", () => {
    expect(suggest({ kind: "erosion" }, [])).toBeNull();
  });
});
