/** Marking a defect, new or known: where, what, how big, what tells danger, photos; every step may wait, every tap is stored. */
import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { type MarkDraft, draftFacts, draftOf, emptyMark, markOfDrawn, questionsFor, readPoints, refusalOf, sizeOfDrawn } from "../../model/marking/marking";
import { drewAnew } from "../../model/defect";
import type { Defect, Elevation, MarkShape, View } from "../../model/types";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { drawnMark, isClosed } from "../../parts/judged";
import { usePhotos } from "../../parts/photo/PhotoButton";
import { DraftPhotos } from "../../parts/photo/PhotoStrip";
import { catalogue, drafts, newId, readDraft, row, saveDraft, whole } from "../../store";
import { readingsOf, standingFinishes, structureOf } from "../../store/lookup";
import { refusalWords, t } from "../../words";
import { NotHere } from "../NotHere";
import { KindStep } from "./steps/KindStep";
import { MeasureStep } from "./steps/MeasureStep";
import { CauseStep, SignStep } from "./steps/SignStep";
import { OnWall } from "./cards/OnWall";
import { UrgencyLine, UrgencyReasons } from "./cards/UrgencyCard";
import { WhereStep } from "./steps/WhereStep";
import { ThrowAway } from "./ThrowAway";
import { keepMark } from "./keep";
import "./marks.css";
import { defectName, judgeFacts, kindEntry, kindName, underMark, wallName } from "./trade";
import { type Drafted, leaveFor, useDraft } from "./useDraft";
import { useKeeping } from "./useKeeping";
import { useMarkTidy } from "./useTidy";

const SHAPES: readonly string[] = ["pin", "line", "outline"];
/** The sentence beside Keep that says why not. */
const SAID = "mark-wrong";
const VIEWS: readonly string[] = ["seen", "unrolled", "above"];

/** What the address asks to begin with; null while its wall or defect is not here. */
function begin(params: Params): MarkDraft | null {
  const defect = row("defect", params.defect);
  if (defect) return draftOf(defect);
  const elevation = row("elevation", params.elevation);
  if (!elevation) return null;
  const view = VIEWS.includes(params.view ?? "") ? (params.view as View) : "seen";
  const shape = SHAPES.includes(params.shape ?? "") ? (params.shape as MarkShape) : "pin";
  return { ...emptyMark(elevation.id), view, shape, points_m: readPoints(params.points) };
}

/** Makes the draft, then puts its address in the place of this one, so that a page that dies comes back to it. */
function Opening({ params }: { params: Params }) {
  const found = begin(params);
  const there = found !== null;
  useEffect(() => {
    if (!found) return;
    const id = newId();
    void saveDraft(`mark/${id}`, found).then(() => go(`/mark/${id}`, true));
  }, [there]);
  return found || !whole.value ? <p class="splash">{t("loading")}</p> : <NotHere />;
}

export function MarkView({ params }: { params: Params }) {
  if (params.draft === "new") return <Opening params={params} />;
  const key = `mark/${params.draft}`;
  const elevation = row("elevation", readDraft<MarkDraft>(key)?.elevation_id);
  if (!elevation) return drafts.value.has(key) && !whole.value ? <p class="splash">{t("loading")}</p> : <Gone />;
  return <Marking key={key} draftKey={key} elevation={elevation} />;
}

function Gone() {
  return (
    <Page title={t("mark_gone_title")} place="walls" back="/walls" actions={<Button kind="primary" onPress={() => go("/walls")}>{t("to_walls")}</Button>}>
      <p>{t("mark_gone")}</p>
    </Page>
  );
}

function judgeDraft(draft: MarkDraft, elevation: Elevation) {
  const wall = { elevation, structure: structureOf(elevation), finishes: standingFinishes(elevation.id) };
  const readings = draft.defect_id ? readingsOf(draft.defect_id) : [];
  return catalogue.value ? judgeFacts(draftFacts(draft, readings, wall, catalogue.value.mixes)) : null;
}

/** Why this cannot be kept yet: without a place, or with one that is none on this wall. All else may wait. */
function refuse(draft: MarkDraft, elevation: Elevation): string | null {
  if (!markOfDrawn(draft)) return t("mark_needs_place");
  const refused = refusalOf(sizeOfDrawn(draft, elevation));
  return refused ? refusalWords(refused) : null;
}

async function keepAndLeave(key: string, draft: MarkDraft, elevation: Elevation): Promise<string> {
  const id = await keepMark(key, draft, elevation);
  return draft.defect_id ? `/defect/${id}` : `/elevation/${elevation.id}?chosen=${id}`;
}

/** The mark of a known defect is changed here only while no reading holds a drawing of it: a reading's drawing is never overwritten. */
const drawnByReading = (defect: Defect): boolean => readingsOf(defect.id).some((one) => one.mark !== null);

function WhereItLies({ defect, elevation }: { defect: Defect; elevation: Elevation }) {
  const readings = readingsOf(defect.id);
  const mark = drawnMark(defect);
  const anew = readings.some((_, i) => drewAnew(defect, readings.slice(0, i + 1)));
  return (
    <Card title={t("mark_where")}>
      {mark ? <OnWall elevation={elevation} mark={mark} label={t("defect_drawing", { name: defectName(defect), wall: wallName(elevation) })} /> : null}
      <p>{t(anew ? "mark_redrawn" : "mark_of_reading")}</p>
    </Card>
  );
}

type StepsProps = { draftKey: string; drafted: Drafted<MarkDraft>; elevation: Elevation; about: string; taking: ComponentChildren };

/** How soon is no question on a mark that is repaired. */
const askedSoon = (defect: Defect | undefined): boolean => defect === undefined || !isClosed(defect);

function Steps({ draftKey, drafted, elevation, about, taking }: StepsProps) {
  const { value: draft, change } = drafted;
  const mark = markOfDrawn(draft);
  const size = sizeOfDrawn(draft, elevation);
  const judgement = judgeDraft(draft, elevation);
  return (
    <div class="marking">
      <KindStep kind={draft.kind} onPick={(kind) => change({ kind })} />
      {draft.defect_id ? null : (
        <MeasureStep
          questions={questionsFor(kindEntry(draft.kind)?.measures ?? null, mark?.shape ?? draft.shape)} value={draft} onChange={change}
          under={underMark(elevation, mark)} size={size} onPhoto={() => leaveFor(drafted, `/${draftKey}/photo`)}
        />
      )}
      <SignStep kind={draft.kind} value={draft.signs} onChange={(signs) => change({ signs })} stop={judgement?.reasons ?? []} />
      <Card title={t("mark_photos")}>
        <DraftPhotos draftKey={draftKey} about={about} headings={draft.headings} onHeadings={(headings) => change({ headings: { ...headings } })} />
        {taking}
      </Card>
      <CauseStep kind={draft.kind} cause={draft.cause} note={draft.note} onCause={(cause) => change({ cause })} onNote={(note) => change({ note })} />
      {judgement && askedSoon(row("defect", draft.defect_id)) ? <Card title={t("mark_urgency")} help="urgency"><UrgencyReasons kind={draft.kind} judgement={judgement} /></Card> : null}
      <ThrowAway
        draftKey={draftKey} finish={drafted.finish} changes={draft.defect_id !== null} ask={t(draft.defect_id ? "mark_throw_changes_ask" : "mark_throw_ask")}
        name={t("unfinished_mark", { kind: kindName(draft.kind), wall: wallName(elevation) })} back={draft.defect_id ? `/defect/${draft.defect_id}` : `/elevation/${elevation.id}`}
      />
    </div>
  );
}

function Marking({ draftKey, elevation }: { draftKey: string; elevation: Elevation }) {
  const drafted = useDraft<MarkDraft>(draftKey, emptyMark(elevation.id));
  useMarkTidy(draftKey, drafted);
  const { keep, busy, wrong } = useKeeping(drafted, (draft) => refuse(draft, elevation), (draft) => keepAndLeave(draftKey, draft, elevation));
  const { value: draft, change } = drafted;
  const photos = usePhotos({ draftKey });
  const defect = row("defect", draft.defect_id);
  const about = defect ? defectName(defect) : t("mark_about", { kind: kindName(draft.kind).toLocaleLowerCase(), wall: wallName(elevation) });
  const onPhoto = () => leaveFor(drafted, `/${draftKey}/photo`);
  const keepWords = draft.kind || defect ? t("mark_keep") : t("mark_keep_unnamed");
  return (
    <Page
      title={defect ? t("mark_change_title", { name: defectName(defect) }) : t("mark_title")} sub={wallName(elevation)} place="walls" wide
      back={defect ? `/defect/${defect.id}` : `/elevation/${elevation.id}`}
      actions={
        <div class="mark-deed">
          {wrong ? <p class="wrong" id={SAID} role="alert">{wrong}</p> : askedSoon(defect) ? <UrgencyLine kind={draft.kind} judgement={judgeDraft(draft, elevation)} /> : null}
          {photos.said}
          <div class="mark-deeds">{photos.camera}<Button kind="primary" onPress={() => void keep()} disabled={busy}>{keepWords}</Button></div>
        </div>
      }
    >
      {defect && drawnByReading(defect) ? <WhereItLies defect={defect} elevation={elevation} /> : <WhereStep elevation={elevation} drawn={draft} onChange={change} without={draft.defect_id} onPhoto={onPhoto} wrongBy={wrong ? SAID : undefined} />}
      <Steps draftKey={draftKey} drafted={drafted} elevation={elevation} about={about} taking={<><div class="deeds">{photos.choose}</div>{photos.rest}</>} />
    </Page>
  );
}
