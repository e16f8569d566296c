/** Cards, rows in them, chips and cautions. */
import type { ComponentChildren } from "preact";
import type { Urgency } from "../../model/types";
import { useId } from "preact/hooks";
import { vocabularyWord } from "../../words/vocabulary";

export function Card({ title, aside, children, tone }: { title?: string; aside?: ComponentChildren; children: ComponentChildren; tone?: "caution" }) {
  const id = useId();
  return (
    <section class={tone === "caution" ? "card card-caution" : "card"} aria-labelledby={title ? id : undefined}>
      {title ? <div class="card-head"><h2 id={id}>{title}</h2>{aside ? <span class="aside">{aside}</span> : null}</div> : null}
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

/** An empty place: a drawing, a sentence, and the deed that fills it. */
export function Empty({ children, action }: { children: ComponentChildren; action?: ComponentChildren }) {
  return (
    <div class="empty">
      <svg viewBox="0 0 120 60" width="120" height="60" aria-hidden="true">
        <path d="M8 54V26l30-14 30 14v28z M68 54V34q20-30 40 0v20z" fill="var(--wall)" stroke="var(--ink)" stroke-width="2" />
        <path d="M30 54V38h14v16M2 54h116" fill="none" stroke="var(--ink)" stroke-width="2" />
      </svg>
      <p>{children}</p>
      {action}
    </div>
  );
}
