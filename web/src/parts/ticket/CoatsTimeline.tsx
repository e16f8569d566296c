/** Coats and waiting: one line per coat on a common scale of days, drawing and words together. */
import { type Method, nameOf } from "../../model/catalogue";
import { type Wait, lastDay, layersOf, longestWait } from "../../model/waiting/waits";
import type { Repair } from "../../model/repair/repair";
import type { Range } from "../../model/types";
import { catalogue, nowIso, row } from "../../store";
import { structureOf } from "../../store/lookup";
import { language, t } from "../../words";
import { showDate, showMm } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { CoatLayers } from "../drawing/CoatLayers";

const DAY_MS = 86_400_000;

/** "5 days" or "5 days (4 to 7)". */
export function daysWords(days: Range): string {
  if (days.low === days.high) return t("days", { n: days.likely });
  return t("days_range", { n: days.likely, low: days.low, high: days.high });
}

const dayOn = (days: number): string => showDate(new Date(Date.parse(nowIso()) + days * DAY_MS).toISOString());

/** A solid block for laying, dots while it is kept damp, a thin line while it only waits. */
function WaitBar({ wait, whole_days }: { wait: Wait; whole_days: number }) {
  const x = (days: number) => 4 + (332 * days) / whole_days;
  const lifts = Array.from({ length: wait.times }, (_, i) => wait.starts_days.likely + i * wait.next_days.likely);
  return (
    <svg class="wait-bar" viewBox="0 0 340 18" aria-hidden="true" preserveAspectRatio="none">
      <path d="M4 9H336" stroke="var(--line)" stroke-width="1" />
      {lifts.map((from) => (
        <g key={from}>
          <path d={`M${x(from)} 9H${x(from + wait.next_days.likely)}`} stroke="var(--edge)" stroke-width="2" />
          <path d={`M${x(from)} 9H${x(from + wait.damp_days.likely)}`} stroke="var(--indigo)" stroke-width="7" stroke-dasharray="2.5 3.5" />
          <rect x={x(from)} y="2" width="9" height="14" rx="2" fill="var(--indigo)" />
        </g>
      ))}
    </svg>
  );
}

function coatWords(wait: Wait): string {
  const name = catalogue.value ? nameOf(catalogue.value, "mixes", wait.mix, language()) : wait.mix;
  if (wait.part === "fill") return t("wait_fill", { mix: name });
  const mm = wait.thickness_mm === null ? "" : showMm(wait.thickness_mm);
  if (wait.part === "dub_out") return t("wait_dub_out", { n: wait.times, mix: name, mm });
  if (wait.times > 1) return t("wait_coats", { n: wait.times, mix: name });
  return mm ? t("wait_coat", { mix: name, mm }) : name;
}

function WaitRow({ wait, whole_days, last }: { wait: Wait; whole_days: number; last: boolean }) {
  const from = wait.starts_days.likely;
  return (
    <li>
      <p class="wait-head"><strong>{from === 0 ? t("wait_first_day") : t("wait_day", { n: from })}</strong> <span>{coatWords(wait)}</span></p>
      <WaitBar wait={wait} whole_days={whole_days} />
      <p class="hint">
        {wait.damp_days.high > 0 ? t("wait_damp", { days: daysWords(wait.damp_days) }) : t("wait_no_damp")}
        {last ? "" : ` ${wait.times > 1 ? t("wait_between", { days: daysWords(wait.next_days) }) : t("wait_next", { days: daysWords(wait.next_days) })}`}
      </p>
    </li>
  );
}

/** The waits a method names itself, for what has no coats and for frost. */
function MethodWaits({ method, beside }: { method: Method; beside: boolean }) {
  if (method.cure.length === 0) return null;
  return (
    <>
      <h3>{t("wait_method")}</h3>
      {beside ? <p class="hint">{t("wait_longer")}</p> : null}
      <ul class="rows plain-rows">
        {method.cure.map((wait) => <li key={wait.words.en}><span class="grow">{wait.words[language()]}</span><span>{daysWords(wait.days)}</span></li>)}
      </ul>
    </>
  );
}

/** What the wall is of; a ticket over walls of several kinds names none. */
function wallOf(repair: Repair): string {
  const materials = new Set(repair.parts.map((part) => structureOf(row("elevation", row("defect", part.defect_id)?.elevation_id))?.wall_material));
  const [only] = materials;
  return materials.size === 1 && only && only !== "other" ? vocabularyWord("wall_materials", only) : t("mark_wall");
}

export function CoatsTimeline({ repair, method }: { repair: Repair; method: Method }) {
  const waits = catalogue.value ? longestWait(repair.parts, catalogue.value.mixes) : [];
  const end = lastDay(waits);
  return (
    <>
      {waits.length > 0 ? (
        <>
          <CoatLayers coats={layersOf(waits)} wallLabel={wallOf(repair)} />
          <ol class="waits">{waits.map((wait, i) => <WaitRow key={i} wait={wait} whole_days={Math.max(1, end.likely)} last={i === waits.length - 1} />)}</ol>
          <p>{t("wait_end", { days: daysWords(end), date: dayOn(end.likely) })}</p>
        </>
      ) : null}
      <MethodWaits method={method} beside={waits.length > 0} />
      <p class="hint">{t("wait_weather")}</p>
    </>
  );
}
