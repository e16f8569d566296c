/** Take photos with the camera or choose files; they are stored with a draft at once, with place, heading and time. */
import { useEffect, useRef, useState } from "preact/hooks";
import { type KeptPhoto, Refused, StoreTrouble, beginCamera, drafts, endCamera, keepBytes, setSettings, settings } from "../../store";
import { MOST_BYTES } from "../../store/photo/picture";
import { refusalWords, t } from "../../words";
import { Ask } from "../frame/Ask";
import { Button } from "../frame/Button";
import "./photo.css";
import { NO_PLACE, type Shutter, askCompass, askPosition, openShutter } from "./shutter";

type Props = {
  /** The draft that the photos go into; its key is the path of its screen, so that the app can come back to it. */
  draftKey: string;
  onTaken?: (photo: KeptPhoto) => void;
};

const KINDS = "image/jpeg,image/png,image/heic,.heic";
/** An older file was chosen, not taken now: where the phone is says nothing about it. */
const JUST_TAKEN_MS = 5000;

async function keepFile(key: string, file: File, shutter: Shutter | null): Promise<KeptPhoto> {
  // One byte more than is taken is enough to be refused; a film would not fit into memory.
  const bytes = await file.slice(0, MOST_BYTES + 1).arrayBuffer();
  const now = shutter !== null && file.lastModified >= shutter.opened_ms - JUST_TAKEN_MS;
  const facts = now ? await shutter.read() : NO_PLACE;
  return keepBytes(key, bytes, { ...facts, media_type: file.type });
}

function sentenceFor(error: unknown): string | null {
  if (error instanceof Refused) return refusalWords(error.code);
  // The app shows trouble with storage over the whole screen.
  if (error instanceof StoreTrouble) return null;
  if (error instanceof DOMException) return t("photo_unreadable");
  throw error;
}

/** Takes files in one after the other, and says of each that was not taken why; the others go on. */
function useTaking({ draftKey, onTaken }: Props) {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<readonly string[]>([]);
  const takeOne = async (file: File, shutter: Shutter | null, named: boolean) => {
    try {
      const kept = await keepFile(draftKey, file, shutter);
      onTaken?.(kept);
    } catch (error) {
      const why = sentenceFor(error);
      if (why) setWrong((before) => [...before, named ? t("photo_file_wrong", { name: file.name, why }) : why]);
    }
  };
  const take = async (files: readonly File[], shutter: Shutter | null) => {
    setBusy(true);
    setWrong([]);
    try {
      for (const file of files) await takeOne(file, shutter, files.length > 1);
    } finally {
      shutter?.close();
      await endCamera(draftKey);
      setBusy(false);
    }
  };
  return { busy, wrong, take };
}

/** Whether the page died while the camera was open: the picture is lost, and that is said once. */
function useInterrupted(draftKey: string): [boolean, () => void] {
  const [interrupted, setInterrupted] = useState(() => drafts.peek().get(draftKey)?.camera === true);
  useEffect(() => {
    if (interrupted) void endCamera(draftKey);
  }, []);
  return [interrupted, () => setInterrupted(false)];
}

function PlaceAsk({ onAnswer, onClose }: { onAnswer: (choice: "yes" | "no") => void; onClose: () => void }) {
  return (
    <Ask title={t("photo_place_ask")} onClose={onClose}>
      <p>{t("photo_place_why")}</p>
      <div class="deeds">
        <Button onPress={() => onAnswer("no")}>{t("photo_place_no")}</Button>
        <Button kind="primary" onPress={() => onAnswer("yes")}>{t("photo_place_yes")}</Button>
      </div>
    </Ask>
  );
}

/** The camera input, and what happens round it: the draft is told before the camera opens, because the camera may kill the page. */
function useCamera(draftKey: string, take: (files: readonly File[], shutter: Shutter | null) => Promise<void>) {
  const input = useRef<HTMLInputElement>(null);
  const shutter = useRef<Shutter | null>(null);
  const shoot = async () => {
    shutter.current?.close();
    shutter.current = openShutter();
    await beginCamera(draftKey);
    input.current?.click();
  };
  const cancel = () => {
    shutter.current?.close();
    void endCamera(draftKey);
  };
  useEffect(() => () => shutter.current?.close(), []);
  const field = (
    <input
      ref={input} class="photo-input" type="file" accept={KINDS} capture="environment" tabIndex={-1} aria-hidden="true" data-input="camera" onCancel={cancel}
      onChange={(event) => void takeFrom(event.currentTarget, (files) => take(files, shutter.current))}
    />
  );
  return { shoot, field };
}

/** Hand the chosen files over and empty the input, so that the same file can be chosen again. */
async function takeFrom(input: HTMLInputElement, take: (files: readonly File[]) => Promise<void>): Promise<void> {
  const files = [...(input.files ?? [])];
  input.value = "";
  if (files.length) await take(files);
}

/** The parts of taking photos, for screens that keep the camera button where the thumb is: `said` is what to know of it, `rest` all else. */
export function usePhotos(props: Props) {
  const { busy, wrong, take } = useTaking(props);
  const [interrupted, calm] = useInterrupted(props.draftKey);
  const [asking, setAsking] = useState(false);
  const [ready, setReady] = useState(false);
  const { shoot, field } = useCamera(props.draftKey, take);
  const chooser = useRef<HTMLInputElement>(null);
  const openCamera = () => {
    calm();
    setReady(false);
    if (settings.value.photoPlace === null) setAsking(true);
    else void shoot();
  };
  const answer = (choice: "yes" | "no") => {
    void setSettings({ photoPlace: choice });
    setAsking(false);
    if (choice === "no") return;
    // The phone's own questions come now; under an open camera they would be lost.
    void Promise.all([askCompass(), askPosition()]).then(() => setReady(true));
  };
  const n = drafts.value.get(props.draftKey)?.photos.length ?? 0;
  const camera = <Button onPress={openCamera} disabled={busy}>{n > 0 ? t("photo_camera_n", { n }) : t("photo_camera")}</Button>;
  const said = (
    <>
      <p class="hint" role="status">{busy ? t("photo_busy") : ready ? t("photo_ready") : ""}</p>
      {interrupted ? <p class="wrong" role="alert">{t("photo_interrupted")}</p> : null}
      {wrong.map((why) => <p key={why} class="wrong" role="alert">{why}</p>)}
    </>
  );
  const choose = <Button onPress={() => chooser.current?.click()} disabled={busy}>{t("photo_choose")}</Button>;
  const rest = (
    <>
      {field}
      <input
        ref={chooser} class="photo-input" type="file" accept={KINDS} multiple tabIndex={-1} aria-hidden="true" data-input="file"
        onChange={(event) => void takeFrom(event.currentTarget, (files) => take(files, null))}
      />
      {settings.value.photoPlace === null ? null : (
        <p class="photo-choice">
          <span>{t(settings.value.photoPlace === "yes" ? "photo_with_place" : "photo_without_place")}</span>
          <Button onPress={() => setAsking(true)} label={t("photo_place_change")}>{t("change")}</Button>
        </p>
      )}
      {asking ? <PlaceAsk onAnswer={answer} onClose={() => setAsking(false)} /> : null}
    </>
  );
  return { camera, choose, said, rest };
}

export function PhotoButton(props: Props) {
  const { camera, choose, said, rest } = usePhotos(props);
  return (
    <div class="photo-desk">
      <div class="deeds">{camera}{choose}</div>
      {said}
      {rest}
    </div>
  );
}
