/** One photo large, with what is known of it. */
import type { ComponentChildren } from "preact";
import { t } from "../../words";
import { Ask } from "../frame/Ask";
import { Button } from "../frame/Button";
import { type Pictured, altWords, coordinateWords, lookingWords, placeWords, takenWords } from "./facts";

type Props = { photo: Pictured; url: string | null; about: string; waiting?: string | null; onClose: () => void; children?: ComponentChildren };

export function PhotoDialog({ photo, url, about, waiting, onClose, children }: Props) {
  const file = photo.file_facts;
  const camera = [file?.make, file?.model].filter(Boolean).join(" ");
  const lines = [takenWords(photo), lookingWords(photo), placeWords(photo), coordinateWords(photo)];
  return (
    <Ask title={about} onClose={onClose}>
      {url ? <img class="photo-large" src={url} alt={altWords(photo, about)} /> : <p class="photo-none">{t("photo_not_here")}</p>}
      <ul class="photo-facts">
        {lines.map((line) => (line ? <li key={line}>{line}</li> : null))}
        {camera ? <li>{t("photo_made_with", { camera })}</li> : null}
        {file?.doubtful.length ? <li>{t("photo_doubtful")}</li> : null}
        {waiting ? <li><strong>{waiting}</strong></li> : null}
      </ul>
      {children}
      <div class="deeds"><Button kind="primary" onPress={onClose}>{t("photo_close")}</Button></div>
    </Ask>
  );
}
