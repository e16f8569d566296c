/** Add photos to something that exists already: take, look, give the direction if the phone has none, keep. */
import { useEffect } from "preact/hooks";
import type { Photo } from "../../model/types";
import { dropDraft, drafts, flushDrafts, photoRow, putMany, readDraft, saveDraft } from "../../store";
import { t } from "../../words";
import { Button } from "../frame/Button";
import { PhotoButton } from "./PhotoButton";
import { DraftPhotos, withHeadings } from "./PhotoStrip";

/** `draftKey` is the path of the screen without its first slash: after a page died at the camera the app goes back there. */
type Props = { draftKey: string; of_type: Photo["of_type"]; of_id: string; about: string };
type Waiting = { headings: Record<string, number> };

export function PhotoAdd({ draftKey, of_type, of_id, about }: Props) {
  const photos = drafts.value.get(draftKey)?.photos ?? [];
  const headings = readDraft<Waiting>(draftKey)?.headings ?? {};
  // A look through the camera without a picture leaves nothing behind.
  useEffect(() => () => {
    const left = drafts.peek().get(draftKey);
    if (left && !left.camera && left.photos.length === 0) void dropDraft(draftKey);
  }, []);
  const keep = async () => {
    await flushDrafts();
    await putMany(withHeadings(photos, headings).map((photo) => photoRow(of_type, of_id, photo)), { draft: draftKey });
  };
  return (
    <>
      <DraftPhotos draftKey={draftKey} about={about} headings={headings} onHeadings={(next) => void saveDraft(draftKey, { headings: next })} />
      {photos.length > 0 ? (
        <div class="deeds"><Button kind="primary" onPress={() => void keep()}>{t("photo_keep", { n: photos.length })}</Button></div>
      ) : null}
      <PhotoButton draftKey={draftKey} />
    </>
  );
}
