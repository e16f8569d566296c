/** The repair itself: method, materials, batches, coats and waiting, hazards, preparation and tools. */
import type { Method } from "../../model/catalogue";
import type { Repair } from "../../model/repair/repair";
import type { Ticket } from "../../model/types";
import { catalogue, role } from "../../store";
import { language, refusalWords, t } from "../../words";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { go } from "../../parts/frame/route";
import { BasisMark } from "../../parts/ticket/Basis";
import { BatchCards } from "../../parts/ticket/BatchCards";
import { CoatsTimeline, waitsAtAll } from "../../parts/ticket/CoatsTimeline";
import { EstimateBody, coatsWords } from "../../parts/ticket/Estimate";
import { HazardCard } from "../../parts/ticket/HazardCard";
import { WarningCard } from "../../parts/ticket/Warnings";
import { WaitingCards } from "../../parts/waiting/WaitingCards";
import type { Reckoned } from "../../parts/ticket/gathered";

function WorkCards({ method }: { method: Method }) {
  const words = method.words[language()];
  return (
    <>
      <Card title={t("steps_title")}><ol class="work-steps">{words.steps.map((step) => <li key={step}>{step}</li>)}</ol></Card>
      <Card title={t("tools_title")}>
        <p>{words.tools.join(", ")}</p>
        {method.skills.length > 0 ? <p class="hint">{t("skills_words", { skills: method.skills.map(skillWords).join(", ") })}</p> : null}
      </Card>
    </>
  );
}

/** Skills stand in the catalogue in English only. */
function skillWords(skill: string): string {
  const key = `skill_${skill.replaceAll(" ", "_")}`;
  const known = ["skill_anyone", "skill_careful_beginner", "skill_some_plastering", "skill_earth_building", "skill_conservation_plastering", "skill_some_masonry",
    "skill_structural_engineer"] as const;
  const found = known.find((one) => one === key);
  return found ? t(found) : skill;
}

type Part = { ticket: Ticket; method: Method; repair: Repair };

function Materials({ ticket, method, repair }: Part) {
  return (
    <>
      <Card title={method.words[language()].name} aside={coatsWords(repair)}>
        <p>{method.words[language()].short} <BasisMark basis={method.basis} /></p>
        <EstimateBody repair={repair} />
        <div class="deeds">
          <Button onPress={() => go(`/ticket/${ticket.id}?how=1`)}>{t("how_title")}</Button>
          <Button onPress={() => go(`/buying?tickets=${ticket.id}`)}>{t("buying_deed")}</Button>
        </div>
      </Card>
      <WarningCard warnings={repair.warnings} />
    </>
  );
}

function MixingAndWaiting({ ticket, repair }: Omit<Part, "method">) {
  const laid = repair.with_loss_l.likely > 0;
  return (
    <>
      {laid ? <Card title={t("batches_title")}><BatchCards mixes={repair.mixes} /></Card> : null}
      {waitsAtAll(repair) ? <Card title={t("waits_title")}><CoatsTimeline repair={repair} /></Card> : null}
      {laid ? <WaitingCards ticket={ticket} repair={repair} /> : null}
    </>
  );
}

/** The same for whoever has the trowel in hand: what can hurt, the steps, the batch; the sums last and folded. */
function ForHands(part: Part) {
  const words = part.method.words[language()];
  return (
    <>
      <HazardCard hazards={part.repair.hazards} cautions={words.cautions} />
      <WorkCards method={part.method} />
      <MixingAndWaiting {...part} />
      <details class="how">
        <summary>{t("ticket_sums")}</summary>
        <Materials {...part} />
      </details>
    </>
  );
}

export function MethodCards({ ticket, reckoned }: { ticket: Ticket; reckoned: Reckoned | null }) {
  const usual = ticket.method ? catalogue.value?.methods[ticket.method] : undefined;
  if (!usual) return <Card><p>{t(ticket.method ? "method_unknown" : "method_none")}</p></Card>;
  const repair = reckoned && "repair" in reckoned ? reckoned.repair : null;
  const method = repair?.method ?? usual;
  // Whoever works from a list does the steps; the keeper who buys and decides begins with the sums.
  if (repair && role.value === "helper") return <ForHands ticket={ticket} method={method} repair={repair} />;
  return (
    <>
      {repair ? <><Materials ticket={ticket} method={method} repair={repair} /><MixingAndWaiting ticket={ticket} repair={repair} /></> : <Card title={method.words[language()].name}><p class="wrong">{refusalWords(reckoned && "refused" in reckoned ? reckoned.refused : "bad_value")}</p></Card>}
      <HazardCard hazards={repair?.hazards ?? method.hazards} cautions={method.words[language()].cautions} />
      <WorkCards method={method} />
    </>
  );
}
