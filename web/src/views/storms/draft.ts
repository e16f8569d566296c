/** A form's draft: saved on each change, there again when the page comes back, and gone in the same breath as the row is kept. */
import { useState } from "preact/hooks";
import { Refused, StoreTrouble, type Change, dropDraft, flushDrafts, putMany, readDraft, saveDraft } from "../../store";
import { refusalWords } from "../../words";

export function useDraft<V extends object>(key: string, start: V) {
  const [value, setValue] = useState<V>(() => readDraft<V>(key) ?? start);
  const [trouble, setTrouble] = useState<string | null>(null);
  const change = (part: Partial<V>) => {
    const next = { ...value, ...part };
    setValue(next);
    // A phone that cannot store says so over the whole screen by itself.
    saveDraft(key, next).catch(ignoreStoreTrouble);
  };
  /** Keep rows made from the draft; the ids, or null with the reason in `trouble`. */
  const keep = async (changes: readonly Change[]): Promise<string[] | null> => {
    try {
      await flushDrafts();
      return await putMany(changes, { draft: key });
    } catch (error) {
      if (!(error instanceof Refused)) ignoreStoreTrouble(error);
      else setTrouble(refusalWords(error.code));
      return null;
    }
  };
  const discard = async () => {
    await flushDrafts();
    await dropDraft(key);
  };
  return { value, change, keep, discard, trouble };
}

function ignoreStoreTrouble(error: unknown): void {
  if (!(error instanceof StoreTrouble)) throw error;
}
