/** "Can we plaster today?": a few answers, and what stands against it with the reasons. It advises; the person at the wall decides. */
import type { ComponentChildren } from "preact";
import { dayOf } from "../../model/storm/limits";
import { NO_WALL, NO_WEATHER, type WallNow, type Weather, todayOf, unanswered } from "../../model/waiting/answers";
import { type Level, type Today, type Verdict, whyNotToday } from "../../model/waiting/gate";
import { nowIso } from "../../store";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { useDraft } from "../draft";
import { Card } from "../frame/Card";
import { degreesWrong } from "./DegreeField";
import { WallFields, WeatherFields } from "./GateForm";
import { reasonWords } from "./gateWords";
import "./waiting.css";

type Judged = { today: Today; found: Verdict };

function judge(weather: Weather, wall: WallNow, frost_free_days: number): Judged | null {
  if (degreesWrong(weather.temperature_c) || degreesWrong(weather.lowest_c)) return null;
  const today = todayOf(weather, wall, frost_free_days);
  return today ? { today, found: whyNotToday(today) } : null;
}

/** Told by shape as well: eight corners, three, or none. */
function VerdictSign({ verdict }: { verdict: Verdict["verdict"] }) {
  const shape = { stop: "M12 3H28L37 12V28L28 37H12L3 28V12z", caution: "M20 3L38 36H2z", go: "M20 3a17 17 0 1 0 .1 0z" }[verdict];
  const mark = { stop: "M12 20H28", caution: "M20 15V25M20 30V31", go: "M12 21L18 27L29 14" }[verdict];
  return (
    <svg viewBox="0 0 40 40" width="40" height="40" aria-hidden="true" class={`gate-sign gate-${verdict}`}>
      <path d={shape} /><path d={mark} fill="none" stroke="#fff" stroke-width="4.5" stroke-linecap="round" stroke-linejoin="round" />
    </svg>
  );
}

const levelWords = (level: Level): string => t(`gate_level_${level}`);

function Answer({ judged, weather }: { judged: Judged | null; weather: Weather }) {
  const open = unanswered(weather);
  const today = dayOf(nowIso());
  return (
    <div class="gate-answer" role="status">
      {judged ? <p class="gate-verdict"><VerdictSign verdict={judged.found.verdict} /><strong>{t(`gate_${judged.found.verdict}`)}</strong></p> : <p><strong>{t("gate_unknown")}</strong></p>}
      {judged && judged.found.reasons.length > 0 ? (
        <ul class="gate-reasons">
          {judged.found.reasons.map((reason) => <li key={reason.code}><b class={`gate-level gate-level-${reason.level}`}>{levelWords(reason.level)}</b> {reasonWords(reason, judged.today)}</li>)}
        </ul>
      ) : null}
      {open.length > 0 ? <p class="hint">{t("gate_not_yet", { what: open.map((one) => t(`gate_q_${one}`)).join(", ") })}</p> : null}
      {weather.on !== null && weather.on !== today ? <p class="wrong">{t("gate_old", { date: showDate(weather.on) })}</p> : null}
    </div>
  );
}

/** `of`: whose wall the answers about the wall are for; `frost_free_days`: how long the work in hand must not freeze. */
export function GateCard({ of, frost_free_days, children }: { of: string; frost_free_days: number; children?: ComponentChildren }) {
  const [weather, changeWeather] = useDraft<Weather>("gate/weather", () => NO_WEATHER);
  const [wall, changeWall] = useDraft<WallNow>(`gate/wall/${of}`, () => NO_WALL);
  const today = dayOf(nowIso());
  return (
    <Card title={t("gate_title")} help="gate">
      {children}
      <Answer judged={judge(weather, wall, frost_free_days)} weather={weather} />
      <details class="gate-form">
        <summary>{t("gate_open")}</summary>
        <WeatherFields weather={weather} change={(fields) => changeWeather({ ...fields, on: today })} />
        <WallFields wall={wall} change={changeWall} today={today} />
        <p class="hint">{t("gate_source")}</p>
      </details>
    </Card>
  );
}
