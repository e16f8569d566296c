/** Which screen belongs to the present path; before that: storage trouble, opening, enrolment. */
import { useEffect, useLayoutEffect } from "preact/hooks";
import { applyUpdate, clearedAt, draftAtCamera, limited, me, ready, setClearedAt, settings, troubles, updateReady, whole } from "../store";
import { Button } from "../parts/frame/Button";
import { go, match, path } from "../parts/frame/route";
import { UndoBar } from "../parts/undo/UndoBar";
import { loadWords, t, withWords, wordsReady } from "../words";
import { type View, later } from "./Later";
import { NotHere, StorageTrouble } from "./NotHere";
import { WallsView } from "./walls/WallsView";

// The walls are there at first paint; every other place is fetched, from this phone's own copy, when it is first gone to.
const setting = () => import("./walls/setting");
const lasting = () => import("./lasting");
const marks = () => import("./marks");
const measuring = () => import("./measuring");
const tickets = () => import("./tickets");
const storms = () => import("./storms");
const mixes = () => import("./mixes");
const buying = () => import("./buying");
const handing = () => import("./handing");
const papers = () => import("./papers");
const finding = () => import("./finding");

const ElevationView = later(() => import("./walls/ElevationView"), "ElevationView");
const EnrolView = later(() => import("./phone/EnrolView"), "EnrolView");

const ROUTES: [pattern: string, screen: View][] = [
  ["/walls", WallsView],
  ["/start", later(setting, "FirstWallForm")],
  ["/site/new", later(setting, "SiteForm")],
  ["/site/:id", later(setting, "SiteForm")],
  ["/structure/new", later(setting, "StructureForm")],
  ["/structure/:id", later(setting, "StructureForm")],
  ["/elevation/new", later(setting, "ElevationForm")],
  ["/elevation/:id", ElevationView],
  ["/elevation/:id/edit", later(setting, "ElevationForm")],
  ["/elevation/:id/underlay", later(setting, "UnderlayView")],
  ["/finish/new", later(setting, "FinishForm")],
  ["/finish/:id", later(lasting, "FinishView")],
  ["/finish/:id/edit", later(setting, "FinishForm")],
  ["/finish/:id/score", later(lasting, "ScoreForm")],
  ["/elevation/:id/here", later(lasting, "HereView")],
  ["/lasted", later(lasting, "LastedView")],
  ["/season", later(lasting, "SeasonView")],
  ["/mark/:draft", later(marks, "MarkView")],
  ["/mark/:draft/photo", later(measuring, "MarkPhotoView")],
  ["/defect/:id", later(marks, "DefectView")],
  ["/defect/:id/reading", later(marks, "ReadingView")],
  ["/defect/:id/reading/photo", later(measuring, "ReadingPhotoView")],
  ["/tickets", later(tickets, "TicketsView")],
  ["/board", later(tickets, "BoardView")],
  ["/ticket/new", later(tickets, "TicketForm")],
  ["/ticket/:id", later(tickets, "TicketView")],
  ["/buying", later(buying, "BuyingView")],
  ["/workdays", later(handing, "WorkDaysView")],
  ["/workday/:id", later(handing, "WorkDayView")],
  ["/handout/:id", later(handing, "HandoutView")],
  ["/list", later(handing, "MyListView")],
  ["/papers", later(papers, "PapersView")],
  ["/storms", later(storms, "StormsView")],
  ["/station", later(storms, "StationView")],
  ["/storm/new", later(storms, "StormForm")],
  ["/storm/:id", later(storms, "StormView")],
  ["/storm/:id/edit", later(storms, "StormForm")],
  ["/storm/:id/first", later(storms, "LookFirstView")],
  ["/storm/:id/hours", later(storms, "HoursView")],
  ["/storm/:id/rain", later(storms, "RainView")],
  ["/survey/:id", later(storms, "SurveyView")],
  ["/mixes", later(mixes, "MixesView")],
  ["/mix/:id", later(mixes, "MixView")],
  ["/search", later(finding, "SearchView")],
  ["/changes", later(finding, "ChangesView")],
  ["/deleted", later(finding, "DeletedView")],
  ["/phone", later(() => import("./phone"), "PhoneView")],
];

function screen() {
  for (const [pattern, Screen] of ROUTES) {
    const params = match(pattern, path.value);
    if (params) return <Screen key={path.value} params={params} />;
  }
  return <NotHere />;
}

function UpdateBar() {
  if (!updateReady.value) return null;
  return (
    <div class="bar" role="status">
      <span>{t("update_ready")}</span>
      <Button onPress={() => void applyUpdate()}>{t("update_now")}</Button>
    </div>
  );
}

/** What the system took away when it cleared this phone's storage, until somebody has read it. */
function ClearedBar() {
  if (!clearedAt.value) return null;
  return (
    <div class="bar" role="alert">
      <span>{t("phone_cleared")}</span>
      <Button onPress={() => void setClearedAt(null)}>{t("phone_cleared_read")}</Button>
    </div>
  );
}

/** After the system closed the page under an open camera, go back to where the photo was for: a draft's key is its screen's path. */
function returnToCamera() {
  const back = `/${draftAtCamera()?.key ?? ""}`;
  if (ROUTES.some(([pattern]) => match(pattern, back)) && back !== path.value) go(back, true);
}

export function App() {
  useEffect(() => {
    document.documentElement.lang = settings.value.language;
    void loadWords(settings.value.language);
  }, [settings.value.language]);
  // Only now is it known whether this phone has but a list; before the paint, so that no other screen flashes up.
  useLayoutEffect(() => {
    if (ready.value && path.value.split("?")[0] === "/") go(limited.value ? "/list" : "/walls", true);
  }, [path.value, ready.value]);
  useEffect(() => {
    if (ready.value && me.value) returnToCamera();
  }, [ready.value]);
  // Where one goes from the walls: there before the tap, yet after the walls.
  useEffect(() => {
    if (whole.value) void ElevationView.bring();
  }, [whole.value]);
  // Fetched only where notices are wanted: the walls need none of what it looks up.
  useEffect(() => {
    if (settings.value.tellHands) void withWords(import("../parts/hands")).then(({ watchHands }) => watchHands());
  }, [settings.value.tellHands]);
  if (!wordsReady()) return <p class="splash">Makegood</p>;
  if (troubles.value) return <StorageTrouble />;
  if (!ready.value) return <p class="splash">{t("loading")}</p>;
  if (!me.value || (path.value === "/join" && location.hash.length > 1)) return <EnrolView params={{}} />;
  return (
    <>
      <UpdateBar />
      <ClearedBar />
      <UndoBar />
      {screen()}
    </>
  );
}
