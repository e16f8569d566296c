/** A question over the page, in the browser's own dialog: focus stays inside and Escape closes it. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

type Props = { title: string; onClose: () => void; children: ComponentChildren };

export function Ask({ title, onClose, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const shown = dialog.current;
    if (shown && !shown.open) shown.showModal();
  }, []);
  return (
    <dialog ref={dialog} class="ask" aria-labelledby={id} onClose={onClose}>
      <h2 id={id}>{title}</h2>
      {children}
    </dialog>
  );
}
