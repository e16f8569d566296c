/** A form whose draft goes in the same breath as its row is kept, and that says in words what was refused. */
import { useState } from "preact/hooks";
import { ignoreStoreTrouble, useDraft } from "../../parts/draft";
import { Refused, type Change, flushDrafts, putMany } from "../../store";
import { throwAway } from "../../parts/undo/undo";
import { refusalWords } from "../../words";

export function useForm<V extends object>(key: string, start: V) {
  const [value, change] = useDraft<V>(key, () => start);
  const [trouble, setTrouble] = useState<string | null>(null);
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
  const discard = async (name: string, leave: () => void, screen: string | null) => {
    await flushDrafts();
    await throwAway(key, name, leave, screen);
  };
  return { value, change, keep, discard, trouble };
}
