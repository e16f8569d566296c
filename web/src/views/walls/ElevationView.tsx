/** One side: its drawing with everything found on it, the same as a list, and the deed the screen is for, marking a defect. */
import { useEffect, useMemo, useState } from "preact/hooks";
import { draws, firstViewOf, viewsOf } from "../../model/drawing/projection";
import { Refusal } from "../../model/refusal";
import { seenWidth, surfaceHeight } from "../../model/surface";
import type { Defect, Elevation, Id, Surface, View } from "../../model/types";
import { catalogue, row, settings, table, whole } from "../../store";
import { defectsOf, standingFinishes, structureOf } from "../../store/lookup";
import { Legend } from "../../parts/drawing/Legend";
import { type DrawnMark, WallDrawing } from "../../parts/drawing/WallDrawing";
import { byUrgency, drawnMark, isClosed } from "../../parts/judged";
import { Button } from "../../parts/frame/Button";
import { Pick } from "../../parts/frame/Field";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { Help } from "../../parts/help/Help";
import { may } from "../../parts/may";
import { StartDeed, StartLine } from "../../parts/start/StartCard";
import { startNow } from "../../parts/start/start";
import { locale, t } from "../../words";
import { showBearing, showMetres } from "../../words/measures";
import { NotHere } from "../NotHere";
import { KeptStatus, UnfinishedMarks } from "../marks/UnfinishedMarks";
import { Notes } from "../../parts/Notes";
import { FinishCard } from "./FinishCard";
import { ChosenCard, FoundList } from "./FoundList";
import "./walls.css";

function sizeOfWall(surface: Surface): string {
  const height = showMetres(surfaceHeight(surface));
  if (surface.kind === "flat") return t("elevation_size_flat", { width: showMetres(surface.width_m), height });
  return t(surface.kind === "dome" ? "elevation_size_dome" : "elevation_size_round", { across: showMetres(seenWidth(surface)), height });
}

function viewsFor(surface: Surface): View[] {
  try {
    return viewsOf(surface);
  } catch (error) {
    if (error instanceof Refusal) return ["seen"];
    throw error;
  }
}

function ViewPick({ views, view, onPick }: { views: readonly View[]; view: View; onPick: (view: View) => void }) {
  if (views.length < 2) return null;
  return (
    <div class="views">
      <Help about="views"><Pick legend={t("elevation_view")} hideLegend columns={views.length === 2 ? 2 : 3} value={view} onPick={onPick} options={views.map((id) => ({ id, label: t(`elevation_view_${id}`) }))} /></Help>
      {view === "unrolled" ? <p class="hint">{t("elevation_view_edges")}</p> : null}
    </div>
  );
}

/** More would be a list nobody reads; the rest is found in the same view. */
const MOST_NAMED = 8;

function hiddenWords(view: View, to: View | null, marks: readonly DrawnMark[]): string {
  const names = marks.slice(0, MOST_NAMED).map((one) => one.label);
  const told = marks.length > names.length ? `${names.join(", ")} …` : new Intl.ListFormat(locale()).format(names);
  const key = to === null ? "elevation_hidden_all" : to !== "seen" && view === "seen" ? `elevation_hidden_${to}` as const : `elevation_part_${to}` as const;
  return t(key, { n: marks.length, marks: told });
}

/** A sentence for each view in which marks show that this one does not draw, with their names. */
function hiddenIn(marks: readonly DrawnMark[], surface: Surface, view: View): string[] {
  const elsewhere = new Map<View | null, DrawnMark[]>();
  for (const one of marks.filter(({ mark }) => !draws(surface, view, mark))) {
    const to = firstViewOf(surface, one.mark);
    elsewhere.set(to, [...(elsewhere.get(to) ?? []), one]);
  }
  return [...elsewhere].map(([to, hidden]) => hiddenWords(view, to, hidden));
}

function Links({ elevation }: { elevation: Elevation }) {
  if (!may("edit", "elevation")) return null;
  return (
    <p class="side-links">
      <Link class="plain-link" to={`/elevation/${elevation.id}/edit`}>{t("elevation_edit_link")}</Link>
      <Link class="plain-link" to={`/elevation/${elevation.id}/underlay`}>{t("elevation_photo_link")}</Link>
    </p>
  );
}

/** From so many on, defects come in a task of their own, after the wall: in one with it they would hold up a finger. */
const MANY = 500;
const NONE: readonly Defect[] = [];

/** Whether they may be counted and drawn by now. */
function useArrived(defects: readonly Defect[]): boolean {
  const [arrived, setArrived] = useState(false);
  const many = defects.length > MANY;
  useEffect(() => {
    if (!many) return setArrived(false);
    const timer = setTimeout(() => setArrived(true));
    return () => clearTimeout(timer);
  }, [many]);
  return arrived || !many;
}

/**
 * Open ones first and by urgency; the drawing takes them in the same order. Worked out anew only when a row, a word or a
 * measure has changed: with 2,000 marks it takes longer than a tap may. One sentence stands for the book, which loads late.
 */
function useFound(elevation: Elevation) {
  const there = defectsOf(elevation.id);
  const counted = useArrived(there) && whole.value;
  const defects = counted || there.length <= MANY ? there : NONE;
  const ground = [table("reading").value, table("ticket").value, table("step").value, table("finish").value, row("structure", elevation.structure_id)];
  const found = useMemo(() => {
    const all = byUrgency(defects);
    const closed = new Set(all.filter(isClosed));
    const open = all.filter((one) => !closed.has(one));
    return { defects: all, open, closed: [...closed], marks: all.map(drawnMark).filter((mark) => mark !== null) };
  }, [elevation, defects, ...ground, catalogue.value, settings.value, t("elevation_no_kind")]);
  return { counted, ...found };
}

/** Marking is what this screen is for, until the first mark waits for its first ticket. */
function Deeds({ elevation }: { elevation: Elevation }) {
  const ticketNext = startNow()?.next === "ticket";
  return (
    <>
      <Button kind={ticketNext ? "quiet" : "primary"} onPress={() => go(`/mark/new?elevation=${elevation.id}`)}>{t("elevation_mark")}</Button>
      {ticketNext ? <StartDeed /> : null}
    </>
  );
}

export function ElevationView({ params }: { params: Params }) {
  const elevation = row("elevation", params.id);
  if (!elevation) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Side elevation={elevation} first={params.chosen ?? null} />;
}

function Side({ elevation, first }: { elevation: Elevation; first: Id | null }) {
  const [chosen, setChosen] = useState<Id | null>(first);
  const [view, setView] = useState<View>("seen");
  const { counted, marks, open, closed, defects } = useFound(elevation);
  const views = viewsFor(elevation.surface);
  const structure = structureOf(elevation);
  const name = [structure?.name, elevation.name].filter(Boolean).join(" · ");
  const defect = defects.find((one) => one.id === chosen);
  const hidden = useMemo(() => (views.length > 1 ? hiddenIn(marks, elevation.surface, view) : []), [marks, elevation, view, locale()]);
  const sub = <>{sizeOfWall(elevation.surface)} · {t("elevation_faces_words", { bearing: showBearing(elevation.bearing_deg) })}</>;
  return (
    <Page
      title={name} place="walls" back="/walls" wide sub={sub}
      actions={may("make", "defect") ? <Deeds elevation={elevation} /> : null}
    >
      <div>
        <StartLine />
        <ViewPick views={views} view={view} onPick={setView} />
        <WallDrawing
          elevation={elevation} view={view} marks={marks} chosen={chosen} onChoose={setChosen} finishes={standingFinishes(elevation.id)}
          label={t("elevation_drawing", { name, n: marks.length })}
        />
        {hidden.map((words) => <p key={words} class="hint">{words}</p>)}
        <KeptStatus elevation={elevation.id} />
        {defect ? <ChosenCard key={defect.id} defect={defect} /> : null}
        <Legend marks={marks} finishes={standingFinishes(elevation.id)} />
      </div>
      <div>
        <UnfinishedMarks elevation={elevation.id} />
        <FoundList counted={counted} open={open} closed={closed} chosen={chosen} onPick={setChosen} />
        <FinishCard elevation={elevation} />
        <Notes ofType="elevation" ofId={elevation.id} />
        <Links elevation={elevation} />
      </div>
    </Page>
  );
}
