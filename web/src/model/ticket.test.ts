import { describe, expect, test } from "vitest";
import moves from "../../../shared/ticket_states.json";
import vectors from "../../../shared/vectors/ticket_state.json";
import { legal, nextSteps, stateOf, type TicketStates } from "./ticket";

const states = moves as TicketStates;

describe("ticket state", () => {
  test.each(vectors.cases.map((c) => [c.name, c.in, c.out] as const))("%s", (_name, { steps }, out) => {
    expect(stateOf(steps, states)).toEqual(out);
  });

  test.each(vectors.cases.map((c) => [c.name, c.in, c.out] as const))("arrived backwards: %s", (_name, { steps }, out) => {
    expect(stateOf([...steps].reverse(), states)).toEqual(out);
  });

  test("there are at least 25 vectors", () => {
    expect(vectors.cases.length).toBeGreaterThanOrEqual(25);
  });

  test("only moves of the table are legal", () => {
    expect(legal("open", "done", states)).toBe(true);
    expect(legal("open", "checked", states)).toBe(false);
    expect(legal("open", "toString", states)).toBe(false);
  });

  test("next steps are those a person may take", () => {
    expect(nextSteps("open", states)).toEqual(["taken", "done"]);
    expect(nextSteps("taken", states)).toEqual(["done", "reopened"]);
    expect(nextSteps("done", states)).toEqual(["checked", "reopened"]);
    expect(nextSteps("checked", states)).toEqual(["rechecked", "reopened"]);
  });

  test("the list given is left as it was", () => {
    const steps = [{ kind: "done", at: "2031-03-02T08:00:00Z", id: "b" }, { kind: "taken", at: "2031-03-01T08:00:00Z", id: "a" }];
    stateOf(steps, states);
    expect(steps.map((step) => step.id)).toEqual(["b", "a"]);
  });
});
