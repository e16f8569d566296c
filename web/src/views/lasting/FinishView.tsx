/** One finish: its coats in section, how it was made, what it was seen to stand, and every look at it with its photos. */
import { Refusal } from "../../model/refusal";
import type { Sighting } from "../../model/lasting/follow";
import { coverOf } from "../../model/defect";
import { depthsOf } from "../../model/lasting/gather";
import { erosion } from "../../model/lasting/wear";
import type { Finish, Id, Score } from "../../model/types";
import { row, whole } from "../../store";
import { photosOf } from "../../store/lookup";
import { CoatLayers } from "../../parts/drawing/CoatLayers";
import { Button } from "../../parts/frame/Button";
import { Card, Chip, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { dayWords, showDose, standWords } from "../../parts/lasting/lastedWords";
import { type Entry, entryOf, scoresOf } from "../../parts/lasting/ledger";
import { may } from "../../parts/may";
import { PhotoAdd } from "../../parts/photo/PhotoAdd";
import { PhotoStrip } from "../../parts/photo/PhotoStrip";
import { ticketName } from "../../parts/ticket/gathered";
import { t } from "../../words";
import { showDate, showMm } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import { VerdictWord } from "./VerdictWord";
import { lastStormOn, wearWords } from "./wearWords";
import "./lasting.css";

const LOGGED = ["by", "batches", "sand", "water", "weather", "cure", "note"] as const;

function MadeCard({ finish, wallLabel }: { finish: Finish; wallLabel: string }) {
  const ticket = row("ticket", finish.ticket_id);
  return (
    <Card title={t("finish_coats")} aside={finish.sample_panel ? <Chip>{t("finish_panel")}</Chip> : null}>
      {finish.coats.length ? <CoatLayers coats={finish.coats} wallLabel={wallLabel} /> : <Empty small scene="coats">{t("finish_no_coats_yet")}</Empty>}
      <dl class="lasted-facts">
        <div class="lasted-fact"><dt>{t("finish_made_on")}</dt><dd>{dayWords(finish.made_on)}</dd></div>
        {finish.ended_on ? <div class="lasted-fact"><dt>{t("finish_ended_on")}</dt><dd>{showDate(finish.ended_on)}</dd></div> : null}
        {LOGGED.map((field) => (finish[field] ? <div class="lasted-fact" key={field}><dt>{t(`finish_${field}`)}</dt><dd>{finish[field]}</dd></div> : null))}
        {ticket ? <div class="lasted-fact"><dt>{t("finish_ticket")}</dt><dd><Link to={`/ticket/${ticket.id}`}>{ticketName(ticket)}</Link></dd></div> : null}
      </dl>
    </Card>
  );
}

/** What was seen, and by what: a score sheet shows its answers and photos, the others lead to their screen. */
function LookRow({ look, score }: { look: Sighting; score: Score | undefined }) {
  const to = look.source === "survey" ? `/survey/${look.id}` : look.source === "reading" ? `/defect/${row("reading", look.id)?.defect_id}` : null;
  const step = look.source === "step" ? row("step", look.id)?.ticket_id : null;
  const link = step ? `/ticket/${step}` : to;
  return (
    <li class="look">
      <p><VerdictWord verdict={look.verdict} /> <b>{showDate(look.on)}</b> {link ? <Link class="plain-link" to={link}>{t(`look_${look.source}`)}</Link> : <span>{t(`look_${look.source}`)}</span>}</p>
      {score ? <ScoreWords score={score} /> : null}
    </li>
  );
}

function ScoreWords({ score }: { score: Score }) {
  const said = [
    score.crack_width_mm === null ? null : score.crack_width_mm === 0 ? t("score_no_cracks") : t("score_cracks_said", { width: showMm(score.crack_width_mm) }),
    score.crack_spacing_mm ? t("score_spacing_said", { spacing: showMm(score.crack_spacing_mm) }) : null,
    score.rub && vocabularyWord("rub_marks", score.rub), score.tap && vocabularyWord("tap_marks", score.tap), score.bead && vocabularyWord("bead_marks", score.bead),
    score.colour && t("score_colour_said", { colour: vocabularyWord("colour_marks", score.colour) }),
    score.depth_max_mm === null ? null : t("score_depth_said", { depth: showMm(score.depth_max_mm) }), score.note,
  ].filter(Boolean);
  return (
    <>
      {said.length ? <ul class="said">{said.map((one) => <li key={one}>{one}</li>)}</ul> : null}
      {photosOf(score.id).length ? <PhotoStrip ownerId={score.id} about={t("score_of", { date: showDate(score.at) })} /> : null}
    </>
  );
}

function LooksCard({ entry }: { entry: Entry }) {
  // A survey that found nothing adds nothing on a day on which somebody looked closer.
  const all = entry.followed.sightings;
  const looks = all.filter((one) => one.source !== "survey" || !all.some((other) => other.source !== "survey" && other.on === one.on)).reverse();
  const scores = new Map<Id, Score>(scoresOf(entry.finish.id).map((one) => [one.id, one]));
  return (
    <Card title={t("looks_title", { n: looks.length })}>
      {looks.length ? <ul class="rows">{looks.map((one) => <LookRow key={`${one.source} ${one.id}`} look={one} score={scores.get(one.id)} />)}</ul> : <Empty small scene="lasted">{t("looks_none")}</Empty>}
    </Card>
  );
}

function wearOf(entry: Entry): string[] {
  const depths = depthsOf(entry.finish, entry.rows);
  const cover = coverOf(entry.finish.coats);
  if (!depths.length || cover <= 0) return [];
  try {
    return wearWords(erosion(depths, cover, lastStormOn(entry.finish, entry.rows)));
  } catch (error) {
    if (error instanceof Refusal) return [];
    throw error;
  }
}

function StandCard({ entry }: { entry: Entry }) {
  const { followed } = entry;
  const gone = followed.verdict === "let_go";
  const wear = wearOf(entry);
  return (
    <Card title={t("stand_title")} tone={gone ? "caution" : undefined} help={wear.length ? "cover" : undefined}>
      <p>{standWords(followed, "l_m2")}</p>
      {followed.days && followed.looks ? <p class="sub">{standWords(followed, "days")}</p> : null}
      {wear.map((one) => <p key={one}>{one}</p>)}
      <p class="hint">{t("stand_rain", { amount: showDose(followed.l_m2?.left ?? 0), n: followed.looks })}</p>
    </Card>
  );
}

export function FinishView({ params }: { params: Params }) {
  const finish = row("finish", params.id);
  const entry = finish && entryOf(finish.id);
  if (!finish || !entry) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const { elevation, structure } = entry;
  return (
    <Page
      title={finish.name} sub={[structure?.name, elevation.name].filter(Boolean).join(" · ")} place="walls" back={`/elevation/${elevation.id}`} wide
      actions={may("make", "score") ? <Button kind="primary" onPress={() => go(`/finish/${finish.id}/score`)}>{t("score_deed")}</Button> : null}
    >
      <div>
        <MadeCard finish={finish} wallLabel={vocabularyWord("wall_materials", structure?.wall_material ?? null)} />
        {may("edit", "finish") ? <p><Link class="plain-link" to={`/finish/${finish.id}/edit`}>{t("finish_change")}</Link></p> : null}
      </div>
      <div>
        <StandCard entry={entry} />
        <LooksCard entry={entry} />
        <Card title={t("mark_photos")}>
          <PhotoStrip ownerId={finish.id} about={finish.name} />
          {may("make", "photo") ? <PhotoAdd draftKey={`finish/${finish.id}`} of_type="finish" of_id={finish.id} about={finish.name} /> : null}
        </Card>
      </div>
    </Page>
  );
}
