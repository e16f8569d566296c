/** The deed "keep": what stands in its way is said beside it, and it runs once at a time. */
import { useState } from "preact/hooks";
import { go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { Refused } from "../../store";
import { refusalWords } from "../../words";
import type { Drafted } from "./useDraft";

/**
 * `refuse` gives the sentence why the draft cannot be kept as it is, or null; `deed` keeps it and resolves with the path to go to.
 */
export function useKeeping<V extends object>(drafted: Drafted<V>, refuse: (draft: V) => string | null, deed: (draft: V) => Promise<string>) {
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const keep = async () => {
    setTried(true);
    setRefused(null);
    if ((await leadToWrong()) || refuse(drafted.value)) return;
    setBusy(true);
    try {
      await drafted.finish();
      go(await deed(drafted.value), true);
    } catch (error) {
      drafted.resume();
      // Trouble with storage is shown over the whole screen; the rest is no case a person can act on.
      if (!(error instanceof Refused)) throw error;
      setRefused(refusalWords(error.code));
    } finally {
      setBusy(false);
    }
  };
  // What was said goes as soon as it is mended.
  return { keep, busy, wrong: tried ? (refuse(drafted.value) ?? refused) : null };
}
