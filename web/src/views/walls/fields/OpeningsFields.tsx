/** Doors, windows, niches, ledges and gutters: chosen by tile, sized by numbers, placed by number or by a tap on the drawing. */
import { useId } from "preact/hooks";
import { type OpeningSketch, type OpeningTrouble, type Sketch, guessed, newOpening, openingTrouble, surfaceOf } from "../../../model/drawing/sketch";
import type { OpeningKind, Surface } from "../../../model/types";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { NumberField, Pick, Toggle } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { lengthUnit, metresFromTyped, showMetres, typedFromMetres } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";
import { useTakeOut } from "../../../parts/undo/undo";

const KINDS: OpeningKind[] = ["door", "window", "niche", "ledge", "gutter"];
const WORDS = { missing: "form_need_size", off: "elevation_opening_off", arch: "elevation_opening_arch" } as const;

type EditorProps = { opening: OpeningSketch; surface: Surface; set: (fields: Partial<OpeningSketch>) => void };

function said(trouble: OpeningTrouble | null, field: OpeningTrouble["field"]): string | null {
  return trouble?.field === field ? t(WORDS[trouble.code]) : null;
}

/** On round walls people measure from the middle line, to either side. */
function Across({ opening, surface, set, wrong }: EditorProps & { wrong: string | null }) {
  const half = (opening.width_m ?? 0) / 2;
  if (surface.kind === "flat") {
    return <NumberField label={t("elevation_opening_left")} unit={lengthUnit()} value={typedFromMetres(opening.x_m)} wrong={wrong} onInput={(typed) => set({ x_m: metresFromTyped(typed) })} />;
  }
  const middle = opening.x_m === null ? null : opening.x_m + half;
  const side = (middle ?? 0) < 0 ? -1 : 1;
  const place = (away: number | null, toward: number) => set({ x_m: away === null ? null : Math.round((toward * Math.abs(away) - half) * 1000) / 1000 });
  return (
    <>
      <NumberField
        label={t("elevation_opening_middle")} unit={lengthUnit()} wrong={wrong} value={typedFromMetres(middle === null ? null : Math.round(Math.abs(middle) * 1000) / 1000)}
        onInput={(typed) => place(metresFromTyped(typed), side)}
      />
      <Pick
        legend={t("elevation_opening_side")} value={side < 0 ? "left" : "right"} onPick={(to) => place(middle, to === "left" ? -1 : 1)}
        options={[{ id: "left", label: t("elevation_opening_side_left") }, { id: "right", label: t("elevation_opening_side_right") }]}
      />
    </>
  );
}

export function OpeningEditor({ opening, surface, set }: EditorProps) {
  const trouble = openingTrouble(opening, surface);
  const size = (field: "width_m" | "height_m" | "y_m", label: string) => (
    <NumberField label={label} unit={lengthUnit()} value={typedFromMetres(opening[field])} wrong={said(trouble, field)} onInput={(typed) => set({ [field]: metresFromTyped(typed) })} />
  );
  return (
    <>
      <p class="hint">{t("elevation_opening_tap")}</p>
      <div class="pair">{size("width_m", t("elevation_opening_width"))}{size("height_m", t("elevation_opening_height"))}</div>
      {size("y_m", t("elevation_opening_up"))}
      <Across opening={opening} surface={surface} set={set} wrong={said(trouble, "x_m")} />
      {opening.kind === "ledge" || opening.kind === "gutter" ? null
        : <Toggle label={t("elevation_opening_arched")} on={opening.head === "arched"} onChange={(on) => set({ head: on ? "arched" : "flat" })} />}
    </>
  );
}

type Props = {
  sketch: Sketch; change: (fields: Partial<Sketch>) => void;
  /** Which opening is being edited: its place in the list, "new" while its kind is asked, or null. */
  at: number | "new" | null; onAt: (at: number | "new" | null) => void;
  /** Changes when the drawing was tapped, so that the number fields start anew. */
  placed: number;
};

export function OpeningsFields({ sketch, change, at, onAt, placed }: Props) {
  const { openings } = sketch;
  const id = useId();
  const surface = surfaceOf(sketch).surface ?? guessed(sketch);
  const set = (i: number, fields: Partial<OpeningSketch>) => change({ openings: openings.map((one, k) => (k === i ? { ...one, ...fields } : one)) });
  const add = (kind: OpeningKind) => {
    change({ openings: [...openings, newOpening(kind, surface)] });
    onAt(openings.length);
  };
  const takeOut = useTakeOut(openings, (next: OpeningSketch[]) => {
    change({ openings: next });
    onAt(null);
  });
  return (
    <Card title={t("elevation_openings")}>
      {openings.length === 0 ? <p class="hint">{t("elevation_openings_none")}</p> : null}
      {openings.map((opening, i) => {
        const trouble = openingTrouble(opening, surface);
        return (
          <div class="sub-card" key={i}>
            <p>{t("elevation_opening_row", { kind: vocabularyWord("opening_kinds", opening.kind), width: showMetres(opening.width_m ?? 0), height: showMetres(opening.height_m ?? 0) })}</p>
            {at === i ? <OpeningEditor key={placed} opening={opening} surface={surface} set={(fields) => set(i, fields)} /> : null}
            {at !== i && trouble ? <p class="wrong" id={`${id}-${i}`}>{t(WORDS[trouble.code])}</p> : null}
            <div class="deeds">
              {at === i ? <Button onPress={() => onAt(null)}>{t("elevation_opening_done")}</Button>
                : <Button onPress={() => onAt(i)} describedBy={trouble ? `${id}-${i}` : undefined} wrong={trouble !== null}>{t("change")}</Button>}
              <Button onPress={() => takeOut(i, vocabularyWord("opening_kinds", opening.kind))}>{t("remove")}</Button>
            </div>
          </div>
        );
      })}
      {at === "new" ? <Pick legend={t("elevation_opening_kind")} value={null} onPick={add} options={KINDS.map((kind) => ({ id: kind, label: vocabularyWord("opening_kinds", kind) }))} />
        : <div class="deeds"><Button onPress={() => onAt("new")}>{t("elevation_opening_add")}</Button></div>}
    </Card>
  );
}
