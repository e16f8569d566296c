/** The value of a draft on the screen: shown at once, stored after each change, one write at a time. */
import { useRef, useState } from "preact/hooks";
import { go } from "../../parts/frame/route";
import { readDraft, saveDraft } from "../../store";

export type Drafted<V> = {
  value: V;
  change: (part: Partial<V>) => void;
  /** Resolves when what was entered last is stored; nothing is written after it. */
  finish: () => Promise<void>;
  /** Keeping was refused: go on with the draft. */
  resume: () => void;
};

/** Go to another screen of the same draft once it is stored, so that the two never write past each other. */
export const leaveFor = (drafted: Pick<Drafted<object>, "finish">, to: string): void => void drafted.finish().then(() => go(to));

export function useDraft<V extends object>(key: string, empty: V): Drafted<V> {
  const [value, setValue] = useState<V>(() => ({ ...empty, ...readDraft<V>(key) }));
  const now = useRef(value);
  const line = useRef<Promise<void> | null>(null);
  const dirty = useRef(false);
  const finished = useRef(false);
  const write = async () => {
    try {
      while (dirty.current) {
        dirty.current = false;
        await saveDraft(key, now.current);
      }
    } finally {
      line.current = null;
    }
  };
  const change = (part: Partial<V>) => {
    if (finished.current) return;
    now.current = { ...now.current, ...part };
    setValue(now.current);
    dirty.current = true;
    line.current ??= write();
  };
  const finish = async () => {
    finished.current = true;
    try {
      await line.current;
    } catch (error) {
      finished.current = false;
      throw error;
    }
  };
  const resume = () => {
    finished.current = false;
  };
  return { value, change, finish, resume };
}
