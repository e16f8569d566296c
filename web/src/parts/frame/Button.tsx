/** Buttons: one primary deed per screen, quiet ones beside it, and a warning kind for what cannot be undone. */
import type { ComponentChildren } from "preact";

type Props = {
  children: ComponentChildren;
  onPress?: () => void;
  kind?: "primary" | "quiet" | "plain" | "warning";
  submit?: boolean;
  disabled?: boolean;
  label?: string;
  pressed?: boolean;
  describedBy?: string;
  /** Leads to what is wrong: a form that cannot be kept puts the focus here. */
  wrong?: boolean;
};

/** One that cannot be pressed now can still be reached: it would drop the focus, and nobody would hear why. */
export function Button({ children, onPress, kind = "quiet", submit, disabled, label, pressed, describedBy, wrong }: Props) {
  const press = (event: Event) => {
    if (disabled) event.preventDefault();
    else onPress?.();
  };
  return (
    <button
      type={submit ? "submit" : "button"}
      class={`btn btn-${kind}`}
      onClick={press}
      aria-disabled={disabled || undefined}
      aria-label={label}
      aria-pressed={pressed}
      aria-describedby={describedBy}
      data-wrong={wrong || undefined}
    >
      {children}
    </button>
  );
}
