/** A notice on this device when somebody else moves a ticket, while the app is open but not in front. */
import { effect } from "@preact/signals";
import { newSteps } from "../model/closing/hands";
import type { Id, Step } from "../model/types";
import { me, row, settings, table, whole } from "../store";
import { t } from "../words";
import { vocabularyWord } from "../words/vocabulary";
import { go } from "./frame/route";
import { ticketName } from "./ticket/gathered";

function tell(step: Step): void {
  const ticket = row("ticket", step.ticket_id);
  if (!ticket) return;
  const words = t("board_hands_line", { ticket: ticketName(ticket), what: vocabularyWord("steps", step.kind, "did"), person: step.made_by });
  // Through the service worker, as phones refuse notices that a page makes itself.
  void navigator.serviceWorker?.ready.then((worker) => worker.showNotification(words, { tag: step.ticket_id, icon: "/icon-192.png", data: `/ticket/${ticket.id}` }));
}

const mayTell = (): boolean => settings.peek().tellHands && "Notification" in window && Notification.permission === "granted";

function goWhereTold(event: MessageEvent): void {
  const told = event.data as { kind?: string; path?: unknown } | null;
  if (told?.kind === "GO" && typeof told.path === "string" && told.path.startsWith("/ticket/")) go(told.path);
}

/** Watch for as long as the app is open. */
export function watchHands(): () => void {
  navigator.serviceWorker?.addEventListener("message", goWhereTold);
  let known: Set<Id> | null = null;
  return effect(() => {
    const steps = table("step").value.values();
    if (!whole.value) return;
    // What was there at the start is no news.
    const fresh = known ? newSteps(known, steps, me.peek()?.person ?? null) : [];
    known ??= new Set([...steps].map((step) => step.id));
    if (document.visibilityState !== "visible" && mayTell()) fresh.forEach(tell);
  });
}
