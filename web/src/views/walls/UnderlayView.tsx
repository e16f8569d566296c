/** A photo laid behind the drawing: four known points shown on it, the result looked at, then kept. */
import { homography } from "../../model/rectify";
import { Refusal } from "../../model/refusal";
import type { Elevation, PhotoPoint, WallPoint } from "../../model/types";
import { type KeptPhoto, drafts, keptUrl, photoRow, put, putMany, row, saveDraft, whole } from "../../store";
import { useDraft } from "../../parts/draft";
import { WallDrawing } from "../../parts/drawing/WallDrawing";
import { Button } from "../../parts/frame/Button";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { PhotoButton } from "../../parts/photo/PhotoButton";
import { useShown } from "../../parts/photo/useShown";
import { refusalWords, t } from "../../words";
import { NotHere } from "../NotHere";
import { NotAllowed } from "./DropAsk";
import { type Choice, KnownPoints, type TypedPoint, pointWords, wallPoints } from "./underlay/KnownPoints";
import { POINTS, PhotoPoints } from "./underlay/PhotoPoints";
import { offerUndo } from "../../parts/undo/undo";
import "./walls.css";

const OPACITY = 0.85;
type UnderlayDraft = { choice: Choice; typed: TypedPoint[]; points: PhotoPoint[]; of: string | null };
const BEGIN: UnderlayDraft = { choice: "corners", typed: Array.from({ length: POINTS }, () => ({ x_m: null, y_m: null })), points: [], of: null };

type Found = { matrix: number[] | null; wrong: string | null };

function matrixOf(points: readonly PhotoPoint[], wall: readonly (WallPoint | null)[]): Found {
  const known = wall.filter((point) => point !== null);
  if (points.length < POINTS || known.length < POINTS) return { matrix: null, wrong: null };
  try {
    return { matrix: homography(points, known), wrong: null };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { matrix: null, wrong: error.code };
  }
}

/** What lies behind the drawing now, and taking it away. */
function Present({ elevation }: { elevation: Elevation }) {
  const { backdrop } = elevation;
  if (!backdrop) return null;
  const remove = async () => {
    await put("elevation", elevation.id, { backdrop: null });
    offerUndo({ say: t("undo_removed", { name: t("underlay_name", { name: elevation.name }) }), back: () => put("elevation", elevation.id, { backdrop }) });
  };
  return (
    <>
      <WallDrawing elevation={elevation} marks={[]} label={t("elevation_preview", { name: elevation.name })} />
      <div class="deeds"><Button kind="warning" onPress={() => void remove()}>{t("underlay_remove")}</Button></div>
    </>
  );
}

function Result({ elevation, found, photo, url }: { elevation: Elevation; found: Found; photo: KeptPhoto; url: string }) {
  if (found.wrong) return <p class="wrong" role="alert">{refusalWords(found.wrong)}</p>;
  if (!found.matrix) return <p class="hint">{t("underlay_result_none")}</p>;
  const behind = { key: photo.sha256, homography: found.matrix, find: async () => ({ url, width_px: null }) };
  return (
    <>
      <h2>{t("underlay_result")}</h2>
      <WallDrawing elevation={elevation} marks={[]} behind={behind} label={t("underlay_result")} />
      {elevation.surface.kind === "flat" ? null : <p class="hint">{t("underlay_round")}</p>}
    </>
  );
}

export function UnderlayView({ params }: { params: Params }) {
  const elevation = row("elevation", params.id);
  if (!elevation) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  if (!may("edit", "elevation")) return <Page title={t("underlay_title")} place="walls" back={`/elevation/${elevation.id}`}><NotAllowed /></Page>;
  return <Underlay elevation={elevation} />;
}

function Underlay({ elevation }: { elevation: Elevation }) {
  const key = `elevation/${elevation.id}/underlay`;
  const [draft, change] = useDraft<UnderlayDraft>(key, () => BEGIN);
  const photo = drafts.value.get(key)?.photos.at(-1);
  const shown = useShown(photo?.sha256 ?? null, async () => (photo ? keptUrl(photo.sha256, photo.media_type, "1600") : null));
  // Points belong to the photo they were set on; another photo starts without.
  const points = draft.of === photo?.sha256 ? draft.points : [];
  const wall = wallPoints(elevation, draft.choice, draft.typed);
  const found = matrixOf(points, wall);
  const names = wall.map((point) => pointWords(elevation, point));
  const set = (next: readonly PhotoPoint[]) => change({ points: [...next], of: photo?.sha256 ?? null });
  const keep = async () => {
    if (!photo || !found.matrix) return;
    const picture = photoRow("elevation", elevation.id, photo);
    const backdrop = { photo_id: picture.id ?? "", homography: found.matrix, opacity: OPACITY };
    await putMany([picture, { type: "elevation", id: elevation.id, set: { backdrop } }], { draft: key });
    go(`/elevation/${elevation.id}`, true);
  };
  const ask = points.length < POINTS ? t("underlay_do", { n: points.length + 1, where: names[points.length] ?? "" }) : t("underlay_all");
  return (
    <Page
      title={t("underlay_title")} sub={elevation.name} place="walls" back={`/elevation/${elevation.id}`} wide
      actions={found.matrix ? <Button kind="primary" onPress={() => void keep()}>{t("underlay_keep")}</Button> : null}
    >
      <div>
        {photo ? null : <><p>{t("underlay_say")}</p><Present elevation={elevation} /></>}
        {shown === "none" ? <p class="wrong" role="alert">{t("underlay_not_shown")}</p> : null}
        {shown && shown !== "none" ? (
          <>
            <p role="status"><strong>{ask}</strong></p>
            <PhotoPoints key={shown.url} url={shown.url} size={shown.size} points={points} names={names} onPoints={set} />
            {points.length ? <Button onPress={() => set([])}>{t("underlay_start_over")}</Button> : null}
          </>
        ) : null}
        <PhotoButton draftKey={key} onTaken={(taken) => void saveDraft(key, { ...draft, points: [], of: taken.sha256 })} />
      </div>
      <div>
        {photo && shown && shown !== "none" ? <Result elevation={elevation} found={found} photo={photo} url={shown.url} /> : null}
        <KnownPoints elevation={elevation} choice={draft.choice} typed={draft.typed} onChoice={(choice) => change({ choice })} onTyped={(typed) => change({ typed })} />
      </div>
    </Page>
  );
}
