/** A weather station's table: choose the file, look over which column is what, read the troubles, pick the spells that were storms. */
import { useRef, useState } from "preact/hooks";
import { NotReached, Refused, currentSite, readStation, setSettings, settings, type StationMapping, type StationRead } from "../../../store";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Page } from "../../../parts/frame/Page";
import { refusalWords, t } from "../../../words";
import { showNumber } from "../../../words/measures";
import { Columns } from "./Columns";
import { Spells } from "./Spells";
import { Troubles } from "./Troubles";
import "./hours.css";

const LARGEST = 16 * 1024 * 1024;

/** The table in hand, what the server said of it, and asking again with another mapping. */
function useStation() {
  const [file, setFile] = useState<{ name: string; bytes: ArrayBuffer } | null>(null);
  const [found, setFound] = useState<StationRead | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [reading, setReading] = useState(false);
  const site = currentSite.value ?? "";
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC";
  const [mapping, setMapping] = useState<StationMapping>({ zone, ...settings.value.stations[site] });
  const asked = useRef(0);
  const ask = async (bytes: ArrayBuffer, next: StationMapping, keepGood: boolean) => {
    const mine = ++asked.current;
    setReading(true);
    setTrouble(null);
    try {
      const answer = await readStation(site, bytes, next, keepGood);
      if (mine === asked.current) setFound(answer);
    } catch (error) {
      if (!(error instanceof Refused) && !(error instanceof NotReached)) throw error;
      setTrouble(refusalWords(error.code));
    } finally {
      if (mine === asked.current) setReading(false);
    }
  };
  const choose = async (chosen: File | undefined) => {
    if (!chosen) return;
    setFound(null);
    if (chosen.size > LARGEST) return setTrouble(refusalWords("table_too_large"));
    const bytes = await chosen.arrayBuffer();
    setFile({ name: chosen.name, bytes });
    await ask(bytes, mapping, false);
  };
  const change = async (part: StationMapping) => {
    const next = { ...mapping, ...part };
    setMapping(next);
    await setSettings({ stations: { ...settings.value.stations, [site]: next as Record<string, string> } });
    if (file) await ask(file.bytes, next, false);
  };
  return { file, found, trouble, reading, mapping, choose, change, keepGood: () => (file ? ask(file.bytes, mapping, true) : undefined) };
}

export function StationView(_props: { params: Record<string, string> }) {
  const station = useStation();
  const { file, found, trouble, reading } = station;
  const box = useRef<HTMLInputElement>(null);
  return (
    <Page title={t("station_title")} place="storms" back="/storms"
      actions={<Button kind={found ? "quiet" : "primary"} onPress={() => box.current?.click()}>{t(file ? "station_other" : "station_choose")}</Button>}>
      <p>{t("station_lead")}</p>
      <input ref={box} class="unseen" type="file" tabIndex={-1} accept=".csv,.txt,text/csv" aria-label={t("station_choose")} onChange={(event) => void station.choose(event.currentTarget.files?.[0])} />
      {reading ? <p role="status">{t("station_reading")}</p> : null}
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {found ? (
        <>
          <Card title={file?.name ?? ""} aside={t("station_hours", { n: showNumber(found.hours, 0) })}>
            <Columns columns={found.columns} zone={found.zone} onChange={(part) => void station.change(part)} />
          </Card>
          <Troubles found={found} onKeepGood={() => void station.keepGood()} />
          <Spells found={found} source={file?.name ?? ""} />
        </>
      ) : null}
    </Page>
  );
}
