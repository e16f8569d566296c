/** A link that moves inside the app without loading a page. */
import type { ComponentChildren } from "preact";
import { go } from "./route";

type Props = { to: string; class?: string; children: ComponentChildren; label?: string; current?: boolean };

export function Link({ to, children, label, current, class: cls }: Props) {
  const follow = (event: MouseEvent) => {
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0) return;
    event.preventDefault();
    go(to);
  };
  return (
    <a href={to} class={cls} aria-label={label} aria-current={current ? "page" : undefined} onClick={follow}>
      {children}
    </a>
  );
}
