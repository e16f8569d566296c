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
};

export function Button({ children, onPress, kind = "quiet", submit, disabled, label, pressed, describedBy }: Props) {
  return (
    <button
      type={submit ? "submit" : "button"}
      class={`btn btn-${kind}`}
      onClick={onPress}
      disabled={disabled}
      aria-label={label}
      aria-pressed={pressed}
      aria-describedby={describedBy}
    >
      {children}
    </button>
  );
}
