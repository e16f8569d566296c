import { expect, test } from "vitest";
import { endOfTask } from "./turns";

/** The cards of each task, by their loads. */
function tasks(loads: readonly number[]): number[][] {
  const all: number[][] = [];
  for (let at = 0; at < loads.length; ) {
    const end = endOfTask(loads, at);
    all.push(loads.slice(at, end));
    at = end;
  }
  return all;
}

test("small cards count together, a crowded one by itself, and every card counts once", () => {
  expect(tasks([16, 6, 1, 8, 3])).toEqual([[16, 6, 1, 8, 3]]);
  expect(tasks([16, 2000, 1, 8])).toEqual([[16], [2000], [1, 8]]);
  expect(tasks([400, 400, 1])).toEqual([[400, 400], [1]]);
  expect(tasks([0, 0, 0])).toEqual([[0, 0, 0]]);
  expect(tasks([])).toEqual([]);
});
