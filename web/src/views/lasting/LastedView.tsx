/** What lasted: finishes side by side by the driving rain or the days they were seen to stand, with what is not known shown as not known. */
import { useId, useState } from "preact/hooks";
import { curveOf, group, type Measure, spanOf } from "../../model/lasting/group";
import { SORTS, type Sort, sorted } from "../../model/lasting/sort";
import type { Id } from "../../model/types";
import { catalogue, row, whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Pick, Select, Toggle } from "../../parts/frame/Field";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { go } from "../../parts/frame/route";
import { DueCard } from "../../parts/lasting/DueCard";
import { coatsWords, groupWords } from "../../parts/lasting/lastedWords";
import { type Entry, ledger, scoresOf } from "../../parts/lasting/ledger";
import { PhotoStrip } from "../../parts/photo/PhotoStrip";
import { kindWords } from "../../parts/ticket/gathered";
import { photosOf } from "../../store/lookup";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { BarHatch, Bars } from "./Bars";
import { ClocksCard } from "./ClocksCard";
import { CurveDrawing } from "./CurveDrawing";
import { LastedTable } from "./LastedTable";
import { saveTable } from "./saveTable";
import { sortNames } from "./sortName";
import "./lasting.css";

const THICKNESS_MM: readonly number[] = [10, 20, 30];

const sortedBy = (entries: readonly Entry[], by: Sort) =>
  sorted(entries, (one) => ({ coats: one.finish.coats, wall: one.structure?.wall_material ?? null, faces_deg: one.elevation.bearing_deg }), by, catalogue.value?.lasting?.thickness_mm ?? THICKNESS_MM);

/** The end of the scale: the longest known right end or stand. */
function mostOf(entries: readonly Entry[], measure: Measure): number {
  const ends = entries.flatMap(({ followed }) => {
    const span = spanOf(followed, measure);
    return span ? [span.right ?? span.left] : [];
  });
  return Math.max(1, ...ends);
}

/** Whose photos stand behind a bar: the finish, its score sheets, and the damage that told of it. */
function ownersOf({ finish, followed }: Entry): { id: Id; about: string }[] {
  const told = new Set(followed.sightings.flatMap((one) => (one.source === "reading" ? (row("reading", one.id)?.defect_id ?? []) : [])));
  return [
    { id: finish.id, about: finish.name },
    ...scoresOf(finish.id).map((one) => ({ id: one.id, about: t("photos_of_sheet", { finish: finish.name, date: showDate(one.at) }) })),
    ...[...told].flatMap((id) => {
      const defect = row("defect", id);
      return defect ? [{ id, about: t("photos_of_damage", { finish: finish.name, damage: kindWords(defect) }) }] : [];
    }),
  ];
}

function BehindPhotos({ entries }: { entries: readonly Entry[] }) {
  const [open, setOpen] = useState(false);
  const owners = entries.flatMap(ownersOf).filter((one) => photosOf(one.id).length);
  if (!owners.length) return null;
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t("lasted_photos")}</summary>
      {open ? owners.map((one) => <div key={one.id}><p class="sub">{one.about}</p><PhotoStrip ownerId={one.id} about={one.about} /></div>) : null}
    </details>
  );
}

type GroupProps = { title: string; sub: string | null; entries: readonly Entry[]; measure: Measure; most: number; hatch: string; first: boolean };

function GroupCard({ title, sub, entries, measure, most, hatch, first }: GroupProps) {
  const members = entries.map((one) => one.followed);
  const counted = group(members, measure);
  const curve = curveOf(members, measure);
  const stood = members.flatMap((one) => {
    const span = spanOf(one, measure);
    return span?.right === null ? [span.left] : [];
  });
  return (
    <Card title={title} aside={t("lasted_count", { n: counted.held, of: counted.followed })} help={first ? "bars" : undefined}>
      {sub ? <p class="sub">{sub}</p> : null}
      <p class="lasted-words">{groupWords(counted, measure).map((one) => <span key={one}>{one} </span>)}</p>
      <Bars entries={entries} measure={measure} most={most} hatch={hatch} />
      {curve ? <CurveDrawing curve={curve} measure={measure} most={most} hatch={hatch} held={stood} /> : null}
      <BehindPhotos entries={entries} />
    </Card>
  );
}

function Choices({ measure, by, onlyPanels, set }: { measure: Measure; by: Sort; onlyPanels: boolean; set: (change: { measure?: Measure; by?: Sort; onlyPanels?: boolean }) => void }) {
  return (
    <div class="lasted-choices">
      <Pick legend={t("lasted_measure")} help="dose" value={measure} onPick={(next) => set({ measure: next })} options={[{ id: "l_m2", label: t("lasted_by_rain") }, { id: "days", label: t("lasted_by_days") }]} />
      <Select label={t("lasted_sort")} value={by} onPick={(id) => set({ by: id as Sort })} options={SORTS.map((id) => ({ id, label: t(`sort_${id}`) }))} />
      <Toggle label={t("lasted_only_panels")} on={onlyPanels} onChange={(next) => set({ onlyPanels: next })} />
    </div>
  );
}

/** How to read the bars, and how far the page may be believed. */
function Legend({ followed, failed, hatch }: { followed: number; failed: number; hatch: string }) {
  return (
    <Card title={t("lasted_read")}>
      <ul class="lasted-key">
        <li><svg width="44" height="22" aria-hidden="true"><rect class="bar-stood" x="0" y="5" width="30" height="12" /><path class="bar-on" d="M30 11h11m-5 -5l6 5l-6 5" /></svg><span>{t("key_held")}</span></li>
        <li><svg width="44" height="22" aria-hidden="true"><rect class="bar-stood bar-worn" x="0" y="5" width="30" height="12" /></svg><span>{t("key_worn")}</span></li>
        <li><svg width="44" height="22" aria-hidden="true"><rect class="bar-between" fill={`url(#${hatch})`} x="2" y="5" width="36" height="12" /><path class="bar-gone" d="M33 5l10 12m0 -12l-10 12" /></svg><span>{t("key_gone")}</span></li>
      </ul>
      <p class="hint">{t("lasted_few", { n: followed, failed })}</p>
      <p class="hint">{t("lasted_one_place")}</p>
      <p class="hint">{t("lasted_limits")}</p>
    </Card>
  );
}

export function LastedView(_props: { params: Record<string, string> }) {
  const hatch = `gone${useId()}`;
  const [chosen, setChosen] = useState<{ measure: Measure; by: Sort; onlyPanels: boolean }>({ measure: "l_m2", by: "coats", onlyPanels: false });
  const { measure, by, onlyPanels } = chosen;
  const entries = ledger.value.filter((one) => !onlyPanels || one.finish.sample_panel);
  const all = group(entries.map((one) => one.followed), measure);
  const most = mostOf(entries, measure);
  const groups = sortedBy(entries, by);
  const names = sortNames(groups, by);
  return (
    <Page
      title={t("lasted_title")} place="storms" back="/storms"
      actions={entries.length ? <Button onPress={() => saveTable(ledger.value)}>{t("lasted_save")}</Button> : null}
    >
      <DueCard />
      {entries.length || onlyPanels ? <Choices {...chosen} set={(change) => setChosen((now) => ({ ...now, ...change }))} /> : <Empty scene="lasted" action={<Button onPress={() => go("/walls")}>{t("to_walls")}</Button>}>{t(whole.value ? "lasted_empty" : "loading")}</Empty>}
      <BarHatch id={hatch} />
      <div class="lasted-groups">
        {groups.map(({ key, members }, i) => (
          <GroupCard key={key} title={names[i] ?? key} sub={by === "coats" ? coatsWords(members[0]?.finish.coats ?? []) : null} entries={members} measure={measure} most={most} hatch={hatch} first={i === 0} />
        ))}
        {entries.length ? <Legend followed={all.followed} failed={all.let_go} hatch={hatch} /> : null}
        <ClocksCard />
      </div>
      {entries.length ? <LastedTable entries={entries} /> : null}
      <p><Link class="plain-link" to="/season">{t("season_link")}</Link></p>
    </Page>
  );
}
