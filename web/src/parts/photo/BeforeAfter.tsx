/** Before and after in one frame: a slider wipes from one to the other, by finger or by arrow keys. */
import { useEffect, useState } from "preact/hooks";
import type { Photo } from "../../model/types";
import { photoUrl } from "../../store";
import { t } from "../../words";
import { altWords } from "./facts";
import "./photo.css";

function useBest(photo: Photo): string | null {
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    let wanted = true;
    void photoUrl(photo.id, "1600").then(async (large) => {
      const found = large ?? (await photoUrl(photo.id, "400"));
      if (wanted) setUrl(found);
    });
    return () => {
      wanted = false;
    };
  }, [photo.id, photo.stored]);
  return url;
}

export function BeforeAfter({ before, after, about }: { before: Photo; after: Photo; about: string }) {
  const [share, setShare] = useState(50);
  const [old, now] = [useBest(before), useBest(after)];
  if (!old || !now) return <p class="hint">{t("wipe_not_here")}</p>;
  return (
    <figure class="wipe">
      <div class="wipe-frame">
        <img src={now} alt={altWords(after, t("wipe_after_of", { about }))} />
        <img src={old} alt={altWords(before, t("wipe_before_of", { about }))} style={{ clipPath: `inset(0 ${100 - share}% 0 0)` }} />
        <span class="wipe-line" style={{ left: `${share}%` }} aria-hidden="true" />
        <span class="wipe-word wipe-old" aria-hidden="true">{t("wipe_before")}</span>
        <span class="wipe-word wipe-new" aria-hidden="true">{t("wipe_after")}</span>
      </div>
      <label>{t("wipe_how")}
        <input type="range" min="0" max="100" step="5" value={share} aria-valuetext={t("wipe_at", { n: share, m: 100 - share })} onInput={(event) => setShare(Number(event.currentTarget.value))} />
      </label>
    </figure>
  );
}
