/** A draft in which nothing was entered is not worth finding again. */
import { useEffect } from "preact/hooks";
import { type MarkDraft, isBlank } from "../../model/marking/marking";
import { EMPTY_READING, type ReadingDraft, isBlankReading } from "../../model/marking/reading";
import { path } from "../../parts/frame/route";
import { drafts, dropDraft, readDraft } from "../../store";
import type { Drafted } from "./useDraft";

/** On leaving the draft's screens (those whose path begins with its key), drop it where it holds nothing. */
function useTidy<V extends object>(key: string, drafted: Drafted<V>, blank: () => boolean) {
  useEffect(() => () => {
    const left = drafts.peek().get(key);
    const [now = ""] = path.peek().slice(1).split("?");
    if (now === key || now.startsWith(`${key}/`)) return;
    if (left && !left.camera && left.photos.length === 0 && blank()) void drafted.finish().then(() => dropDraft(key));
  }, []);
}

export function useMarkTidy(key: string, drafted: Drafted<MarkDraft>) {
  useTidy(key, drafted, () => {
    const value = readDraft<MarkDraft>(key);
    return value !== null && isBlank(value) && !value.on_photo?.of;
  });
}

export function useReadingTidy(key: string, drafted: Drafted<ReadingDraft>) {
  useTidy(key, drafted, () => {
    const value = { ...EMPTY_READING, ...readDraft<ReadingDraft>(key) };
    return isBlankReading(value) && !value.on_photo?.of;
  });
}
