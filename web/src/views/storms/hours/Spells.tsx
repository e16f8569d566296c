/** The wet spells of a table; those ticked become storms. */
import { useState } from "preact/hooks";
import { type Put, Refused, type StationRead, type StationSpell, putMany } from "../../../store";
import { ignoreStoreTrouble } from "../../../parts/draft";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Toggle } from "../../../parts/frame/Field";
import { go } from "../../../parts/frame/route";
import { refusalWords, t } from "../../../words";
import { showDate, showMm, showNumber } from "../../../words/measures";
import { dayAndMonth, peakAside, showHours, windWords } from "../weather";
import { figuresOf } from "./typed";

const SHOWN = 20;

function spellWords(spell: StationSpell): string {
  return t("station_spell", {
    rain: showMm(spell.rain_mm ?? 0), hours: showHours(spell.duration_h), hour: showMm(spell.rain_1h_mm ?? 0), day: showMm(spell.rain_24h_mm ?? 0),
    peak: peakAside(spell.rain_1h_mm ?? 0), wind: windWords(spell),
  });
}

const stormOf = (spell: StationSpell, source: string): Put => ({
  type: "storm", set: { ...figuresOf(spell.hours), name: t("storms_named", { date: dayAndMonth(spell.on) }), began_on: spell.on, source: source.slice(0, 120) },
});

export function Spells({ found, source }: { found: StationRead; source: string }) {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [all, setAll] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  if (!found.spells.length) return null;
  const latest = [...found.spells].reverse();
  const shown = all ? latest : latest.slice(0, SHOWN);
  const turn = (from: string, on: boolean) => setChosen(new Set(on ? [...chosen, from] : [...chosen].filter((one) => one !== from)));
  const keep = async () => {
    try {
      await putMany(found.spells.filter((one) => chosen.has(one.from)).map((one) => stormOf(one, source)));
      go("/storms", true);
    } catch (error) {
      if (error instanceof Refused) setTrouble(refusalWords(error.code));
      else ignoreStoreTrouble(error);
    }
  };
  return (
    <Card title={t("station_spells")} aside={showNumber(found.spells.length, 0)}>
      <p class="hint">{t("station_spells_lead")}</p>
      {found.spells_left_out ? <p class="hint">{t("station_spells_left_out", { n: showNumber(found.spells_left_out, 0) })}</p> : null}
      <div class="station-spells">
        {shown.map((spell) => <Toggle key={spell.from} label={showDate(spell.on)} hint={spellWords(spell)} on={chosen.has(spell.from)} onChange={(on) => turn(spell.from, on)} />)}
      </div>
      {shown.length < latest.length ? <p><Button onPress={() => setAll(true)}>{t("station_spells_more", { n: latest.length - shown.length })}</Button></p> : null}
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {chosen.size ? <Button kind="primary" onPress={() => void keep()}>{t("station_keep", { n: chosen.size })}</Button> : null}
    </Card>
  );
}
