/** How pressing it is and why; "stop, keep people away" comes before everything else. */
import type { Judgement } from "../../../model/urgency";
import type { Defect, Step } from "../../../model/types";
import { lastDone } from "../../../model/closing/closing";
import { Button } from "../../../parts/frame/Button";
import { Card, Chip, UrgencyChip } from "../../../parts/frame/Card";
import { go } from "../../../parts/frame/route";
import { type Judged, closedBy, judgesNothing, notJudged, ticketFor } from "../../../parts/judged";
import { may } from "../../../parts/may";
import { StateChip } from "../../../parts/ticket/StateChip";
import { catalogue } from "../../../store";
import { stepsOf } from "../../../store/lookup";
import { language, t } from "../../../words";
import { showDate } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";
import { reasonWords, stopReasons } from "../trade";

/** Shown, and spoken, the moment a sign of danger to the wall is given. */
export function StopCard({ reasons }: { reasons: readonly string[] }) {
  const stop = stopReasons(reasons);
  return (
    <div role="alert">
      {stop.length ? (
        <Card title={t("mark_stop")} tone="caution">
          {stop.map((id) => <p key={id}>{reasonWords(id)}</p>)}
          <p class="sub">{catalogue.value?.hazards.defer[language()]}</p>
        </Card>
      ) : null}
    </div>
  );
}

/** The suggestion with its reasons in words; those that say stop stand in the card of their own. */
export function UrgencyReasons({ kind, judgement }: { kind: string | null; judgement: Judgement }) {
  if (notJudged(kind, judgement)) return <p><Chip>{t("standing_unjudged")}</Chip> {t("unjudged_why")}</p>;
  const stop = stopReasons(judgement.reasons);
  const others = judgement.reasons.filter((id) => !stop.includes(id) && !judgesNothing(id));
  return (
    <>
      <p><UrgencyChip urgency={judgement.urgency} /> {vocabularyWord("urgencies", judgement.urgency, "means")}</p>
      {others.length ? <ul>{others.map((id) => <li key={id}>{reasonWords(id)}</li>)}</ul> : null}
    </>
  );
}

/** The last step that said the work was done, of a ticket that nobody has checked yet. */
export function mended(defect: Defect): Step | null {
  const ticket = ticketFor(defect);
  return ticket?.state === "done" ? lastDone(stepsOf(ticket.ticket.id)) : null;
}

const was = ({ urgency }: Judged): string => t("urgency_was", { urgency: vocabularyWord("urgencies", urgency).toLocaleLowerCase() });

/** How pressing a defect is; of one that is mended, who says so, and how pressing it was. */
export function StandsCard({ defect, found }: { defect: Defect; found: Judged }) {
  const closed = closedBy(defect);
  const done = mended(defect);
  const unjudged = notJudged(defect.kind, found);
  const mendedBy = closed
    ? <p><Chip>{t("standing_repaired")}</Chip> {t(closed.checked ? "repaired_checked" : "repaired_seen", { date: showDate(closed.at) })}</p>
    : done && <p><StateChip state="done" /> {t("mended_unchecked", { date: showDate(done.at), person: done.made_by })}</p>;
  if (mendedBy) return <Card title={t("defect_stands")}>{mendedBy}{unjudged ? null : <p class="hint">{was(found)}</p>}</Card>;
  return (
    <Card title={t("mark_urgency")} help="urgency">
      <UrgencyReasons kind={defect.kind} judgement={found} />
      {unjudged && may("edit", "defect") ? <div class="deeds"><Button onPress={() => go(`/mark/new?defect=${defect.id}`)}>{t("unjudged_deed")}</Button></div> : null}
    </Card>
  );
}

/** One line above the deed, so that it is seen whatever is scrolled to. */
export function UrgencyLine({ kind, judgement }: { kind: string | null; judgement: Judgement | null }) {
  if (!judgement) return null;
  if (notJudged(kind, judgement)) return <p class="mark-live" role="status"><Chip>{t("standing_unjudged")}</Chip> <span>{t("unjudged_line")}</span></p>;
  const first = stopReasons(judgement.reasons)[0] ?? judgement.reasons[0];
  return (
    <p class="mark-live" role="status">
      <UrgencyChip urgency={judgement.urgency} /> <span>{first ? reasonWords(first) : ""}</span>
    </p>
  );
}
