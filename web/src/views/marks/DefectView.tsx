/** One defect: how pressing and why, where, how big, how it went from look to look, and what can be done. */
import { latest } from "../../model/defect";
import type { Defect, Elevation } from "../../model/types";
import { CoatSection } from "../../parts/drawing/CoatSection";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { SureButton } from "../../parts/frame/SureButton";
import { type Params, go } from "../../parts/frame/route";
import { type Judged, drawnMark, isClosed, judged, ticketState } from "../../parts/judged";
import { Notes } from "../../parts/Notes";
import { may } from "../../parts/may";
import { BeforeAfter } from "../../parts/photo/BeforeAfter";
import { PhotoAdd } from "../../parts/photo/PhotoAdd";
import { PhotoStrip } from "../../parts/photo/PhotoStrip";
import { drop, localNumber, put, row, whole } from "../../store";
import { photosOf, readingsOf, ticketsOf } from "../../store/lookup";
import { t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import { Clashes } from "./cards/ClashCard";
import { OnWall } from "./cards/OnWall";
import { ReadingsCard } from "./cards/ReadingsCard";
import { TradeCard } from "./cards/TradeCard";
import { StandsCard, StopCard, mended } from "./cards/UrgencyCard";
import "./marks.css";
import { areaWords, measureWords, steepWords } from "./sizes";
import { defectName, underMark, wallName } from "./trade";
import { offerRows } from "../../parts/undo/undo";

export function DefectView({ params }: { params: Params }) {
  const defect = row("defect", params.id);
  const elevation = row("elevation", defect?.elevation_id);
  if (!defect || !elevation) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Shown defect={defect} elevation={elevation} />;
}

function RemoveDeed({ defect }: { defect: Defect }) {
  const remove = async () => {
    const name = defectName(defect);
    await drop("defect", defect.id, defect.rev);
    go(`/elevation/${defect.elevation_id}`, true);
    offerRows(name, [{ type: "defect", id: defect.id }]);
  };
  return <SureButton label={t("delete")} title={t("defect_delete_ask", { name: defectName(defect) })} say={t("defect_delete_say")} yes={t("delete")} onYes={remove} />;
}

const SAID_ELSEWHERE = ["length_m", "depth_mean_mm", "crack_width_mm", "count"] as const;

/** How big and how deep, with the depth on the coats. */
function SizeCard({ defect, elevation, found }: { defect: Defect; elevation: Elevation; found: Judged }) {
  const readings = readingsOf(defect.id);
  const area = found.size.area_m2 === null ? null : areaWords(found.size);
  const others = SAID_ELSEWHERE.flatMap((measure) => {
    const value = measure === "length_m" ? found.size.length_m : latest(readings, measure);
    return value === null ? [] : [measureWords(measure, value)];
  });
  const depth = found.facts.depth_max_mm;
  const steep = steepWords(found.size);
  return (
    <Card title={t(isClosed(defect) ? "defect_size_was" : "defect_size")}>
      {area ? <p><strong>{area}</strong></p> : null}
      {others.map((words) => <p key={words}>{words}</p>)}
      {depth === null ? null : (
        <>
          <p>{measureWords("depth_max_mm", depth)}</p>
          <CoatSection {...underMark(elevation, found.mark)} depth_mm={depth} />
        </>
      )}
      {!area && others.length === 0 && depth === null ? <p>{t("not_recorded")}</p> : null}
      {steep ? <p class="hint">{steep}</p> : null}
    </Card>
  );
}

function SeenCard({ defect }: { defect: Defect }) {
  const signs = defect.signs ?? [];
  return (
    <Card title={t("defect_seen")}>
      {signs.length ? <ul>{signs.map((id) => <li key={id}>{vocabularyWord("signs", id)}</li>)}</ul> : <p>{t("defect_no_signs")}</p>}
      <p>{defect.cause ? t("defect_cause", { cause: vocabularyWord("causes", defect.cause) }) : t("defect_no_cause")}</p>
      {defect.note ? <p class="note">{defect.note}</p> : null}
      {may("edit", "defect") ? <div class="deeds"><Button onPress={() => go(`/mark/new?defect=${defect.id}`)}>{t("defect_change")}</Button></div> : null}
    </Card>
  );
}

function TicketsCard({ defect }: { defect: Defect }) {
  const tickets = ticketsOf(defect.id);
  if (tickets.length === 0) return null;
  const number = (one: (typeof tickets)[number]) => one.number ?? t("defect_ticket_local", { n: localNumber("ticket", one.id) ?? "" });
  return (
    <Card title={t("defect_tickets")}>
      <ul class="rows">
        {tickets.map((one) => (
          <li key={one.id}>
            <Link class="row-link" to={`/ticket/${one.id}`}>
              <span class="grow">{t("defect_ticket", { number: number(one), state: vocabularyWord("ticket_states", ticketState(one)) })}</span>
              <span aria-hidden="true">›</span>
            </Link>
          </li>
        ))}
      </ul>
    </Card>
  );
}

function PhotosCard({ defect }: { defect: Defect }) {
  const about = defectName(defect);
  return (
    <Card title={t("mark_photos")}>
      <PhotoStrip ownerId={defect.id} about={about} />
      {may("make", "photo") ? <PhotoAdd draftKey={`defect/${defect.id}`} of_type="defect" of_id={defect.id} about={about} /> : null}
    </Card>
  );
}

/** The newest photo that was taken through an earlier one, with that one. */
function ThenAndNow({ defect }: { defect: Defect }) {
  const now = [...photosOf(defect.id)].reverse().find((photo) => row("photo", photo.same_place_as));
  const then = row("photo", now?.same_place_as);
  if (!now || !then) return null;
  return <Card title={t("wipe_title")}><BeforeAfter key={now.id} before={then} after={now} about={defectName(defect)} /></Card>;
}

/** What is mended gets no second ticket: its own is opened again, or a new reading says that the damage is back. */
function Deeds({ defect }: { defect: Defect }) {
  const toMend = !isClosed(defect) && mended(defect) === null;
  return (
    <>
      {toMend && may("make", "ticket") ? <Button onPress={() => go(`/ticket/new?defects=${defect.id}`)}>{t("defect_open_ticket")}</Button> : null}
      {may("make", "reading") ? <Button kind="primary" onPress={() => go(`/defect/${defect.id}/reading`)}>{t("defect_add_reading")}</Button> : null}
    </>
  );
}

function Shown({ defect, elevation }: { defect: Defect; elevation: Elevation }) {
  const found = judged(defect);
  const mark = drawnMark(defect);
  return (
    <Page
      title={defectName(defect)} sub={<Link to={`/elevation/${elevation.id}?chosen=${defect.id}`}>{wallName(elevation)}</Link>} place="walls"
      back={`/elevation/${elevation.id}?chosen=${defect.id}`} wide actions={<Deeds defect={defect} />}
    >
      <div>
        {found && !isClosed(defect) ? <StopCard reasons={found.reasons} /> : null}
        {mark ? <OnWall elevation={elevation} mark={mark} label={t("defect_drawing", { name: defectName(defect), wall: wallName(elevation) })} /> : null}
        {found ? <StandsCard defect={defect} found={found} /> : null}
      </div>
      <div>
        <Clashes defect={defect} />
        {found ? <SizeCard defect={defect} elevation={elevation} found={found} /> : null}
        <SeenCard defect={defect} />
        <PhotosCard defect={defect} />
        <ThenAndNow defect={defect} />
        <TicketsCard defect={defect} />
        <ReadingsCard defect={defect} />
        <Notes ofType="defect" ofId={defect.id} />
        <TradeCard kind={defect.kind} />
        {may("drop", "defect") ? <div class="deeds"><RemoveDeed defect={defect} /></div> : null}
      </div>
    </Page>
  );
}
