/** One side of a structure: name, shape, sizes, which way it faces, openings; drawn to scale as it is typed. */
import { useMemo, useState } from "preact/hooks";
import { NEW_SKETCH, type Sketch, guessed, openingTrouble, sketchOf, soundOpenings, surfaceOf } from "../../model/drawing/sketch";
import type { Elevation, Id, WallPoint } from "../../model/types";
import { putMany, row, whole } from "../../store";
import { useDraft } from "../../parts/draft";
import { WallDrawing } from "../../parts/drawing/WallDrawing";
import { Button } from "../../parts/frame/Button";
import { TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { may } from "../../parts/may";
import { t } from "../../words";
import { NotHere } from "../NotHere";
import { BearingFields } from "./fields/BearingFields";
import { DropAsk, NotAllowed } from "./DropAsk";
import { OpeningsFields } from "./fields/OpeningsFields";
import { SurfaceFields } from "./fields/SurfaceFields";
import "./walls.css";

type FieldsProps = { sketch: Sketch; change: (fields: Partial<Sketch>) => void; tried: boolean };
const bearingWrong = ({ bearing_deg: deg }: Sketch) => deg === null || !(deg >= 0 && deg <= 360);

/** Whether everything needed is there and can be. */
function complete(sketch: Sketch): boolean {
  const { surface } = surfaceOf(sketch);
  return surface !== null && sketch.name.trim() !== "" && !bearingWrong(sketch) && sketch.openings.every((one) => openingTrouble(one, surface) === null);
}

/** The wall as entered so far; while an opening is edited a tap on it places that opening. */
function Preview({ sketch, known, onTap }: { sketch: Sketch; known: Elevation | undefined; onTap: ((at: WallPoint) => void) | null }) {
  const shape = JSON.stringify([surfaceOf(sketch).surface, guessed(sketch), sketch.openings]);
  const elevation = useMemo(() => {
    const surface = surfaceOf(sketch).surface ?? guessed(sketch);
    return {
      id: "", site_id: "", rev: 0, made_at: "", made_by: "", structure_id: "", name: sketch.name, surface, bearing_deg: sketch.bearing_deg ?? 0,
      openings: soundOpenings(sketch.openings, surface), backdrop: known?.backdrop ?? null,
    };
  }, [shape, known]);
  const guess = surfaceOf(sketch).surface === null;
  const name = sketch.name.trim() || t("elevation_unnamed");
  return (
    <div class={guess ? "preview guess" : "preview"}>
      <WallDrawing elevation={elevation} marks={[]} low label={t("elevation_preview", { name })} mode={onTap ? "pin" : "look"} onDraft={([at]) => at && onTap?.(at)} />
      {guess ? <p class="hint" role="status">{t("elevation_guess")}</p> : null}
    </div>
  );
}

function Fields({ sketch, change, tried }: FieldsProps) {
  const legend = t(sketch.kind === "flat" ? "elevation_faces" : "elevation_faces_dome");
  const wrong = tried && sketch.bearing_deg === null ? t("form_need_bearing") : null;
  return (
    <>
      <TextField
        label={t("elevation_name")} hint={t("elevation_name_hint")} value={sketch.name} max={120} wrong={tried && !sketch.name.trim() ? t("form_need_name") : null}
        onInput={(name) => change({ name })}
      />
      <SurfaceFields sketch={sketch} change={change} tried={tried} />
      <BearingFields deg={sketch.bearing_deg} legend={legend} wrong={wrong} onChange={(bearing_deg) => change({ bearing_deg })} />
    </>
  );
}

/** Keep the side; resolves with its id, or null while something is missing. */
async function keepSide(sketch: Sketch, id: Id | null, structure_id: Id, draft: string): Promise<Id | null> {
  const { surface } = surfaceOf(sketch);
  if (!surface || !complete(sketch)) return null;
  const set = { structure_id, name: sketch.name.trim(), surface, bearing_deg: sketch.bearing_deg ?? 0, openings: soundOpenings(sketch.openings, surface) };
  const [kept = null] = await putMany([{ type: "elevation", id, set }], { draft });
  return kept;
}

export function ElevationForm({ params }: { params: Params }) {
  const id = params.id ?? null;
  const known = row("elevation", id);
  const structure = row("structure", known?.structure_id ?? params.structure);
  const key = id ? `elevation/${id}` : `elevation/new/${params.structure}`;
  const [sketch, change] = useDraft<Sketch>(key, () => (known ? sketchOf(known) : NEW_SKETCH));
  const [tried, setTried] = useState(false);
  const [at, setAt] = useState<number | "new" | null>(null);
  const [placed, setPlaced] = useState(0);
  if (!structure || (id && !known)) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const keep = async () => {
    setTried(true);
    if (await leadToWrong()) return;
    const kept = await keepSide(sketch, id, structure.id, key);
    if (kept) go(`/elevation/${kept}`, true);
  };
  const edited = typeof at === "number" ? sketch.openings[at] : undefined;
  const place = edited && ((point: WallPoint) => {
    const x_m = Math.round((point[0] - (edited.width_m ?? 0) / 2) * 1000) / 1000;
    change({ openings: sketch.openings.map((one, i) => (i === at ? { ...one, x_m, y_m: point[1] } : one)) });
    setPlaced((n) => n + 1);
  });
  if (!may(id ? "edit" : "make", "elevation")) return <Page title={t("elevation_edit")} place="walls" back="/walls"><NotAllowed /></Page>;
  return (
    <Page
      title={t(id ? "elevation_edit" : "elevation_new")} sub={structure.name} place="walls" back={id ? `/elevation/${id}` : "/walls"} wide
      actions={<Button kind="primary" onPress={() => void keep()}>{t("elevation_keep")}</Button>}
    >
      <Preview sketch={sketch} known={known} onTap={place ?? null} />
      <div class="form">
        <Fields sketch={sketch} change={change} tried={tried} />
        <OpeningsFields sketch={sketch} change={change} at={at} onAt={setAt} placed={placed} />
        {known ? <DropAsk type="elevation" id={known.id} name={known.name} title={t("elevation_drop_title", { name: known.name })} say={t("elevation_drop_say")} to="/walls" /> : null}
      </div>
    </Page>
  );
}
