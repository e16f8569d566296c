/** Choosing defects for a ticket: those without one, wall by wall, each drawn and as a tile to tick. */
import { go } from "../../../parts/frame/route";
import { Button } from "../../../parts/frame/Button";
import type { Defect, Elevation, Id } from "../../../model/types";
import { row, table } from "../../../store";
import { defectsOf, structureOf } from "../../../store/lookup";
import { t } from "../../../words";
import { KindDrawing } from "../../../parts/drawing/KindDrawing";
import { WallDrawing } from "../../../parts/drawing/WallDrawing";
import { Empty } from "../../../parts/frame/Card";
import { Toggle } from "../../../parts/frame/Field";
import { defectLabel, isClosed, judged, standingWord, ticketFor } from "../../../parts/judged";
import { type Known, kindWords, knownOf, sizeWords } from "../../../parts/ticket/gathered";
import { drawnOf } from "../DefectsCard";

/** Free for a new ticket: not repaired, and on no ticket that is still going on. */
function free(defect: Defect): boolean {
  const ticket = ticketFor(defect);
  return !isClosed(defect) && (ticket === null || ticket.state === "checked");
}

const wallName = (elevation: Elevation) => [structureOf(elevation)?.name, elevation.name].filter(Boolean).join(" · ");

function Tile({ one, on, onChange }: { one: Known; on: boolean; onChange: (on: boolean) => void }) {
  const { defect } = one;
  return (
    <Toggle
      on={on} onChange={onChange}
      label={<span class="choice-line">{defect.kind ? <span class="thumb-kind"><KindDrawing kind={defect.kind} /></span> : null}<span>{defectLabel(defect)} · {kindWords(defect)}</span></span>}
      hint={[standingWord(defect, one.judged), sizeWords([one])].filter(Boolean).join(" · ")}
    />
  );
}

type Props = { chosen: readonly Id[]; onChoose: (ids: Id[]) => void };

function WallGroup({ elevation, here, chosen, onChoose }: Props & { elevation: Elevation; here: readonly Known[] }) {
  const rest = here.map((one) => one.defect.id).filter((id) => !chosen.includes(id));
  const flip = (id: Id, on: boolean) => onChoose(on ? [...chosen, id] : chosen.filter((one) => one !== id));
  return (
    <fieldset class="choice">
      <legend>{wallName(elevation)}</legend>
      <WallDrawing elevation={elevation} marks={here.map(drawnOf)} compact={1.5} label={t("wall_with_marks", { wall: wallName(elevation), marks: here.map((one) => drawnOf(one).name).join("; ") })} />
      {rest.length > 1 ? <Button onPress={() => onChoose([...chosen, ...rest])}>{t("choice_whole_wall")}</Button> : null}
      <div class="choice-tiles">
        {here.map((one) => <Tile key={one.defect.id} one={one} on={chosen.includes(one.defect.id)} onChange={(on) => flip(one.defect.id, on)} />)}
      </div>
    </fieldset>
  );
}

export function DefectChoice({ chosen, onChoose }: Props) {
  const walls = [...table("elevation").value.values()].sort((a, b) => wallName(a).localeCompare(wallName(b)));
  const groups = walls.flatMap((elevation) => {
    const here = knownOf(defectsOf(elevation.id).filter((defect) => free(defect) || chosen.includes(defect.id)).map((defect) => defect.id));
    return here.length > 0 ? [<WallGroup key={elevation.id} elevation={elevation} here={here} chosen={chosen} onChoose={onChoose} />] : [];
  });
  return groups.length > 0 ? <>{groups}</> : <Empty scene="mark" action={<Button onPress={() => go("/walls")}>{t("to_walls")}</Button>}>{t("choice_none")}</Empty>;
}

/** The chosen defects in a line each, for the form once they are chosen. */
export function ChosenDefects({ ids }: { ids: readonly Id[] }) {
  return (
    <ul class="rows plain-rows">
      {ids.flatMap((id) => {
        const defect = row("defect", id);
        const [known] = knownOf([id]);
        if (!defect) return [];
        return [<li key={id}><strong class="number">{defectLabel(defect)}</strong><span class="grow">{kindWords(defect)}</span><span>{known && judged(defect) ? sizeWords([known]) : ""}</span></li>];
      })}
    </ul>
  );
}
