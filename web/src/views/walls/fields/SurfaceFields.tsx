/** Shape and sizes of a side, asked as people measure them. */
import type { ComponentChildren } from "preact";
import { NEW_SKETCH, type DomeShape, type Ring, type SizeField, type Sketch, type WallKind, asked, guessed, surfaceOf } from "../../../model/drawing/sketch";
import { SmallWall } from "../../../parts/drawing/WallGround";
import { Button } from "../../../parts/frame/Button";
import { NumberField, Pick } from "../../../parts/frame/Field";
import { type WordKey, refusalWords, t } from "../../../words";
import { lengthUnit, metresFromTyped, typedFromMetres } from "../../../words/measures";
import { useTakeOut } from "../../../parts/undo/undo";

type Props = { sketch: Sketch; change: (fields: Partial<Sketch>) => void; tried: boolean };

const KINDS: WallKind[] = ["flat", "round_wall", "dome"];
const DOMES: DomeShape[] = ["hemisphere", "cap", "lancet", "cone", "profile"];
const SHOWN: Partial<Record<DomeShape, Partial<Sketch>>> = {
  cap: { height_m: 1.2 }, cone: { height_m: 3.4, across_top_m: 0 }, hemisphere: {}, lancet: { height_m: 4 },
  profile: { rings: [{ across_m: 4, height_m: 0 }, { across_m: 3.7, height_m: 1.2 }, { across_m: 2, height_m: 2.4 }, { across_m: 0, height_m: 3 }] },
};

/** A small wall of this shape, for its tile. */
function Example({ kind, shape = "lancet" }: { kind: WallKind; shape?: DomeShape }) {
  const surface = guessed({ ...NEW_SKETCH, kind, shape, across_m: 4, ...(kind === "dome" ? SHOWN[shape] : {}) });
  const shown = { id: kind, site_id: "", rev: 0, made_at: "", made_by: "", structure_id: "", name: "", surface, bearing_deg: 0, openings: null, backdrop: null };
  return <span class="example" aria-hidden="true"><SmallWall elevation={shown} px_per_m={14} label="" /></span>;
}

const LABELS: Record<Exclude<SizeField, "rings">, WordKey> = {
  width_m: "elevation_width", height_m: "elevation_height", batter_deg: "elevation_batter", across_m: "elevation_across", across_top_m: "elevation_across_top",
};
const HINTS: Partial<Record<SizeField, WordKey>> = { batter_deg: "elevation_batter_hint", across_top_m: "elevation_across_top_hint" };

function Size({ field, sketch, change, wrong }: { field: Exclude<SizeField, "rings">; sketch: Sketch; change: Props["change"]; wrong: string | null }) {
  const degrees = field === "batter_deg";
  const hint = HINTS[field];
  return (
    <NumberField
      label={t(LABELS[field])} hint={hint ? t(hint) : undefined} help={degrees ? "lean" : undefined} unit={degrees ? t("elevation_degrees") : lengthUnit()} wrong={wrong}
      value={degrees ? sketch.batter_deg : typedFromMetres(sketch[field])} onInput={(typed) => change({ [field]: degrees ? typed : metresFromTyped(typed) })}
    />
  );
}

function Rings({ sketch, change, wrong }: { sketch: Sketch; change: Props["change"]; wrong: string | null }) {
  const { rings } = sketch;
  const takeOut = useTakeOut(rings, (next: Ring[]) => change({ rings: next }));
  const set = (i: number, fields: Partial<Ring>) => change({ rings: rings.map((ring, k) => (k === i ? { ...ring, ...fields } : ring)) });
  return (
    <fieldset class="sub-card">
      <legend>{t("elevation_rows")}</legend>
      {rings.map((ring, i) => (
        <div key={`${rings.length}-${i}`}>
          <div class="pair">
            <NumberField wrong={i === 0 ? wrong : null} label={t("elevation_row_height", { n: i + 1 })} unit={lengthUnit()} value={typedFromMetres(ring.height_m)} onInput={(typed) => set(i, { height_m: metresFromTyped(typed) })} />
            <NumberField label={t("elevation_row_across", { n: i + 1 })} unit={lengthUnit()} value={typedFromMetres(ring.across_m)} onInput={(typed) => set(i, { across_m: metresFromTyped(typed) })} />
          </div>
          {rings.length > 2 ? <Button onPress={() => takeOut(i, t("elevation_row_height", { n: i + 1 }))}>{t("elevation_row_remove", { n: i + 1 })}</Button> : null}
        </div>
      ))}
      <div class="deeds"><Button onPress={() => change({ rings: [...rings, { across_m: null, height_m: null }] })}>{t("elevation_row_add")}</Button></div>
    </fieldset>
  );
}

export function SurfaceFields({ sketch, change, tried }: Props) {
  const { wrong } = surfaceOf(sketch);
  const said = (field: SizeField): string | null => {
    if (wrong?.field !== field || (wrong.code === "missing" && !tried)) return null;
    return wrong.code === "missing" ? t("form_need_size") : refusalWords(wrong.code);
  };
  const kindTile = (kind: WallKind) => ({ id: kind, label: t(`elevation_${kind}`), drawing: <Example kind={kind} /> as ComponentChildren });
  const domeTile = (shape: DomeShape) => ({ id: shape, label: t(`elevation_${shape}`), drawing: <Example kind="dome" shape={shape} /> as ComponentChildren });
  return (
    <>
      <Pick legend={t("elevation_kind")} columns={3} value={sketch.kind} onPick={(kind) => change({ kind })} options={KINDS.map(kindTile)} />
      {sketch.kind === "dome" ? <Pick legend={t("elevation_dome_shape")} columns={3} value={sketch.shape} onPick={(shape) => change({ shape })} options={DOMES.map(domeTile)} /> : null}
      <div key={`${sketch.kind} ${sketch.shape}`}>
        {asked(sketch).map((field) => (field === "rings" ? <Rings key={field} sketch={sketch} change={change} wrong={said(field)} />
          : <Size key={field} field={field} sketch={sketch} change={change} wrong={said(field)} />))}
      </div>
    </>
  );
}
