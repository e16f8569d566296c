/** A new look at a known defect: the same questions, with last time's answers beside them, and whether it has grown. */
import { latest, markOf, sizeOfMark } from "../../model/defect";
import { type Measures, questionsFor, refusalOf, sizeOfDrawn } from "../../model/marking/marking";
import { EMPTY_READING, type ReadingDraft, isBlankReading, suggestState } from "../../model/marking/reading";
import type { Defect, Elevation, Reading, ReadingState } from "../../model/types";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Pick, TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { type Params } from "../../parts/frame/route";
import { GhostButton } from "../../parts/photo/GhostCamera";
import { usePhotos } from "../../parts/photo/PhotoButton";
import { DraftPhotos } from "../../parts/photo/PhotoStrip";
import { drafts, row, whole } from "../../store";
import { photosOf, readingsOf } from "../../store/lookup";
import { refusalWords, t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import { ThrowAway } from "./ThrowAway";
import { keepReading } from "./keep";
import "./marks.css";
import { measureWords } from "./sizes";
import { MeasureStep } from "./steps/MeasureStep";
import { WhereStep } from "./steps/WhereStep";
import { defectName, kindEntry, underMark, wallName } from "./trade";
import { type Drafted, leaveFor, useDraft } from "./useDraft";
import { useKeeping } from "./useKeeping";
import { useReadingTidy } from "./useTidy";

const STATES: ReadingState[] = ["grown", "held", "repaired"];

export function ReadingView({ params }: { params: Params }) {
  const defect = row("defect", params.id);
  const elevation = row("elevation", defect?.elevation_id);
  if (!defect || !elevation) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Looking defect={defect} elevation={elevation} />;
}

/** The last answer to a question and its day: "last time 32 mm, 9 Oct". */
function lastWords(readings: readonly Reading[]) {
  return (measure: keyof Measures): string | null => {
    const found = [...readings].reverse().find((one) => one[measure] !== null);
    const value = found?.[measure] ?? null;
    return found && value !== null ? t("reading_last", { size: measureWords(measure, value), date: showDate(found.at) }) : null;
  };
}

function lastMeasures(readings: readonly Reading[]): Measures {
  const of = <K extends keyof Measures>(measure: K) => latest(readings, measure) as Measures[K];
  return {
    area_m2: of("area_m2"), length_m: of("length_m"), depth_max_mm: of("depth_max_mm"), depth_mean_mm: of("depth_mean_mm"),
    crack_width_mm: of("crack_width_mm"), count: of("count"),
  };
}

/** Why this look cannot be kept: it says nothing, or what was drawn is no outline. */
function refuse(key: string, draft: ReadingDraft, elevation: Elevation): string | null {
  const refused = draft.redrawn ? refusalOf(sizeOfDrawn(draft.redrawn, elevation)) : null;
  if (refused) return refusalWords(refused);
  const photos = drafts.peek().get(key)?.photos.length ?? 0;
  return isBlankReading(draft) && photos === 0 ? t("reading_needs") : null;
}

/** Grown, held or repaired: what the numbers say is chosen until the person says otherwise. */
function StatePick({ draft, suggested, onPick }: { draft: ReadingDraft; suggested: ReadingState | null; onPick: (state: ReadingState) => void }) {
  return (
    <Pick
      legend={t("reading_state")} columns={3} value={draft.state ?? suggested} onPick={onPick}
      options={STATES.map((id) => ({ id, label: vocabularyWord("reading_states", id), hint: id === suggested ? t("reading_suggested") : undefined }))}
    />
  );
}

type PartProps = { draft: ReadingDraft; change: Drafted<ReadingDraft>["change"]; defect: Defect; elevation: Elevation; onPhoto: () => void };

/** The mark stands as it was, unless it is drawn anew in this reading. */
function WherePart({ draft, change, defect, elevation, onPhoto }: PartProps) {
  const { redrawn } = draft;
  const old = markOf(defect, readingsOf(defect.id));
  if (!redrawn) {
    return (
      <Card title={t("mark_where")}>
        <p>{t(old.shape === "pin" ? "reading_mark_stands" : "reading_drawing_stands")}</p>
        <div class="deeds"><Button onPress={() => change({ redrawn: { ...old, shape: old.shape === "pin" ? "outline" : old.shape, points_m: [] } })}>{t("reading_redraw")}</Button>{old.shape === "line" ? null : <Button onPress={onPhoto}>{t("mark_on_photo")}</Button>}</div>
      </Card>
    );
  }
  return (
    <div>
      <WhereStep elevation={elevation} drawn={redrawn} onChange={(part) => change({ redrawn: { ...redrawn, ...part } })} onPhoto={onPhoto} />
      <div class="deeds"><Button onPress={() => change({ redrawn: null })}>{t("reading_keep_mark")}</Button></div>
    </div>
  );
}

/** A defect that was drawn is measured by drawing; its area or length is not asked beside it. */
function MeasurePart({ draft, change, defect, elevation, onPhoto }: PartProps) {
  const readings = readingsOf(defect.id);
  const old = markOf(defect, readings);
  const known = sizeOfMark(old, elevation);
  const size = draft.redrawn ? sizeOfDrawn(draft.redrawn, elevation) : null;
  const drawn = { area: known.area_m2 !== null, length: known.length_m !== null } as Record<string, boolean>;
  const asked = questionsFor(kindEntry(defect.kind)?.measures ?? null, old.shape).filter((one) => !drawn[one] || size !== null);
  if (asked.length === 0 && (drawn.area || drawn.length)) return null;
  return (
    <MeasureStep
      questions={asked} value={draft} onChange={change} under={underMark(elevation, old)} size={size}
      last={{ measures: lastMeasures(readings), words: lastWords(readings) }} onPhoto={onPhoto}
    />
  );
}

/** New photos, best from where the first one was taken: then the two can be laid on each other. */
function PhotoPart({ draftKey, draft, change, defect, taking }: PartProps & { draftKey: string; taking: ReturnType<typeof usePhotos> }) {
  const [before] = photosOf(defect.id);
  return (
    <Card title={t("mark_photos")}>
      <DraftPhotos draftKey={draftKey} about={defectName(defect)} headings={draft.headings} onHeadings={(headings) => change({ headings: { ...headings } })} />
      <div class="deeds">
        {before ? <GhostButton draftKey={draftKey} before={before} onTaken={({ sha256 }) => change({ same_place: { ...draft.same_place, [sha256]: before.id } })} /> : null}
        {taking.choose}
      </div>
      {taking.rest}
    </Card>
  );
}

function Looking({ defect, elevation }: { defect: Defect; elevation: Elevation }) {
  const key = `defect/${defect.id}/reading`;
  const drafted = useDraft<ReadingDraft>(key, EMPTY_READING);
  useReadingTidy(key, drafted);
  const photos = usePhotos({ draftKey: key });
  const { value: draft, change } = drafted;
  const suggested = suggestState(draft, readingsOf(defect.id), elevation)?.state ?? null;
  const part = { draft, change, defect, elevation, onPhoto: () => leaveFor(drafted, `/${key}/photo`) };
  const back = `/defect/${defect.id}`;
  const { keep, busy, wrong } = useKeeping(drafted, (now) => refuse(key, now, elevation), async (now) => {
    await keepReading(key, defect.id, now, readingsOf(defect.id), elevation);
    return back;
  });
  return (
    <Page
      title={defectName(defect)} sub={t("reading_title", { wall: wallName(elevation) })} place="walls" back={back} wide
      actions={
        <div class="mark-deed">
          {wrong ? <p class="wrong" role="alert">{wrong}</p> : null}
          {photos.said}
          <div class="mark-deeds">{photos.camera}<Button kind="primary" onPress={() => void keep()} disabled={busy}>{t("reading_keep")}</Button></div>
        </div>
      }
    >
      <div>
        <StatePick draft={draft} suggested={suggested} onPick={(state) => change({ state })} />
        <WherePart {...part} />
      </div>
      <div class="marking">
        <MeasurePart {...part} />
        <PhotoPart {...part} draftKey={key} taking={photos} />
        <TextField label={t("mark_note")} value={draft.note} onInput={(note) => change({ note })} long max={4000} />
        <ThrowAway draftKey={key} finish={drafted.finish} ask={t("reading_throw_ask")} name={t("unfinished_reading", { name: defectName(defect) })} back={back} />
      </div>
    </Page>
  );
}
