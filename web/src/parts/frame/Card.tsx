/** Cards, rows in them, chips and cautions. */
import type { ComponentChildren } from "preact";
import type { Urgency } from "../../model/types";
import { useId } from "preact/hooks";
import { vocabularyWord } from "../../words/vocabulary";
import { Scene, type SceneName } from "../drawing/scene/Scene";
import { Help, type HelpTopic } from "../help/Help";

type CardProps = { title?: string; aside?: ComponentChildren; children: ComponentChildren; tone?: "caution"; help?: HelpTopic };

export function Card({ title, aside, children, tone, help }: CardProps) {
  const id = useId();
  const head = title ? <div class="card-head"><h2 id={id}>{title}</h2>{aside ? <span class="aside">{aside}</span> : null}</div> : null;
  return (
    <section class={tone === "caution" ? "card card-caution" : "card"} aria-labelledby={title ? id : undefined}>
      {help ? <Help about={help}>{head}</Help> : head}
      {children}
    </section>
  );
}

/** An urgency as a framed word: shape and wording tell it, not colour alone. */
export function UrgencyChip({ urgency }: { urgency: Urgency }) {
  return <span class={`chip chip-${urgency}`}>{vocabularyWord("urgencies", urgency)}</span>;
}

export function Chip({ children, strong }: { children: ComponentChildren; strong?: boolean }) {
  return <span class={strong ? "chip chip-strong" : "chip"}>{children}</span>;
}

type EmptyProps = { scene: SceneName; children: ComponentChildren; action?: ComponentChildren; small?: boolean };

/** An empty place: a drawing of what it will hold, a sentence, and the deed that fills it; `small` as a part of a card. */
export function Empty({ scene, children, action, small }: EmptyProps) {
  return (
    <div class={small ? "empty empty-small" : "empty"}>
      <Scene name={scene} wide={small ? 75 : 150} />
      <div><p>{children}</p>{action}</div>
    </div>
  );
}
