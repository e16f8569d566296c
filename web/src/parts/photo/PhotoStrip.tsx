/** Photos in a row: those of a defect or step, and those kept with a draft. A tap shows one large. */
import { Empty } from "../frame/Card";
import { useEffect, useState } from "preact/hooks";
import type { Id, Photo } from "../../model/types";
import { type KeptPhoto, bringThrownBack, drafts, forgetKept, forgetThrown, keptUrl, photoUrl } from "../../store";
import { photosOf } from "../../store/lookup";
import { t } from "../../words";
import { showBearing } from "../../words/measures";
import { Button } from "../frame/Button";
import { Select } from "../frame/Field";
import { PhotoDialog } from "./PhotoDialog";
import { PlaceByHand } from "./PlaceByHand";
import { type Pictured, altWords, waitingWords } from "./facts";
import { offerUndo } from "../undo/undo";
import "./photo.css";

/** Undefined while it is being looked for, null where the picture cannot be had now. */
export function useUrl(find: () => Promise<string | null>, key: string): string | null | undefined {
  const [url, setUrl] = useState<string | null | undefined>(undefined);
  useEffect(() => {
    let wanted = true;
    void find().then((found) => {
      if (wanted) setUrl(found);
    });
    return () => {
      wanted = false;
    };
  }, [key]);
  return url;
}

type ThumbProps = { photo: Pictured; url: string | null | undefined; about: string; waiting: string | null; onPress: () => void };

export function Thumb({ photo, url, about, waiting, onPress }: ThumbProps) {
  const words = altWords(photo, about);
  return (
    <li class="thumb">
      <button type="button" class="thumb-button" onClick={onPress} aria-label={url ? undefined : words}>
        {url ? <img src={url} alt={words} width={112} height={112} /> : <span class="photo-none">{url === null ? t("photo_not_here") : ""}</span>}
      </button>
      {waiting ? <small>{waiting}</small> : null}
    </li>
  );
}

function StoredPhoto({ photo, about }: { photo: Photo; about: string }) {
  const [open, setOpen] = useState(false);
  const state = `${photo.id} ${photo.stored} ${photo.rev}`;
  const small = useUrl(() => photoUrl(photo.id, "400"), state);
  const large = useUrl(() => (open ? photoUrl(photo.id, "1600") : Promise.resolve(null)), `${state} ${open}`);
  const waiting = waitingWords(photo);
  return (
    <>
      <Thumb photo={photo} url={small} about={about} waiting={waiting} onPress={() => setOpen(true)} />
      {open ? <PhotoDialog photo={photo} url={large ?? small ?? null} about={about} waiting={waiting} onClose={() => setOpen(false)} /> : null}
    </>
  );
}

/** The photos of a defect, step, ticket or elevation; `about` names it: "14 spalling". */
export function PhotoStrip({ ownerId, about }: { ownerId: Id; about: string }) {
  const photos = photosOf(ownerId);
  if (photos.length === 0) return <Empty small scene="photos">{t("photo_none")}</Empty>;
  return <ul class="photo-strip">{photos.map((photo) => <StoredPhoto key={photo.id} photo={photo} about={about} />)}</ul>;
}

const EIGHT = [0, 45, 90, 135, 180, 225, 270, 315];

type Headings = Readonly<Record<string, number>>;
/** `headings` holds directions given by hand, by hash; lay them over the photos with `withHeadings` when keeping. */
type DraftProps = { draftKey: string; about: string; headings?: Headings; onHeadings?: (headings: Headings) => void };

export function withHeadings(photos: readonly KeptPhoto[], headings: Headings): KeptPhoto[] {
  return photos.map((photo) => ({ ...photo, heading_deg: headings[photo.sha256] ?? photo.heading_deg }));
}

function HeadingPick({ photo, headings, onHeadings }: { photo: KeptPhoto; headings: Headings; onHeadings: (headings: Headings) => void }) {
  const set = (value: string) => {
    const { [photo.sha256]: _old, ...others } = headings;
    onHeadings(value === "" ? others : { ...others, [photo.sha256]: Number(value) });
  };
  const none = photo.heading_deg === null ? t("photo_heading_unknown") : t("photo_heading_compass", { point: showBearing(photo.heading_deg) });
  return (
    <Select
      label={t("photo_heading_ask")} value={String(headings[photo.sha256] ?? "")} onPick={set}
      options={[{ id: "", label: none }, ...EIGHT.map((deg) => ({ id: String(deg), label: showBearing(deg) }))]}
    />
  );
}

function KeptThumb({ photo, draftKey, about, headings = {}, onHeadings }: DraftProps & { photo: KeptPhoto }) {
  const [open, setOpen] = useState(false);
  const small = useUrl(() => keptUrl(photo.sha256, photo.media_type, "400"), photo.sha256);
  const large = useUrl(() => (open ? keptUrl(photo.sha256, photo.media_type, "1600") : Promise.resolve(null)), `${photo.sha256} ${open}`);
  const shown = withHeadings([photo], headings)[0] ?? photo;
  const discard = async () => {
    const of = [draftKey, photo.sha256] as const;
    setOpen(false);
    await forgetKept(...of);
    offerUndo({ say: t("undo_removed", { name: t("undo_photo", { about }) }), back: () => bringThrownBack(...of), lapse: () => forgetThrown(...of), here: true });
  };
  return (
    <>
      <Thumb photo={shown} url={small} about={about} waiting={null} onPress={() => setOpen(true)} />
      {open ? (
        <PhotoDialog photo={shown} url={large ?? small ?? null} about={about} onClose={() => setOpen(false)}>
          {onHeadings ? <HeadingPick photo={photo} headings={headings} onHeadings={onHeadings} /> : null}
          <PlaceByHand photo={photo} draftKey={draftKey} />
          <div class="deeds"><Button kind="warning" onPress={() => void discard()}>{t("photo_discard")}</Button></div>
        </PhotoDialog>
      ) : null}
    </>
  );
}

/** Photos taken for something that is not kept yet. */
export function DraftPhotos(props: DraftProps) {
  const photos = drafts.value.get(props.draftKey)?.photos ?? [];
  if (photos.length === 0) return null;
  return <ul class="photo-strip">{photos.map((photo) => <KeptThumb key={photo.sha256} photo={photo} {...props} />)}</ul>;
}
