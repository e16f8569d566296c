/** The repair itself, as two columns or one: method, materials, batches, coats and waiting, hazards, steps and tools. */
import type { Method } from "../../model/catalogue";
import type { Repair } from "../../model/repair/repair";
import type { Ticket } from "../../model/types";
import { lastDone } from "../../model/closing/closing";
import { catalogue, role } from "../../store";
import { stepsOf } from "../../store/lookup";
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
import { Used } from "./closing/StepFacts";

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

type Part = { ticket: Ticket; method: Method; repair: Repair; past?: boolean };

function Materials({ ticket, method, repair, past }: Part) {
  return (
    <>
      <Card title={method.words[language()].name} aside={coatsWords(repair)}>
        <p>{method.words[language()].short} <BasisMark basis={method.basis} /></p>
        <EstimateBody repair={repair} past={past} />
        <div class="deeds">
          <Button onPress={() => go(`/ticket/${ticket.id}?how=1`)}>{t("how_title")}</Button>
          {past ? null : <Button onPress={() => go(`/buying?tickets=${ticket.id}`)}>{t("buying_deed")}</Button>}
        </div>
      </Card>
      {past ? null : <WarningCard warnings={repair.warnings} />}
    </>
  );
}

const laid = (repair: Repair): boolean => repair.with_loss_l.likely > 0;

function MixingAndCoats({ repair, past }: Part) {
  return (
    <>
      {laid(repair) ? <Card title={t("batches_title")}><BatchCards mixes={repair.mixes} /></Card> : null}
      {waitsAtAll(repair) ? <Card title={t("waits_title")}><CoatsTimeline repair={repair} past={past} /></Card> : null}
    </>
  );
}

const Waiting = ({ ticket, repair }: Part) => (laid(repair) ? <WaitingCards ticket={ticket} repair={repair} /> : null);

type Props = { ticket: Ticket; reckoned: Reckoned | null };

function partOf({ ticket, reckoned }: Props): { method: Method | undefined; part: Part | null } {
  const repair = reckoned && "repair" in reckoned ? reckoned.repair : null;
  // On an earth wall the repair's own method speaks of earth.
  const method = repair?.method ?? (ticket.method ? catalogue.value?.methods[ticket.method] : undefined);
  return { method, part: method && repair ? { ticket, method, repair } : null };
}

function WayCards({ method, part }: { method: Method; part: Part | null }) {
  return (
    <>
      <HazardCard hazards={part?.repair.hazards ?? method.hazards} cautions={method.words[language()].cautions} />
      <WorkCards method={method} />
    </>
  );
}

// Whoever works from a list does the steps; the keeper who buys and decides begins with the sums.
const stepsFirst = (part: Part | null): boolean => part !== null && role.value === "helper";

/** What is read first: what it takes; for whoever has the trowel in hand, what can hurt and the steps. */
export function MethodFirst(props: Props) {
  const { method, part } = partOf(props);
  const { ticket, reckoned } = props;
  if (!method) return <Card><p>{t(ticket.method ? "method_unknown" : "method_none")}</p></Card>;
  if (stepsFirst(part)) return <WayCards method={method} part={part} />;
  if (part) return <><Materials {...part} /><MixingAndCoats {...part} /></>;
  return <Card title={method.words[language()].name}><p class="wrong">{refusalWords(reckoned && "refused" in reckoned ? reckoned.refused : "bad_value")}</p></Card>;
}

/** What comes after it: the steps; for whoever has the trowel in hand, the batches, the dates, and the sums last and folded. */
export function MethodSecond(props: Props) {
  const { method, part } = partOf(props);
  if (!method) return null;
  if (!part || !stepsFirst(part)) return <><WayCards method={method} part={part} />{part ? <Waiting {...part} /> : null}</>;
  return (
    <>
      <MixingAndCoats {...part} />
      <Waiting {...part} />
      <details class="how">
        <summary>{t("ticket_sums")}</summary>
        <Materials {...part} />
      </details>
    </>
  );
}

/** Method and amounts of finished work, folded: nothing in it counts from today, nothing is to be bought; what was used comes first. */
export function Planned({ ticket, reckoned }: Props) {
  const { method, part } = partOf({ ticket, reckoned });
  const done = lastDone(stepsOf(ticket.id));
  if (!method) return null;
  return (
    <details class="how">
      <summary>{t("planned_title")}</summary>
      {done?.used ? <Card title={t("used_title")}><Used ticket={ticket} step={done} /></Card> : null}
      {part ? <><Materials {...part} past /><MixingAndCoats {...part} past /></> : null}
      <WayCards method={method} part={part} />
    </details>
  );
}
