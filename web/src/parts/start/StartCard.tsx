/** The first steps on the person's own wall: which are done, which is next, and what one has when all are. */
import { START_STEPS, type Start, type StartStep } from "../../model/start/start";
import { currentSite } from "../../store";
import { defectsOf } from "../../store/lookup";
import { t } from "../../words";
import { Scene } from "../drawing/scene/Scene";
import { SmallWall } from "../drawing/WallGround";
import { Button } from "../frame/Button";
import { Card } from "../frame/Card";
import { Link } from "../frame/Link";
import { go } from "../frame/route";
import { drawnMark } from "../judged";
import { newestWall, putAway, startNow, wayBackTo, wayTo } from "./start";
import "./start.css";

const SCENE = { wall: "wall", defect: "mark", ticket: "ticket" } as const;

/** What is done is drawn as it is: the person's own wall with its own mark. */
function StepDrawing({ step, done }: { step: StartStep; done: boolean }) {
  const wall = done && step !== "ticket" ? newestWall() : null;
  if (!wall) return <Scene name={SCENE[step]} wide={96} />;
  const marks = step === "defect" ? defectsOf(wall.id).map(drawnMark).filter((mark) => mark !== null) : [];
  return <span class="start-own" aria-hidden="true"><SmallWall elevation={wall} marks={marks} label="" /></span>;
}

function StepRow({ step, n, start }: { step: StartStep; n: number; start: Start }) {
  const done = start.done.includes(step);
  const isNext = start.next === step;
  const inside = (
    <>
      <StepDrawing step={step} done={done} />
      <span class="grow">
        <strong>{t("start_numbered", { n, step: t(`start_${step}`) })}</strong>
        <small class="block">{done ? t("start_step_done") : t(`start_${step}_say`)}</small>
      </span>
      {isNext ? <span class="chip chip-strong">{t("start_step_next")}</span> : <span aria-hidden="true" class="start-tick">{done ? "✓" : ""}</span>}
    </>
  );
  if (!done && !isNext) return <li class="row-link start-then">{inside}</li>;
  return <li><Link class="row-link" to={done ? wayBackTo(step) : wayTo(step)}>{inside}</Link></li>;
}

function PutAway() {
  if (!currentSite.value) return null;
  return <Button onPress={() => void putAway(true)}>{t("start_put_away")}</Button>;
}

/** What one has now, and what comes next. */
export function StartDone() {
  if (startNow()?.next !== null) return null;
  return (
    <Card title={t("start_have_title")}>
      <div class="start-have"><Scene name="ticket" wide={96} /><p class="grow">{t("start_have")}</p></div>
      <div class="deeds">
        <Button onPress={() => go("/phone")}>{t("start_invite")}</Button>
        <Button onPress={() => go("/storm/new")}>{t("start_storm")}</Button>
        <Button onPress={() => go("/papers")}>{t("start_print")}</Button>
        <PutAway />
      </div>
    </Card>
  );
}

export function StartCard() {
  const start = startNow();
  if (!start) return null;
  if (start.next === null) return <StartDone />;
  return (
    <Card title={t("start_title")} aside={t("start_count", { n: start.done.length })}>
      <ol class="rows start-steps">{START_STEPS.map((step, i) => <StepRow key={step} step={step} n={i + 1} start={start} />)}</ol>
      <div class="start-away"><PutAway /></div>
    </Card>
  );
}

/** The deed of the next step, for the foot of the screen. */
export function StartDeed() {
  const next = startNow()?.next;
  if (!next) return null;
  return <Button kind="primary" onPress={() => go(wayTo(next))}>{t(`start_${next}`)}</Button>;
}

/** On the screens on the way: how far it is, in a line. */
export function StartLine() {
  const start = startNow();
  if (!start?.next) return null;
  return (
    <p class="start-line" role="status">
      <span aria-hidden="true">{START_STEPS.map((step) => <i key={step} class={start.done.includes(step) ? "on" : ""} />)}</span>
      {t("start_line", { n: start.done.length, step: t(`start_${start.next}`) })}
    </p>
  );
}
