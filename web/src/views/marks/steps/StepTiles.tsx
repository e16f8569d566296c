/** A measure in one tap: tiles of usual sizes. A tap on the chosen one takes it back. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

type Step = { value: number; label: string; hint?: string; drawing?: ComponentChildren };
type Props = { legend: string; hideLegend?: boolean; last?: string | null; steps: readonly Step[]; value: number | null; onPick: (value: number | null) => void };

export function StepTiles({ legend, hideLegend, last, steps, value, onPick }: Props) {
  const id = useId();
  return (
    <div class="pick pick-3" role="group" aria-labelledby={id}>
      <p class={hideLegend ? "unseen" : "measure-head"} id={id}>{legend}</p>
      {last ? <p class="hint measure-last">{last}</p> : null}
      {steps.map((step) => (
        <button
          key={step.value} type="button" class={value === step.value ? "tile size-tile on" : "tile size-tile"} aria-pressed={value === step.value}
          onClick={() => onPick(value === step.value ? null : step.value)}
        >
          {step.drawing}
          <span class="tile-name">{step.label}</span>
          {step.hint ? <small>{step.hint}</small> : null}
        </button>
      ))}
    </div>
  );
}
