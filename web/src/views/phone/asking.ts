/** Asking the server from a card of this page, with the sentence that says why it could not be done. */
import { useCallback, useState } from "preact/hooks";
import { NotReached, Refused } from "../../store";
import { refusalWords, t } from "../../words";

/** `ask` runs a deed; `trouble` is the sentence of the last one that failed, `asking` true while one runs. */
export function useAsking(): { ask: (deed: () => Promise<void>) => Promise<void>; trouble: string | null; asking: boolean } {
  const [trouble, setTrouble] = useState<string | null>(null);
  const [asking, setAsking] = useState(false);
  const ask = useCallback(async (deed: () => Promise<void>) => {
    setAsking(true);
    setTrouble(null);
    try {
      await deed();
    } catch (error) {
      if (error instanceof NotReached) setTrouble(t("phone_not_reached"));
      else if (error instanceof Refused) setTrouble(refusalWords(error.code));
      else throw error;
    } finally {
      setAsking(false);
    }
  }, []);
  return { ask, trouble, asking };
}
