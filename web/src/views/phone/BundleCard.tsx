/** When the signal will not come: what waits here as one file for the keeper, and the keeper's taking in of such a file. */
import { useEffect, useState } from "preact/hooks";
import { NotReached, Refused, type Saved, type TakenIn, role, saveBundle, syncState, takeInBundle } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { isSentence, refusalWords, t } from "../../words";
import { showNumber } from "../../words/measures";

const MB = 1_000_000;

function whyNot(error: unknown): string {
  if (error instanceof NotReached) return t("phone_not_reached");
  if (error instanceof Refused) return refusalWords(error.code);
  throw error;
}

/** The address of a file in memory, for a link that downloads it. */
function useAddress(file: Blob): string {
  const [url, setUrl] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(file);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [file]);
  return url;
}

function SavedFile({ saved }: { saved: Saved }) {
  const url = useAddress(saved.file);
  const file = new File([saved.file], saved.name, { type: "application/zip" });
  // Where the share sheet takes no zip, the download remains.
  const canShare = "canShare" in navigator && navigator.canShare({ files: [file] });
  const share = () => void navigator.share({ files: [file], title: saved.name }).catch((error: unknown) => {
    if (!(error instanceof DOMException)) throw error; // the person closed the sheet, or the browser took it back
  });
  const size = showNumber(saved.file.size / MB, 1);
  return (
    <>
      <p role="status">{t("bundle_ready", { n: saved.changes, photos: saved.photos, size })}</p>
      <div class="deeds">
        {canShare ? <Button onPress={share}>{t("bundle_share")}</Button> : null}
        <a class="btn btn-quiet" href={url} download={saved.name}>{t("bundle_download")}</a>
      </div>
      <p class="hint">{t("bundle_stays")}</p>
    </>
  );
}

function SaveDeed() {
  const [saved, setSaved] = useState<Saved | null | "nothing">(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const save = async () => {
    setTrouble(null);
    try {
      setSaved((await saveBundle()) ?? "nothing");
    } catch (error) {
      setTrouble(whyNot(error));
    }
  };
  return (
    <>
      <p>{t("bundle_say")}</p>
      <Button onPress={() => void save()}>{t("bundle_save")}</Button>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {saved === "nothing" ? <p role="status">{t("phone_nothing_waiting")}</p> : null}
      {saved && saved !== "nothing" ? <SavedFile saved={saved} /> : null}
    </>
  );
}

function Outcome({ taken }: { taken: TakenIn }) {
  const typeWords = (type: string) => {
    const key = `row_${type}`;
    return isSentence(key) ? t(key) : type;
  };
  return (
    <div role="status">
      <p>{t("bundle_taken", { n: taken.changes, photos: taken.photos, person: taken.person })}</p>
      {taken.clashes ? <p>{t("bundle_clashes", { n: taken.clashes })}</p> : null}
      {taken.ownName ? <p>{t("bundle_own_name")}</p> : null}
      {taken.refused.length ? (
        <>
          <p class="wrong">{t("bundle_refused", { n: taken.refused.length })}</p>
          <ul>{taken.refused.map((one, n) => <li key={n}>{`${typeWords(one.what)}: ${refusalWords(one.code)}`}</li>)}</ul>
        </>
      ) : null}
    </div>
  );
}

function TakeInDeed() {
  const [taken, setTaken] = useState<TakenIn | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const choose = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file) return;
    setBusy(true);
    setTaken(null);
    setTrouble(null);
    try {
      setTaken(await takeInBundle(file));
    } catch (error) {
      setTrouble(whyNot(error));
    } finally {
      setBusy(false);
      input.value = ""; // so that the same file can be chosen again
    }
  };
  return (
    <>
      <p>{t("bundle_take_in_say")}</p>
      <label class="btn file-deed">
        {t("bundle_choose")}
        <input type="file" accept=".zip,application/zip" disabled={busy} onChange={(event) => void choose(event.currentTarget)} />
      </label>
      {busy ? <p role="status">{t("bundle_busy")}</p> : null}
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {taken ? <Outcome taken={taken} /> : null}
    </>
  );
}

export function BundleCard() {
  const waits = syncState.value.waiting + syncState.value.photosWaiting + syncState.value.parked > 0;
  const keeps = role.value === "keeper";
  if (!waits && !keeps) return null;
  return (
    <Card title={t("bundle_title")}>
      {waits ? <SaveDeed /> : null}
      {keeps ? <TakeInDeed /> : null}
    </Card>
  );
}
