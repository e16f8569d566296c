/** What is wrong with a table, in sentences with line numbers; the good rows are gone on with only when the person says so. */
import type { StationRead, StationTrouble } from "../../../store";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { isSentence, refusalWords, t } from "../../../words";
import { showNumber } from "../../../words/measures";

function sentence({ code }: StationTrouble): string {
  const key = `station_say_${code}`;
  return isSentence(key) ? t(key) : refusalWords(code);
}

function lineWords({ lines, count }: StationTrouble): string {
  const named = lines.slice(0, 10).join(", ");
  const more = count - Math.min(10, lines.length);
  return more > 0 ? t("station_lines_more", { lines: named, n: showNumber(more, 0) }) : t("station_lines", { lines: named });
}

export function Troubles({ found, onKeepGood }: { found: StationRead; onKeepGood: () => void }) {
  if (!found.troubles.length) return null;
  const waiting = found.hours > 0 && !found.spells.length && found.troubles.some((one) => one.left_out);
  return (
    <Card title={t("station_troubles")}>
      <ul class="station-troubles">
        {found.troubles.map((one) => <li key={one.code}>{sentence(one)} <small>{lineWords(one)}</small></li>)}
      </ul>
      {waiting ? <><p>{t("station_keep_good_ask")}</p><Button kind="primary" onPress={onKeepGood}>{t("station_keep_good")}</Button></> : null}
    </Card>
  );
}
