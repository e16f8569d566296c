/** What changed since this person last looked: by day and person, newest first; each leads to what it is about. */
import { currentSite, haveLooked, lookAgain, looks, news, nowIso, whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { offerUndo } from "../../parts/undo/undo";
import { t } from "../../words";
import { showDate, showSince, showTime } from "../../words/measures";
import { GroupDrawing } from "./GroupDrawing";
import { type Day, type Line, byDay, told } from "./told";
import "./finding.css";

function LineWords({ line }: { line: Line }) {
  return (
    <>
      <span class="find-drawing"><GroupDrawing group={line.type} kind={line.kind} /></span>
      <span class="grow">
        <strong>{line.say}</strong> {line.detail}
        <small class="block">{[line.by === null ? t("changes_came", { time: showTime(line.at) }) : showTime(line.at), line.photos ? t("changes_photos", { n: line.photos }) : ""].filter(Boolean).join(" · ")}</small>
      </span>
    </>
  );
}

function DayCard({ day }: { day: Day }) {
  return (
    <Card title={showDate(day.day)}>
      {day.people.map(({ by, lines }) => (
        <section key={by ?? ""} class="changes-person">
          <h3>{by ?? t("changes_somebody")}</h3>
          <ul class="rows">
            {lines.map((line) => (
              <li key={line.id}>{line.to ? <Link to={line.to} class="row-link"><LineWords line={line} /><span aria-hidden="true">›</span></Link> : <p class="row-link"><LineWords line={line} /></p>}</li>
            ))}
          </ul>
        </section>
      ))}
    </Card>
  );
}

async function seen(upTo: number): Promise<void> {
  const site = currentSite.peek();
  const before = await haveLooked(upTo);
  if (site && before) offerUndo({ say: t("changes_seen_say"), back: () => lookAgain(site, before) });
}

export function ChangesView() {
  const look = looks.value[currentSite.value ?? ""];
  const all = news.value;
  const lines = told(all);
  const since = look ? t("changes_since", { since: showSince(look.at, nowIso()) }) : undefined;
  const upTo = Math.max(...all.map((one) => one.rev));
  return (
    <Page
      title={t("changes_title")} sub={since} place={null} back="/walls"
      actions={lines.length ? <Button kind="primary" onPress={() => void seen(upTo)}>{t("changes_seen")}</Button> : null}
    >
      {lines.length ? byDay(lines).map((day) => <DayCard key={day.day} day={day} />) : <Empty scene="list">{t(!whole.value ? "loading" : look ? "changes_none" : "changes_not_yet")}</Empty>}
      {lines.some((line) => line.by === null) ? <p class="hint">{t("changes_unknown_say")}</p> : null}
    </Page>
  );
}
