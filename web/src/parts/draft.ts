/** What a form holds, saved on this phone at each change and found again when the page comes back. */
import { useState } from "preact/hooks";
import { readDraft, saveDraft } from "../store";

/** The value, and how to change some of its fields. `begin` is asked only where no draft is left from before. */
export function useDraft<V extends object>(key: string, begin: () => V): [value: V, change: (fields: Partial<V>) => void] {
  const [value, setValue] = useState<V>(() => readDraft<V>(key) ?? begin());
  const change = (fields: Partial<V>) => {
    setValue((before) => {
      const next = { ...before, ...fields };
      void saveDraft(key, next);
      return next;
    });
  };
  return [value, change];
}
