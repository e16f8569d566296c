/** Coats and waiting: one line per coat on a common scale of days, drawing and words together. */
import type { Method } from "../../model/catalogue";
import { coatsOfParts, frostFreeFromStart } from "../../model/waiting/curing";
import { type Wait, lastDay, layersOf, waitsOf } from "../../model/waiting/waits";
import type { Repair } from "../../model/repair/repair";
import type { Range } from "../../model/types";
import { catalogue, nowIso, row } from "../../store";
import { structureOf } from "../../store/lookup";
import { language, t } from "../../words";
import { showDate, showMm } from "../../words/measures";
import { mixWord, vocabularyWord } from "../../words/vocabulary";
import { CoatLayers } from "../drawing/CoatLayers";
import { coatTag, coatsName } from "./coatWords";

const DAY_MS = 86_400_000;

/** "5 days" or "5 days (4 to 7)". */
export function daysWords(days: Range): string {
  if (days.low === days.high) return t("days", { n: days.likely });
  return t("days_range", { n: days.likely, low: days.low, high: days.high });
}

const dayOn = (days: number): string => showDate(new Date(Date.parse(nowIso()) + days * DAY_MS).toISOString());

const [TRACK_FROM, TRACK_TO, BLOCK] = [4, 336, 9];

/** A solid block for laying, dots while it is kept damp, a thin line while it only waits; nothing of it leaves the track. */
function WaitBar({ wait, whole_days, last }: { wait: Wait; whole_days: number; last: boolean }) {
  const x = (days: number) => Math.min(TRACK_TO, TRACK_FROM + ((TRACK_TO - TRACK_FROM) * days) / whole_days);
  const waitsUntil = (from: number, i: number) => from + (i < wait.times - 1 ? wait.next_days : last ? wait.damp_days : wait.after_days).likely;
  const lifts = Array.from({ length: wait.times }, (_, i) => wait.starts_days.likely + i * wait.next_days.likely);
  return (
    <svg class="wait-bar" viewBox="0 0 340 18" aria-hidden="true" preserveAspectRatio="none">
      <path d={`M${TRACK_FROM} 9H${TRACK_TO}`} stroke="var(--line)" stroke-width="1" />
      {lifts.map((from, i) => (
        <g key={from}>
          <path d={`M${x(from)} 9H${x(waitsUntil(from, i))}`} stroke="var(--edge)" stroke-width="2" />
          <path d={`M${x(from)} 9H${x(from + wait.damp_days.likely)}`} stroke="var(--indigo)" stroke-width="7" stroke-dasharray="2.5 3.5" />
          <rect x={Math.min(x(from), TRACK_TO - BLOCK)} y="2" width={BLOCK} height="14" rx="2" fill="var(--indigo)" />
        </g>
      ))}
    </svg>
  );
}

function coatWords(wait: Wait): string {
  const mm = wait.thickness_mm === null ? "" : showMm(wait.thickness_mm * wait.times);
  const words = { what: coatsName(wait.first_n, wait.times), mix: mixWord(wait.mix), n: wait.times, mm };
  if (wait.part === "fill") return words.mix;
  if (wait.part === "dub_out") return t("wait_dub_out", words);
  return t(words.mm ? "wait_coat" : "wait_thin", words);
}

function WaitRow({ wait, whole_days, last }: { wait: Wait; whole_days: number; last: boolean }) {
  const from = wait.starts_days.likely;
  return (
    <li>
      <p class="wait-head"><strong>{from === 0 ? t("wait_first_day") : t("wait_day", { n: from })}</strong> <span>{coatWords(wait)}</span></p>
      <WaitBar wait={wait} whole_days={whole_days} last={last} />
      <p class="hint">
        {wait.damp_days.high > 0 ? t("wait_damp", { days: daysWords(wait.damp_days) }) : t("wait_no_damp")}
        {wait.times > 1 ? ` ${t("wait_between", { days: daysWords(wait.next_days) })}` : ""}
        {last ? "" : ` ${t("wait_next", { days: daysWords(wait.after_days) })}`}
      </p>
    </li>
  );
}

/** Waits of a method that nothing laid shows: until it is dry, until the prop may go. All others are in the days above and in the dates. */
function MethodWaits({ method }: { method: Method }) {
  const others = othersOf(method);
  if (others.length === 0) return null;
  return (
    <>
      <h3>{t("wait_method")}</h3>
      <ul class="rows plain-rows wait-rows">
        {others.map((wait) => <li key={wait.words.en}><span class="grow">{wait.words[language()]}</span><span>{daysWords(wait.days)}</span></li>)}
      </ul>
    </>
  );
}

const othersOf = (method: Method) => method.cure.filter((one) => one.wait == null);
/** Whether there is anything to wait for. */
export const waitsAtAll = (repair: Repair): boolean => repair.with_loss_l.likely > 0 || othersOf(repair.method).length > 0;

/** What the wall is of; a ticket over walls of several kinds names none. */
function wallOf(repair: Repair): string {
  const materials = new Set(repair.parts.map((part) => structureOf(row("elevation", row("defect", part.defect_id)?.elevation_id))?.wall_material));
  const [only] = materials;
  return materials.size === 1 && only && only !== "other" ? vocabularyWord("wall_materials", only) : t("mark_wall");
}

/** `past`: the work is done, so nothing is begun today. */
export function CoatsTimeline({ repair, past }: { repair: Repair; past?: boolean | undefined }) {
  const mixes = catalogue.value?.mixes ?? {};
  const coats = coatsOfParts(repair.parts, mixes);
  const waits = waitsOf(coats.map((coat) => coat.place), mixes);
  const end = lastDay(waits);
  return (
    <>
      {waits.length > 0 ? (
        <>
          <CoatLayers coats={layersOf(waits)} wallLabel={wallOf(repair)} tagOf={({ first_n, last_n }) => coatTag(first_n, last_n)} />
          <ol class="waits">{waits.map((wait, i) => <WaitRow key={i} wait={wait} whole_days={Math.max(1, end.likely)} last={i === waits.length - 1} />)}</ol>
          <p>{past ? t("wait_in_all", { days: daysWords(end) }) : t("wait_end", { days: daysWords(end), date: dayOn(end.likely) })} {t("wait_frost", { days: daysWords(frostFreeFromStart(coats)) })}</p>
        </>
      ) : null}
      <MethodWaits method={repair.method} />
      <p class="hint">{t("wait_weather")}</p>
    </>
  );
}
