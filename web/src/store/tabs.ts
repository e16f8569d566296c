/** Word between tabs of the same browser, so that each shows what another has kept or taken in. */
import type { Key } from "./view";

/** `outbox`: something new waits; `queues`: drafts or sending jobs changed; `looks`: what was looked at; `rows`, `everything`: rows to read afresh. */
export type TabWord = { kind: "outbox" } | { kind: "queues" } | { kind: "looks" } | { kind: "rows"; keys: Key[] } | { kind: "everything" };

let channel: BroadcastChannel | null = null;

/** Listen to other tabs; a browser without the channel shows their changes at the next opening. */
export function listenToTabs(hear: (word: TabWord) => void): void {
  if (typeof BroadcastChannel === "undefined" || channel) return;
  channel = new BroadcastChannel("makegood");
  channel.onmessage = (event: MessageEvent<TabWord>) => hear(event.data);
}

export function tellTabs(word: TabWord): void {
  channel?.postMessage(word);
}

export function leaveTabs(): void {
  channel?.close();
  channel = null;
}
