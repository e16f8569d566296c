/** Measuring on a photo for a new reading of a known defect. */
import { markOf } from "../../model/defect";
import { EMPTY_READING, type ReadingDraft } from "../../model/marking/reading";
import { beginOnPhoto } from "../../model/measuring/draft";
import type { Defect, Elevation } from "../../model/types";
import { type Params, goBack } from "../../parts/frame/route";
import { row, whole } from "../../store";
import { readingsOf } from "../../store/lookup";
import { t } from "../../words";
import { isUs } from "../../words/measures";
import { NotHere } from "../NotHere";
import { defectName } from "../marks/trade";
import { useDraft } from "../marks/useDraft";
import { useReadingTidy } from "../marks/useTidy";
import { Measuring } from "./Measuring";
import { choicesOf } from "./choices";
import { middleOf, noted } from "./noted";

export function ReadingPhotoView({ params }: { params: Params }) {
  const defect = row("defect", params.id);
  const elevation = row("elevation", defect?.elevation_id);
  if (!defect || !elevation) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <OfReading defect={defect} elevation={elevation} />;
}

function OfReading({ defect, elevation }: { defect: Defect; elevation: Elevation }) {
  const draftKey = `defect/${defect.id}/reading`;
  const drafted = useDraft<ReadingDraft>(draftKey, EMPTY_READING);
  useReadingTidy(draftKey, drafted);
  const { value, change } = drafted;
  const old = markOf(defect, readingsOf(defect.id));
  const asked = value.on_photo ?? beginOnPhoto(old.view, middleOf(old), isUs() ? "letter" : "a4");
  const desk = {
    asked, elevation, draftKey, about: defectName(defect), choices: choicesOf(draftKey, defect.id),
    change: (part: Partial<typeof asked>) => change({ on_photo: { ...asked, ...part } }),
  };
  return (
    <Measuring
      desk={desk} name={defectName(defect)} back={`/${draftKey}`}
      keep={(mark, words) => {
        change({ redrawn: mark, ...noted(value, asked, words) });
        void drafted.finish().then(() => goBack(`/${draftKey}`));
      }}
    />
  );
}
