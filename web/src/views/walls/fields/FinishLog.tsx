/** How a finish was made: who, batches, sand, water, weather, cure. All may stay empty; a sample panel is worth little without them. */
import type { Finish } from "../../../model/types";
import { TextField } from "../../../parts/frame/Field";
import { t } from "../../../words";

const MOST = { by: 120, batches: 400, sand: 200, water: 200, weather: 400, cure: 400, note: 4000 } as const;
type Name = keyof typeof MOST;
const NAMES = Object.keys(MOST) as Name[];
export type LogDraft = Record<Name, string>;

export const beginLog = (one: Partial<Finish> | undefined): LogDraft => Object.fromEntries(NAMES.map((name) => [name, one?.[name] ?? ""])) as LogDraft;
export const keptLog = (log: LogDraft): Record<Name, string | null> => Object.fromEntries(NAMES.map((name) => [name, log[name].trim() || null])) as Record<Name, string | null>;

export function FinishLog({ log, open, change }: { log: LogDraft; open: boolean; change: (fields: Partial<LogDraft>) => void }) {
  return (
    <details class="finish-log" open={open || NAMES.some((name) => log[name] !== "")}>
      <summary>{t("finish_log")}</summary>
      {NAMES.map((name) => <TextField key={name} label={t(`finish_${name}`)} value={log[name]} max={MOST[name]} long={name === "note"} onInput={(value) => change({ [name]: value })} />)}
    </details>
  );
}
