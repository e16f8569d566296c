/** Start: open the store, draw the app, register the service worker. */
import { render } from "preact";
import { openStore, settings, startSync, watchForUpdate } from "./store";
import { keepFocusNear } from "./parts/frame/focus";
import { wearLooks } from "./parts/frame/looks";
import "./style.css";
import { App } from "./views/App";
import { loadWords } from "./words";

// Rows and words set out at once, side by side: drawing the empty frame first would make both wait for a paint.
void openStore().then(startSync);
void loadWords(settings.peek().language);
wearLooks();
const place = document.getElementById("app");
if (place) {
  place.replaceChildren();
  render(<App />, place);
  keepFocusNear();
}

type Policies = { createPolicy(name: string, rules: { createScriptURL(url: string): string }): { createScriptURL(url: string): unknown } };
const WORKER = "/sw.js";

/** The server's policy takes script addresses only from this one rule, and this rule knows one address. */
function workerAddress(): string {
  const policies = (globalThis as { trustedTypes?: Policies }).trustedTypes;
  const onlyWorker = { createScriptURL: (url: string) => (url === WORKER ? url : "about:blank") };
  return (policies?.createPolicy("makegood", onlyWorker).createScriptURL(WORKER) ?? WORKER) as string;
}

// Not there on plain http, nor where the browser was told to do without.
if (navigator.serviceWorker) void navigator.serviceWorker.register(workerAddress()).then(watchForUpdate);
