/** First step: which photo, one that is there or a new one. */
import { Card } from "../../parts/frame/Card";
import { PhotoButton } from "../../parts/photo/PhotoButton";
import { Thumb, useUrl } from "../../parts/photo/PhotoStrip";
import type { Choice, Desk } from "./desk";
import { t } from "../../words";

function OneChoice({ choice, about, onPick }: { choice: Choice; about: string; onPick: () => void }) {
  const url = useUrl(choice.small, choice.photo.sha256);
  return <Thumb photo={choice.photo} url={url} about={about} waiting={null} onPress={onPick} />;
}

export function PhotoStep({ asked, change, choices, draftKey, about }: Desk) {
  const pick = (sha256: string) => change({ stage: "points", ...(sha256 === asked.of ? {} : { of: sha256, points: [], seen_px: [], outline: [], tap: null, steps: 0 }) });
  return (
    <>
      <Card title={t("measuring_photo_which")}>
        {choices.length === 0 ? <p>{t("measuring_photo_none")}</p> : <p>{t("measuring_photo_tap")}</p>}
        <ul class="photo-strip">{choices.map((choice) => <OneChoice key={choice.photo.sha256} choice={choice} about={about} onPick={() => pick(choice.photo.sha256)} />)}</ul>
        <PhotoButton draftKey={draftKey} onTaken={(photo) => pick(photo.sha256)} />
      </Card>
      <Card title={t("measuring_how")}>
        <ul>{(["how_sheet", "how_square", "how_near"] as const).map((key) => <li key={key}>{t(`measuring_${key}`)}</li>)}</ul>
        <p class="hint">{t("measuring_how_safe")}</p>
      </Card>
    </>
  );
}
