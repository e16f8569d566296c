/**
 * Cards that count over thousands of rows do so one after the other, each in a task of its own: after a cold start all rows
 * are there at once, and all cards in one task would hold up a finger.
 */
import { signal, useComputed } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { whole } from "../../store";

/** How many cards may count by now. */
const turns = signal(0);

/** As many defects as are counted in one task. */
const AT_ONCE = 800;

/** The place after the last card that counts in the task beginning at `from`: one at least. */
export function endOfTask(loads: readonly number[], from: number): number {
  let [end, load] = [from + 1, loads[from] ?? 0];
  while (end < loads.length && load + (loads[end] ?? 0) <= AT_ONCE) load += loads[end++] ?? 0;
  return end;
}

/** Let cards that count over so many defects each count in turn once every row is there; tells whether one still waits, to be set as an attribute. */
export function useTurns(loads: readonly number[]) {
  const [all, n] = [whole.value, loads.length];
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const next = () => {
      if (turns.peek() >= n) return;
      turns.value = endOfTask(loads, turns.peek());
      timer = setTimeout(next);
    };
    if (all) next();
    else turns.value = 0;
    return () => clearTimeout(timer);
  }, [all, loads.join()]);
  return useComputed(() => !whole.value || turns.value < n);
}

/** Whether the card in this place may count. */
export function useMyTurn(place: number): boolean {
  return useComputed(() => whole.value && turns.value > place).value;
}
