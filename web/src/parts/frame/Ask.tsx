/** A question over the page, in the browser's own dialog: focus stays inside and Escape closes it. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

type Props = { title: string; onClose: () => void; children: ComponentChildren };

export function Ask({ title, onClose, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const shown = dialog.current;
    const opener = document.activeElement;
    if (shown && !shown.open) shown.showModal();
    // A dialog that is closed gives the focus back by itself; one that is merely taken away drops it.
    return () => {
      if (document.activeElement === document.body && opener instanceof HTMLElement && opener.isConnected) opener.focus();
    };
  }, []);
  return (
    <dialog ref={dialog} class="ask" aria-labelledby={id} onClose={onClose}>
      <h2 id={id}>{title}</h2>
      {children}
    </dialog>
  );
}
