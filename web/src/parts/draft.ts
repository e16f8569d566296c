/** What a form holds, saved on this phone at each change and found again when the page comes back. */
import { useRef, useState } from "preact/hooks";
import { StoreTrouble, readDraft, saveDraft } from "../store";

/** A phone that cannot store says so over the whole screen by itself; anything else is a fault of ours. */
export function ignoreStoreTrouble(error: unknown): void {
  if (!(error instanceof StoreTrouble)) throw error;
}

/** The value, and how to change some of its fields. `begin` is asked only where no draft is left from before. */
export function useDraft<V extends object>(key: string, begin: () => V): [value: V, change: (fields: Partial<V>) => void] {
  const [value, setValue] = useState<V>(() => readDraft<V>(key) ?? begin());
  // Two changes before the next drawing must both count, so each builds on the last, not on what is drawn.
  const now = useRef(value);
  const change = (fields: Partial<V>) => {
    now.current = { ...now.current, ...fields };
    setValue(now.current);
    saveDraft(key, now.current).catch(ignoreStoreTrouble);
  };
  return [value, change];
}
