/** The place of a photo the phone knew none for, typed from a map; it is shown as set by hand. */
import { useState } from "preact/hooks";
import { type KeptPhoto, correctKept } from "../../store";
import { t } from "../../words";
import { showNumber } from "../../words/measures";
import { Button } from "../frame/Button";
import { NumberField, Pick } from "../frame/Field";
import { leadToWrong } from "../frame/wrong";

type Half = "north" | "south" | "east" | "west";
type AxisProps = { label: string; most: number; degrees: number | null; onDegrees: (degrees: number | null) => void; legend: string; halves: [Half, Half]; half: Half; onHalf: (half: Half) => void; tried: boolean };

const outside = (degrees: number | null, most: number) => degrees !== null && !(degrees >= 0 && degrees <= most);

// A sign is hard to type on a phone's number keys, so the half of the globe is picked.
function Axis({ label, most, degrees, onDegrees, legend, halves, half, onHalf, tried }: AxisProps) {
  return (
    <>
      <NumberField label={label} unit="°" value={degrees} onInput={onDegrees} wrong={outside(degrees, most) || (tried && degrees === null) ? t("form_number", { low: 0, high: showNumber(most) }) : null} />
      <Pick legend={legend} hideLegend value={half} onPick={onHalf} options={halves.map((id) => ({ id, label: t(`photo_${id}`) }))} />
    </>
  );
}

function PlaceForm({ onTake }: { onTake: (lat: number, lon: number) => void }) {
  const [lat, setLat] = useState<number | null>(null);
  const [lon, setLon] = useState<number | null>(null);
  const [upDown, setUpDown] = useState<Half>("north");
  const [leftRight, setLeftRight] = useState<Half>("east");
  const [tried, setTried] = useState(false);
  const take = async () => {
    setTried(true);
    if ((await leadToWrong()) || lat === null || lon === null) return;
    onTake(upDown === "south" ? -lat : lat, leftRight === "west" ? -lon : lon);
  };
  return (
    <div class="place-form">
      <Axis tried={tried} label={t("photo_lat")} most={90} degrees={lat} onDegrees={setLat} legend={t("photo_lat_half")} halves={["north", "south"]} half={upDown} onHalf={setUpDown} />
      <Axis tried={tried} label={t("photo_lon")} most={180} degrees={lon} onDegrees={setLon} legend={t("photo_lon_half")} halves={["east", "west"]} half={leftRight} onHalf={setLeftRight} />
      <Button onPress={() => void take()}>{t("photo_place_take")}</Button>
    </div>
  );
}

/** Offered only where no camera or phone told a place: what an instrument said is never written over. */
export function PlaceByHand({ photo, draftKey }: { photo: KeptPhoto; draftKey: string }) {
  const [open, setOpen] = useState(false);
  if (photo.lat !== null && photo.position_source !== "hand") return null;
  const take = (lat: number, lon: number) => {
    void correctKept(draftKey, photo.sha256, { lat, lon, accuracy_m: null, position_source: "hand" });
    setOpen(false);
  };
  return open ? <PlaceForm onTake={take} /> : <div class="deeds"><Button onPress={() => setOpen(true)}>{t("photo_place_hand")}</Button></div>;
}
