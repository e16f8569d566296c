/** Judge a finish as it stands: big tiles, no typing needed; one dated sheet that is never changed. */
import { useState } from "preact/hooks";
import type { Finish, Id, Score } from "../../model/types";
import { drafts, flushDrafts, newId, nowIso, photoRow, putMany, row, settings, whole } from "../../store";
import { photosOf } from "../../store/lookup";
import { useDraft } from "../../parts/draft";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Pick, TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { scoresOf } from "../../parts/lasting/ledger";
import { may } from "../../parts/may";
import { GhostButton } from "../../parts/photo/GhostCamera";
import { PhotoButton } from "../../parts/photo/PhotoButton";
import { DraftPhotos, withHeadings } from "../../parts/photo/PhotoStrip";
import { t } from "../../words";
import { showMm } from "../../words/measures";
import { vocabularyList, vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import { NotAllowed } from "../walls/DropAsk";
import { LeaveButton } from "../../parts/undo/LeaveButton";
import { throwAway } from "../../parts/undo/undo";
import "./lasting.css";

type Answers = Pick<Score, "rub" | "tap" | "bead" | "colour" | "crack_width_mm" | "crack_spacing_mm" | "depth_max_mm">;
type ScoreDraft = Answers & { verdict: Score["verdict"] | null; note: string; headings: Record<string, number>; same_place: Record<string, Id> };
type Part = { draft: ScoreDraft; change: (fields: Partial<ScoreDraft>) => void };

const BLANK: ScoreDraft = {
  verdict: null, rub: null, tap: null, bead: null, colour: null, crack_width_mm: null, crack_spacing_mm: null, depth_max_mm: null, note: "", headings: {}, same_place: {},
};
const WIDTHS_MM = [0, 0.1, 0.5, 1, 3];
const SPACINGS_MM = [50, 150, 400];
const DEPTHS_MM = [0, 1, 3, 6, 12];
const LISTS = { rub: "rub_marks", tap: "tap_marks", bead: "bead_marks", colour: "colour_marks" } as const;

/** One question of a list of words; a second tap on "not looked at" takes the answer back. */
function WordPick<K extends keyof typeof LISTS>({ of, draft, change }: Part & { of: K }) {
  const options = vocabularyList(LISTS[of]).map(({ id }) => ({ id, label: vocabularyWord(LISTS[of], id) }));
  return (
    <Pick<string>
      legend={t(`score_${of}`)} value={draft[of] ?? ""} onPick={(id) => change({ [of]: id || null } as Partial<ScoreDraft>)}
      options={[...options, { id: "", label: t("score_not_looked") }]}
    />
  );
}

type NumberPickProps = { legend: string; value: number | null; sizes: readonly number[]; zero: string; onPick: (value: number | null) => void };

function NumberPick({ legend, value, sizes, zero, onPick }: NumberPickProps) {
  return (
    <Pick<string>
      legend={legend} value={value === null ? "" : String(value)} onPick={(id) => onPick(id === "" ? null : Number(id))}
      options={[...sizes.map((mm) => ({ id: String(mm), label: mm === 0 ? zero : showMm(mm) })), { id: "", label: t("score_not_looked") }]}
    />
  );
}

function Questions(part: Part & { wrong: string | null }) {
  const { draft, change, wrong } = part;
  return (
    <div>
      <Pick
        legend={t("score_verdict")} help="score" columns={3} value={draft.verdict} wrong={wrong} onPick={(verdict) => change({ verdict })}
        options={(["held", "worn", "let_go"] as const).map((id) => ({ id, label: vocabularyWord("verdicts", id) }))}
      />
      <NumberPick legend={t("score_cracks")} value={draft.crack_width_mm} sizes={WIDTHS_MM} zero={t("score_no_cracks")} onPick={(mm) => change({ crack_width_mm: mm, crack_spacing_mm: mm ? draft.crack_spacing_mm : null })} />
      {draft.crack_width_mm ? <NumberPick legend={t("score_spacing")} value={draft.crack_spacing_mm} sizes={SPACINGS_MM} zero="" onPick={(mm) => change({ crack_spacing_mm: mm })} /> : null}
      <NumberPick legend={t("score_depth")} value={draft.depth_max_mm} sizes={DEPTHS_MM} zero={t("score_no_depth")} onPick={(mm) => change({ depth_max_mm: mm })} />
      {(Object.keys(LISTS) as (keyof typeof LISTS)[]).map((of) => <WordPick key={of} of={of} {...part} />)}
    </div>
  );
}

/** The newest photo of this finish or of an earlier sheet, to stand where it was taken from. */
function photoBefore(finish: Finish) {
  const all = [...photosOf(finish.id), ...scoresOf(finish.id).flatMap((one) => photosOf(one.id))];
  return all.sort((a, b) => ((a.taken_at ?? a.made_at) < (b.taken_at ?? b.made_at) ? -1 : 1)).at(-1) ?? null;
}

function Photos({ finish, draftKey, draft, change }: Part & { finish: Finish; draftKey: string }) {
  const before = photoBefore(finish);
  return (
    <Card title={t("mark_photos")}>
      <DraftPhotos draftKey={draftKey} about={finish.name} headings={draft.headings} onHeadings={(headings) => change({ headings: { ...headings } })} />
      {before ? <GhostButton draftKey={draftKey} before={before} onTaken={({ sha256 }) => change({ same_place: { ...draft.same_place, [sha256]: before.id } })} /> : null}
      <PhotoButton draftKey={draftKey} />
    </Card>
  );
}

async function keepScore(finish: Finish, key: string, draft: ScoreDraft, verdict: Score["verdict"]): Promise<void> {
  await flushDrafts();
  const id = newId();
  const { note, headings, same_place, ...answers } = draft;
  const photos = withHeadings(drafts.peek().get(key)?.photos ?? [], headings).map((photo) => photoRow("score", id, photo, same_place[photo.sha256] ?? null));
  const set = { ...answers, verdict, finish_id: finish.id, at: nowIso(), survey_id: settings.value.currentSurvey, depth_mean_mm: null, note: note.trim() || null };
  await putMany([{ type: "score", id, set }, ...photos], { draft: key });
}

function Sheet({ finish }: { finish: Finish }) {
  const key = `finish/${finish.id}/score`;
  const [held, change] = useDraft<ScoreDraft>(key, () => BLANK);
  // A draft that holds only photos has none of the answers.
  const draft = { ...BLANK, ...held };
  const [tried, setTried] = useState(false);
  const back = `/finish/${finish.id}`;
  const keep = async () => {
    setTried(true);
    if ((await leadToWrong()) || !draft.verdict) return;
    await keepScore(finish, key, draft, draft.verdict);
    go(back, true);
  };
  return (
    <Page
      title={t("score_title")} sub={finish.name} place="walls" back={back} wide
      actions={
        <div class="score-deed"><Button kind="primary" onPress={() => void keep()}>{t("score_keep")}</Button></div>
      }
    >
      <Questions draft={draft} change={change} wrong={tried && !draft.verdict ? t("score_need_verdict") : null} />
      <div>
        <Photos finish={finish} draftKey={key} draft={draft} change={change} />
        <TextField label={t("mark_note")} value={draft.note} onInput={(note) => change({ note })} long max={4000} />
        <div class="deeds"><LeaveButton draftKey={key} onPress={() => throwAway(key, `${t("score_title")} ${finish.name}`, () => go(back, true))} /></div>
      </div>
    </Page>
  );
}

export function ScoreForm({ params }: { params: Params }) {
  const finish = row("finish", params.id);
  if (!finish) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  if (!may("make", "score")) return <Page title={t("score_title")} place="walls" back={`/finish/${finish.id}`}><NotAllowed /></Page>;
  return <Sheet finish={finish} />;
}
