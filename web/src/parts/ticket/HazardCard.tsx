/** The usual cautions of a job: the shortest first, the rest one tap away, and always the sentence that defers to codes and licensed people. */
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { Card } from "../frame/Card";
import { BasisMark, SourceWords } from "./Basis";
import "./ticket.css";

function HazardLines({ id }: { id: string }) {
  const hazard = catalogue.value?.hazards.hazards[id];
  if (!hazard) return null;
  const words = hazard.words[language()];
  return (
    <details class="hazard">
      <summary><strong>{words.name}.</strong> {words.short}</summary>
      <ul>{words.care.map((line) => <li key={line}>{line}</li>)}</ul>
      <p class="hint"><SourceWords source={hazard.source} /> <BasisMark basis={hazard.basis} /></p>
    </details>
  );
}

export function HazardCard({ hazards, cautions = [] }: { hazards: readonly string[]; cautions?: readonly string[] }) {
  if (hazards.length === 0 && cautions.length === 0) return null;
  return (
    <Card title={t("hazards_title")} tone="caution">
      {cautions.map((line) => <p key={line}><strong>{line}</strong></p>)}
      {hazards.map((id) => <HazardLines key={id} id={id} />)}
      <p class="hint">{catalogue.value?.hazards.defer[language()]}</p>
    </Card>
  );
}

/** Stands before everything else on a repair that an engineer must see first. */
export function EngineerFirst() {
  return (
    <section class="engineer" aria-label={t("engineer_title")}>
      <svg viewBox="0 0 40 40" width="40" height="40" aria-hidden="true">
        <path d="M12 3H28L37 12V28L28 37H12L3 28V12z" fill="#fff" />
        <path d="M20 9V23" stroke="var(--clay)" stroke-width="5" stroke-linecap="round" /><circle cx="20" cy="30" r="3" fill="var(--clay)" />
      </svg>
      <div><h2>{t("engineer_title")}</h2><p>{t("engineer_say")}</p></div>
    </section>
  );
}
