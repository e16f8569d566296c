/** How pressing it is and why; "stop, keep people away" comes before everything else. */
import type { Judgement } from "../../../model/urgency";
import { Card, UrgencyChip } from "../../../parts/frame/Card";
import { catalogue } from "../../../store";
import { language, t } from "../../../words";
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
export function UrgencyReasons({ judgement }: { judgement: Judgement }) {
  const stop = stopReasons(judgement.reasons);
  const others = judgement.reasons.filter((id) => !stop.includes(id));
  return (
    <>
      <p><UrgencyChip urgency={judgement.urgency} /> {vocabularyWord("urgencies", judgement.urgency, "means")}</p>
      {others.length ? <ul>{others.map((id) => <li key={id}>{reasonWords(id)}</li>)}</ul> : null}
    </>
  );
}

/** One line above the deed, so that it is seen whatever is scrolled to. */
export function UrgencyLine({ judgement }: { judgement: Judgement | null }) {
  if (!judgement) return null;
  const first = stopReasons(judgement.reasons)[0] ?? judgement.reasons[0];
  return (
    <p class="mark-live" role="status">
      <UrgencyChip urgency={judgement.urgency} /> <span>{first ? reasonWords(first) : ""}</span>
    </p>
  );
}
