/** A camera with the earlier photo lying faintly over the picture, so that the new one is taken from the same place. */
import { useEffect, useRef, useState } from "preact/hooks";
import type { Photo } from "../../model/types";
import { type KeptPhoto, Refused, StoreTrouble, keepBytes, photoUrl } from "../../store";
import { refusalWords, t } from "../../words";
import { Ask } from "../frame/Ask";
import { Button } from "../frame/Button";
import "./photo.css";
import { openShutter } from "./shutter";

type Props = { draftKey: string; before: Photo; onTaken: (photo: KeptPhoto) => void };
type Trouble = "closed" | "none" | null;
const WISH: MediaStreamConstraints = { audio: false, video: { facingMode: "environment", width: { ideal: 2560 }, height: { ideal: 1920 } } };
const JPEG_QUALITY = 0.9;

/** Whether this browser lets a page show a camera at all. */
export const hasCamera = (): boolean => Boolean(navigator.mediaDevices?.getUserMedia);

function useStream(video: { current: HTMLVideoElement | null }): Trouble {
  const [trouble, setTrouble] = useState<Trouble>(null);
  useEffect(() => {
    let stream: MediaStream | null = null;
    let gone = false;
    navigator.mediaDevices.getUserMedia(WISH).then(
      (found) => {
        if (gone) return found.getTracks().forEach((track) => track.stop());
        stream = found;
        if (video.current) video.current.srcObject = found;
      },
      (error: DOMException) => setTrouble(error.name === "NotAllowedError" ? "closed" : "none"),
    );
    return () => {
      gone = true;
      stream?.getTracks().forEach((track) => track.stop());
    };
  }, []);
  return trouble;
}

/** The picture as it is now, as a JPEG file; null while the camera shows nothing yet. */
async function picture(video: HTMLVideoElement): Promise<ArrayBuffer | null> {
  if (video.videoWidth === 0) return null;
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [video.videoWidth, video.videoHeight];
  canvas.getContext("2d")?.drawImage(video, 0, 0);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", JPEG_QUALITY));
  return blob ? blob.arrayBuffer() : null;
}

async function shoot(video: HTMLVideoElement, draftKey: string): Promise<KeptPhoto | string> {
  const shutter = openShutter();
  try {
    const bytes = await picture(video);
    if (!bytes) return t("ghost_not_yet");
    return await keepBytes(draftKey, bytes, { ...(await shutter.read()), media_type: "image/jpeg" });
  } catch (error) {
    if (error instanceof Refused) return refusalWords(error.code);
    // The app shows trouble with storage over the whole screen.
    if (error instanceof StoreTrouble) return "";
    throw error;
  } finally {
    shutter.close();
  }
}

function Viewfinder({ draftKey, before, onTaken, onClose }: Props & { onClose: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const trouble = useStream(video);
  const [strength, setStrength] = useState(45);
  const [url, setUrl] = useState<string | null>(null);
  const [said, setSaid] = useState("");
  const [busy, setBusy] = useState(false);
  useEffect(() => void photoUrl(before.id, "1600").then(async (large) => setUrl(large ?? (await photoUrl(before.id, "400")))), [before.id]);
  const press = async () => {
    if (!video.current) return;
    setBusy(true);
    const taken = await shoot(video.current, draftKey);
    setBusy(false);
    if (typeof taken === "string") return setSaid(taken);
    onTaken(taken);
    onClose();
  };
  if (trouble) return <><p role="alert">{t(trouble === "closed" ? "ghost_closed" : "ghost_none")}</p><div class="deeds"><Button kind="primary" onPress={onClose}>{t("photo_close")}</Button></div></>;
  return (
    <>
      <p>{t(url ? "ghost_how" : "ghost_no_before")}</p>
      <div class="ghost-view">
        <video ref={video} autoplay muted playsInline aria-label={t("ghost_live")} />
        {url ? <img src={url} alt="" style={{ opacity: strength / 100 }} /> : null}
      </div>
      {url ? (
        <label class="ghost-strength">{t("ghost_strength")}
          <input type="range" min="0" max="90" step="15" value={strength} aria-valuetext={t("ghost_at", { n: strength })} onInput={(event) => setStrength(Number(event.currentTarget.value))} />
        </label>
      ) : null}
      <p class="wrong" role="alert">{said}</p>
      <div class="deeds">
        <Button onPress={onClose}>{t("cancel")}</Button>
        <Button kind="primary" disabled={busy} onPress={() => void press()}>{t("ghost_shoot")}</Button>
      </div>
    </>
  );
}

/** The button that opens the camera; not there where the browser has none for pages, as the usual one still is. */
export function GhostButton(props: Props) {
  const [open, setOpen] = useState(false);
  if (!hasCamera()) return null;
  return (
    <>
      <Button onPress={() => setOpen(true)}>{t("ghost_deed")}</Button>
      {open ? <Ask title={t("ghost_deed")} onClose={() => setOpen(false)}><Viewfinder {...props} onClose={() => setOpen(false)} /></Ask> : null}
    </>
  );
}
