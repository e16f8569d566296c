/** Everything that can be printed, sent or kept outside the app, on one page. */
import { go } from "../../parts/frame/route";
import { Button } from "../../parts/frame/Button";
import { currentSite, paperAddress, role, settings, syncState } from "../../store";
import { t } from "../../words";
import { Card, Empty } from "../../parts/frame/Card";
import { Page } from "../../parts/frame/Page";
import { LongPaper } from "./LongPaper";
import { PAPERS, type Paper } from "./papers";
import "./papers.css";

function Line({ paper }: { paper: Paper }) {
  const name = t(paper.words);
  const wishes = { language: settings.value.language, measures: settings.value.measures };
  return (
    <li class="paper">
      <span class="grow"><strong>{name}</strong> <span class="paper-format">{paper.format}</span><small class="block">{t(paper.hint)}</small></span>
      {paper.long ? <LongPaper paper={paper.id} name={name} /> : (
        <a class="btn btn-quiet" href={paperAddress(currentSite.value ?? "", paper.id, wishes)} download="" aria-label={t("paper_fetch_of", { paper: name })}>{t("paper_fetch")}</a>
      )}
    </li>
  );
}

export function PapersView() {
  const mine = PAPERS.filter((one) => role.value !== null && one.roles.includes(role.value));
  const unsent = syncState.value.waiting + syncState.value.photosWaiting;
  return (
    <Page title={t("papers_title")} sub={t("papers_sub")} place="tickets" back="/tickets">
      {unsent > 0 ? <Card tone="caution"><p>{t("papers_unsent", { n: unsent })}</p></Card> : null}
      {mine.length === 0 ? <Empty scene="papers" action={<Button onPress={() => go("/tickets")}>{t("tickets_all")}</Button>}>{t("papers_none")}</Empty> : <ul class="papers card">{mine.map((paper) => <Line key={paper.id} paper={paper} />)}</ul>}
      <p class="hint">{t("papers_places")}</p>
    </Page>
  );
}
