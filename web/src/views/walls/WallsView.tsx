/** The grounds at a glance: every structure with its sides drawn to one scale, and how pressing what was found there is. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { SiteChooser } from "./SiteChooser";
import { StructureCard } from "./StructureCard";
import { currentSite, me, role, row, sites, table, whole } from "../../store";
import type { Structure } from "../../model/types";
import { defectsOf, elevationsOf } from "../../store/lookup";
import { Button } from "../../parts/frame/Button";
import { Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { StartCard, StartDeed } from "../../parts/start/StartCard";
import { canComeBack, putAway, startNow } from "../../parts/start/start";
import { t, withWords } from "../../words";
import { UnfinishedMarks } from "../marks/UnfinishedMarks";
import { SurveyBar, SurveyDeed } from "../storms/SurveyBar";
import { useTurns } from "./turns";
import "./walls.css";

/** Fetched once every row is there: it counts over all of them, and the walls are painted without it. */
function Changes() {
  const [Shown, setShown] = useState<ComponentType | null>(null);
  useEffect(() => {
    if (whole.value) void withWords(import("../finding/ChangesCard")).then(({ ChangesCard }) => setShown(() => ChangesCard));
  }, [whole.value]);
  return Shown ? <Shown /> : null;
}

function NoSite() {
  const founds = me.value?.may_found === true;
  return (
    <Page title={t("walls_title")} place="walls" actions={founds ? <><Button onPress={() => go("/site/new")}>{t("walls_name_site")}</Button><StartDeed /></> : null}>
      {founds ? <><StartCard /><p class="hint">{t("walls_none")}</p></> : <Empty scene="walls">{t(me.value?.grants.length === 0 ? "walls_no_part" : "walls_wait")}</Empty>}
    </Page>
  );
}

/** Whether the cards may be drawn: at once where every row is there, at a cold start in the task after the heading, which should not wait for them. */
function useHeadingFirst(): boolean {
  const [may, setMay] = useState(() => whole.peek());
  useEffect(() => {
    const timer = setTimeout(() => setMay(true));
    return () => clearTimeout(timer);
  }, []);
  return may;
}

function Structures({ structures }: { structures: readonly Structure[] }) {
  const drawn = useHeadingFirst();
  const busy = useTurns(structures.map((one) => elevationsOf(one.id).reduce((n, side) => n + defectsOf(side.id).length, 0)));
  return <div class="structures" aria-busy={busy}>{(drawn ? structures : []).map((one, i) => <StructureCard key={one.id} structure={one} turn={i} />)}</div>;
}

export function WallsView() {
  const site = row("site", currentSite.value);
  if (sites.value.length === 0) return <NoSite />;
  const structures = [...table("structure").value.values()].sort((a, b) => a.name.localeCompare(b.name));
  const start = startNow();
  const builds = role.value !== null && may("make", "structure");
  const addStructure = () => go("/structure/new");
  // A reader comes for the report.
  const reads = role.value === "reader" ? <Button onPress={() => go("/papers")}>{t("papers_deed")}</Button> : null;
  return (
    <Page
      title={site?.name ?? t("walls_title")} place="walls"
      actions={
        <>
          {reads}
          {builds && structures.length === 0 && !start?.next ? <Button kind="primary" onPress={addStructure}>{t("walls_add_structure")}</Button> : null}
          {structures.length > 0 ? <SurveyDeed kind={start?.next ? "quiet" : "primary"} /> : null}
          {builds && start?.next ? <StartDeed /> : null}
        </>
      }
    >
      <SiteChooser />
      <StartCard />
      <SurveyBar />
      <UnfinishedMarks />
      <Changes />
      {structures.length === 0 && !start ? <Empty scene="walls">{whole.value ? t(builds ? "walls_no_structure" : "walls_no_structure_here") : t("loading")}</Empty> : null}
      <Structures structures={structures} />
      {builds && (start?.next || structures.length > 0) ? <div class="deeds"><Button onPress={addStructure}>{t("walls_add_structure")}</Button></div> : null}
      {canComeBack() ? <div class="deeds"><Button onPress={() => void putAway(false)}>{t("start_again")}</Button></div> : null}
      {site && may("edit", "site") ? <p><Link class="plain-link" to={`/site/${site.id}`}>{t("walls_edit_site")}</Link></p> : null}
    </Page>
  );
}
