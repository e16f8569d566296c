/** What was deleted on this site and can come back: as far as this phone had it. */
import { comesBack } from "../../model/finding/kin";
import { bringBack, gone, whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Page } from "../../parts/frame/Page";
import { may } from "../../parts/may";
import { t } from "../../words";
import { showDate, showTime } from "../../words/measures";
import { GroupDrawing } from "./GroupDrawing";
import { recent } from "./deleted";
import { nameOf, typeWords } from "./rowWords";
import "./finding.css";

type Deed = ReturnType<typeof recent>[number];

function DeedRow({ deed }: { deed: Deed }) {
  const { row, with: others } = deed;
  const rows = comesBack(deed, gone.value);
  const name = nameOf(row);
  const kind = row.type === "defect" && typeof row.fields.kind === "string" ? row.fields.kind : null;
  return (
    <li class="deleted-row">
      <span class="find-drawing"><GroupDrawing group={row.type} kind={kind} /></span>
      <span class="grow">
        <strong>{name}</strong>
        <small class="block">{typeWords(row.type)}{others.length ? ` · ${t("deleted_with", { n: others.length })}` : ""}</small>
        <small class="block">{t("deleted_when", { date: showDate(row.at), time: showTime(row.at) })}</small>
      </span>
      {rows.every((one) => may("edit", one.type)) ? <Button onPress={() => void bringBack(rows)} label={t("deleted_back_of", { name })}>{t("deleted_back")}</Button> : null}
    </li>
  );
}

export function DeletedView() {
  const deeds = recent(gone.value);
  return (
    <Page title={t("deleted_title")} place={null} back="/search">
      <p>{t("deleted_say")}</p>
      {deeds.length ? <Card><ul class="rows">{deeds.map((deed) => <DeedRow key={deed.row.id} deed={deed} />)}</ul></Card> : <Empty scene="list">{t(whole.value ? "deleted_none" : "loading")}</Empty>}
    </Page>
  );
}
