/** One day of the plan: a bar of hours for each person with the work on it, the same in words, and what is mixed when. */
import type { Block, PlannedDay } from "../../../model/planning/shapes";
import type { Worker } from "../../../model/types";
import { t } from "../../../words";
import { showDate, showNumber } from "../../../words/measures";
import { Link } from "../../../parts/frame/Link";
import { MixingList } from "./MixingList";
import { clockWords, jobName, jobNumber, personWords, reasonWords, visitWords } from "./dayWords";
import type { Planned } from "./planning";

const WIDTH = 358;
const BAR = 40;
/** Narrower than this a number does not fit. */
const LEAST_LABEL = 22;

function BarBlock({ block, planned, scale }: { block: Block; planned: Planned; scale: number }) {
  const kind = planned.jobs.get(block.job)?.visits[block.visit]?.kind ?? "work";
  const [x, width] = [1 + block.from_h * scale, Math.max(3, (block.to_h - block.from_h) * scale)];
  return (
    <g class={`block-${kind}`}>
      <rect x={x} y="2" width={width} height={BAR - 4} rx="4" />
      {width >= LEAST_LABEL ? <><rect class="block-plate" x={x + width / 2 - 11} y={BAR / 2 - 10} width="22" height="20" rx="4" /><text x={x + width / 2} y={BAR / 2 + 5} text-anchor="middle">{jobNumber(block.job)}</text></> : null}
    </g>
  );
}

function PersonBar({ blocks, planned, hours, most }: { blocks: readonly Block[]; planned: Planned; hours: number; most: number }) {
  const scale = (WIDTH - 2) / most;
  const step = most > 12 ? 4 : most > 6 ? 2 : 1;
  const ticks = Array.from({ length: Math.floor(most / step) + 1 }, (_, n) => n * step);
  return (
    <svg class="day-bar" viewBox={`0 0 ${WIDTH} ${BAR + 18}`} aria-hidden="true">
      <defs>
        <pattern id="block-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="#fff" /><path d="M0 0V7" stroke="var(--clay)" stroke-width="3" /></pattern>
      </defs>
      <rect class="day-free" x="1" y="2" width={hours * scale} height={BAR - 4} rx="4" />
      {blocks.map((block) => <BarBlock key={`${block.job}-${block.visit}`} block={block} planned={planned} scale={scale} />)}
      {ticks.map((hour) => (
        <g key={hour}>
          <path d={`M${1 + hour * scale} ${BAR - 1}v5`} stroke="var(--ink)" />
          <text x={Math.min(WIDTH - 10, Math.max(8, 1 + hour * scale))} y={BAR + 16} text-anchor="middle">{hour}</text>
        </g>
      ))}
    </svg>
  );
}

function PersonDay({ day, planned, worker, n, most }: { day: PlannedDay; planned: Planned; worker: Worker; n: number; most: number }) {
  const blocks = day.blocks.filter((block) => block.worker === n);
  const busy = blocks.reduce((sum, block) => sum + block.to_h - block.from_h, 0);
  return (
    <li>
      <p><strong>{personWords(worker.person, n)}</strong> <small>{t("day_busy", { busy: showNumber(busy, 1), of: showNumber(worker.hours, 1) })}</small></p>
      <PersonBar blocks={blocks} planned={planned} hours={worker.hours} most={most} />
      <ol class="day-blocks">
        {blocks.map((block) => (
          <li key={`${block.job}-${block.visit}`}>
            {clockWords(block.from_h)}–{clockWords(block.to_h)} <Link to={`/ticket/${block.job}`}>{jobName(block.job)}</Link>: {visitWords(block, planned.jobs.get(block.job))}
          </li>
        ))}
      </ol>
    </li>
  );
}

function Reasons({ day, planned }: { day: PlannedDay; planned: Planned }) {
  const waits = day.waits.filter((one) => one.code !== "curing");
  const lines = [...waits.map((one) => ({ ...one, key: `w${one.job}`, say: "day_waits" as const })), ...day.cautions.map((one) => ({ ...one, key: `c${one.job}${one.code}`, say: "day_care" as const }))];
  if (lines.length === 0) return null;
  return (
    <details class="handing-more">
      <summary>{t("day_reasons", { n: lines.length })}</summary>
      <ul class="reasons">{lines.map((one) => <li key={one.key}>{t(one.say, { ticket: jobName(one.job), why: reasonWords(one.code, planned.jobs.get(one.job)) })}</li>)}</ul>
    </details>
  );
}

type Props = { day: PlannedDay; planned: Planned; crew: readonly Worker[]; first: boolean };

export function DayBoard({ day, planned, crew, first }: Props) {
  const most = Math.max(1, ...crew.map((one) => one.hours));
  const tickets = new Set(day.blocks.map((block) => block.job)).size;
  return (
    <details class="card handing-fold" open={first}>
      <summary><h2>{showDate(day.on)}</h2> <span class="aside">{t("day_tickets", { n: tickets })}</span></summary>
      <ul class="day-people">
        {crew.map((worker, n) => (day.blocks.some((block) => block.worker === n) || first ? <PersonDay key={n} day={day} planned={planned} worker={worker} n={n} most={most} /> : null))}
      </ul>
      {first ? <DayLegend /> : null}
      <MixingList batches={day.batches} />
      <Reasons day={day} planned={planned} />
    </details>
  );
}

function DayLegend() {
  return (
    <p class="day-legend" aria-hidden="true">
      {(["prepare", "lay", "work"] as const).map((kind) => (
        <span key={kind}><svg viewBox="0 0 26 18" width="26" height="18" class="day-bar"><g class={`block-${kind}`}><rect x="1" y="1" width="24" height="16" rx="3" /></g></svg> {t(`legend_${kind}`)}</span>
      ))}
      <span>{t("legend_hours")}</span>
    </p>
  );
}
