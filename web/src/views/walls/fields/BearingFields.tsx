/** Which way a side faces: eight points of the compass, degrees, or the phone's own compass. */
import { useEffect, useState } from "preact/hooks";
import { Button } from "../../../parts/frame/Button";
import { NumberField, Pick } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { showBearing } from "../../../words/measures";

export const POINTS = [0, 45, 90, 135, 180, 225, 270, 315];
type Turned = DeviceOrientationEvent & { webkitCompassHeading?: number };
type Asking = { requestPermission?: () => Promise<"granted" | "denied"> };

/** Degrees from north, clockwise; null where the phone knows none. */
function headingOf(event: Turned): number | null {
  if (typeof event.webkitCompassHeading === "number") return event.webkitCompassHeading;
  return event.absolute && event.alpha !== null ? (360 - event.alpha) % 360 : null;
}

function useCompass(on: boolean): number | null | "none" {
  const [heading, setHeading] = useState<number | null | "none">(null);
  useEffect(() => {
    if (!on) return;
    const silent = setTimeout(() => setHeading((now) => now ?? "none"), 2500);
    const hear = (event: Event) => {
      const found = headingOf(event as Turned);
      if (found !== null) setHeading(Math.round(found) % 360);
    };
    const name = "ondeviceorientationabsolute" in window ? "deviceorientationabsolute" : "deviceorientation";
    window.addEventListener(name, hear);
    return () => {
      clearTimeout(silent);
      window.removeEventListener(name, hear);
    };
  }, [on]);
  return heading;
}

function Compass({ onTake }: { onTake: (deg: number) => void }) {
  const [on, setOn] = useState(false);
  const [refused, setRefused] = useState(false);
  const heading = useCompass(on);
  if (typeof DeviceOrientationEvent === "undefined") return null;
  const ask = async () => {
    const answer = await (DeviceOrientationEvent as unknown as Asking).requestPermission?.().catch(() => "denied" as const);
    setRefused(answer === "denied");
    setOn(answer !== "denied");
  };
  if (refused || heading === "none") return <p class="hint" role="status">{t("elevation_compass_off")}</p>;
  if (!on) return <div class="deeds"><Button onPress={() => void ask()}>{t("elevation_compass")}</Button></div>;
  return (
    <div class="sub-card">
      <p role="status">{t("elevation_compass_hint")}</p>
      {heading !== null ? <p>{t("elevation_compass_reading", { deg: heading, point: showBearing(heading) })}</p> : null}
      {heading !== null ? <Button onPress={() => onTake(heading)}>{t("elevation_compass_take", { deg: heading })}</Button> : null}
    </div>
  );
}

type Props = { deg: number | null; legend: string; onChange: (deg: number | null) => void; wrong: string | null };

export function BearingFields({ deg, legend, onChange, wrong }: Props) {
  // The typed field starts anew when a tile or the compass gives another value.
  const [given, setGiven] = useState(0);
  const take = (value: number) => {
    setGiven((n) => n + 1);
    onChange(value);
  };
  return (
    <>
      <Pick legend={legend} help="bearing" columns={4} value={deg === null ? null : String(deg)} wrong={wrong} onPick={(id) => take(Number(id))} options={POINTS.map((point) => ({ id: String(point), label: showBearing(point) }))} />
      <NumberField
        key={given} label={t("elevation_bearing")} unit={t("elevation_degrees")} value={deg} onInput={onChange}
        wrong={deg !== null && !(deg >= 0 && deg <= 360) ? t("form_number", { low: 0, high: 360 }) : null}
      />
      <Compass onTake={take} />
    </>
  );
}
