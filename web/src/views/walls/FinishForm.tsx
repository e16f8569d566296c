/** What covers a side or a part of it: coats, when it was put on, whether it is a trial, and when it came off. */
import { useId, useState } from "preact/hooks";
import { reckonArea } from "../../model/outline";
import { Refusal } from "../../model/refusal";
import { dayAllowed } from "../../model/storm/limits";
import type { Elevation, Fields, Finish, Id, WallPoint } from "../../model/types";
import { nowIso, putMany, row, whole } from "../../store";
import { structureOf } from "../../store/lookup";
import { useDraft } from "../../parts/draft";
import { WallDrawing } from "../../parts/drawing/WallDrawing";
import { Button } from "../../parts/frame/Button";
import { Pick, TextField, Toggle } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { ofRepair } from "../../parts/lasting/repaired";
import { Help } from "../../parts/help/Help";
import { may } from "../../parts/may";
import { refusalWords, t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import { CoatFields, type CoatSketch, soundCoats } from "./fields/CoatFields";
import { FinishLog, type LogDraft, beginLog, keptLog } from "./fields/FinishLog";
import { DropAsk, NotAllowed } from "./DropAsk";
import "./walls.css";

type FinishDraft = {
  name: string; coats: CoatSketch[]; made_on: string; ended_on: string; panel: boolean; part: boolean; view: "seen" | "unrolled" | "above"; points: WallPoint[];
  ticket_id: Id | null; log: LogDraft;
};
type FormProps = { draft: FinishDraft; change: (fields: Partial<FinishDraft>) => void; elevation: Elevation; tried: boolean };

const begin = (one: Partial<Finish> | undefined): FinishDraft => ({
  ticket_id: one?.ticket_id ?? null, log: beginLog(one),
  name: one?.name ?? "", coats: one?.coats ?? [], made_on: one?.made_on ?? "", ended_on: one?.ended_on ?? "", panel: one?.sample_panel ?? false,
  part: one?.region != null, view: one?.region?.view ?? "seen", points: one?.region?.points_m ?? [],
});

/** Why the part drawn cannot be kept, in words; null if it can, or if it is the whole side. */
function regionWrong({ part, points, view }: FinishDraft, elevation: Elevation): string | null {
  if (!part) return null;
  if (points.length < 3) return t("finish_need_region");
  try {
    reckonArea(elevation.surface, view, points);
    return null;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return refusalWords(error.code);
  }
}

/** The row to keep; null while something is missing. */
function rowOf(draft: FinishDraft, elevation: Elevation): Partial<Fields<"finish">> | null {
  const coats = soundCoats(draft.coats);
  if (!coats || !draft.name.trim() || regionWrong(draft, elevation)) return null;
  return {
    elevation_id: elevation.id, name: draft.name.trim(), coats, made_on: draft.made_on || null, ended_on: draft.ended_on || null,
    sample_panel: draft.panel, ticket_id: draft.ticket_id, ...keptLog(draft.log), region: draft.part ? { view: draft.view, shape: "outline", points_m: draft.points } : null,
  };
}

function Region({ draft, change, elevation, tried }: FormProps) {
  const id = useId();
  const wrong = tried || draft.points.length > 3 ? regionWrong(draft, elevation) : null;
  return (
    <>
      <Pick
        legend={t("finish_where")} value={draft.part ? "part" : "whole"} onPick={(where) => change({ part: where === "part" })}
        options={[{ id: "whole", label: t("finish_whole") }, { id: "part", label: t("finish_region") }]}
      />
      {draft.part ? (
        <>
          <WallDrawing elevation={elevation} view={draft.view} marks={[]} mode="outline" draft={draft.points} onDraft={(points) => change({ points: [...points] })} label={t("finish_region")} wrongBy={wrong ? id : undefined} />
          {draft.points.length ? <Button onPress={() => change({ points: draft.points.slice(0, -1) })}>{t("finish_region_undo")}</Button> : null}
          {wrong ? <p class="wrong" id={id} role="alert">{wrong}</p> : null}
        </>
      ) : null}
    </>
  );
}

function Form(props: FormProps) {
  const { draft, change, elevation, tried } = props;
  const material = structureOf(elevation)?.wall_material ?? null;
  const dayWrong = (day: string) => (tried && day && !dayAllowed(day, nowIso()) ? t("storms_date_wrong") : null);
  return (
    <>
      <TextField label={t("finish_name")} hint={t("finish_name_hint")} value={draft.name} max={120} wrong={tried && !draft.name.trim() ? t("form_need_name") : null} onInput={(name) => change({ name })} />
      <CoatFields coats={draft.coats} wallLabel={vocabularyWord("wall_materials", material)} tried={tried} onCoats={(coats) => change({ coats })} />
      <div class="pair">
        <TextField type="date" label={t("finish_made_on")} value={draft.made_on} wrong={dayWrong(draft.made_on)} onInput={(made_on) => change({ made_on })} />
        <TextField type="date" label={t("finish_ended_on")} hint={t("finish_ended_hint")} value={draft.ended_on} wrong={dayWrong(draft.ended_on)} onInput={(ended_on) => change({ ended_on })} />
      </div>
      <FinishLog log={draft.log} open={draft.panel} change={(log) => change({ log: { ...draft.log, ...log } })} />
      <div class="toggle-row"><Help about="panel"><Toggle label={t("finish_panel")} hint={t("finish_panel_hint")} on={draft.panel} onChange={(panel) => change({ panel })} /></Help></div>
      <Region {...props} />
    </>
  );
}

export function FinishForm({ params }: { params: Params }) {
  const known = row("finish", params.id);
  const elevation = row("elevation", known?.elevation_id ?? params.elevation);
  if (!elevation || (params.id && !known)) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Finished known={known} elevation={elevation} repair={params.ticket ?? null} defect={params.defect ?? null} />;
}

type FinishedProps = { known: Finish | undefined; elevation: Elevation; repair: Id | null; defect: Id | null };

function Finished({ known, elevation, repair, defect }: FinishedProps) {
  const key = known ? `finish/${known.id}/edit` : `finish/new/${repair ?? elevation.id}`;
  const [draft, change] = useDraft(key, () => begin(known ?? ofRepair(repair, defect)));
  const [tried, setTried] = useState(false);
  const back = known ? `/finish/${known.id}` : repair ? `/ticket/${repair}` : `/elevation/${elevation.id}`;
  const allowed = may(known ? "edit" : "make", "finish");
  const keep = async () => {
    setTried(true);
    const set = rowOf(draft, elevation);
    if ((await leadToWrong()) || !set) return;
    await putMany([{ type: "finish", id: known?.id ?? null, set }], { draft: key });
    go(back, true);
  };
  return (
    <Page
      title={t(known ? "finish_edit" : "finish_new")} sub={elevation.name} place="walls" back={back}
      actions={allowed ? <Button kind="primary" onPress={() => void keep()}>{t("finish_keep")}</Button> : null}
    >
      {allowed ? (
        <div class="form">
          <Form draft={draft} change={change} elevation={elevation} tried={tried} />
          {known ? <DropAsk type="finish" id={known.id} name={known.name} title={t("finish_drop_title", { name: known.name })} say={t("finish_drop_say")} to={`/elevation/${elevation.id}`} /> : null}
        </div>
      ) : <NotAllowed />}
    </Page>
  );
}
