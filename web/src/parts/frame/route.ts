/** Where the person is: one path signal, kept in step with the browser's history. */
import { signal } from "@preact/signals";

export const path = signal(location.pathname + location.search);

/** Whether any step inside the app lies behind this one, so that "back" stays inside. */
let depth = 0;

/** Where a step back is to arrive, when the screen behind is the one gone to. */
let landing: string | null = null;

/** The path behind the present one; it lies in the browser's own history, so that a reload keeps it. */
const behind = (): string | null => (history.state as { behind?: string } | null)?.behind ?? null;
const place = (to: string | null): string | undefined => to?.split("?")[0];

window.addEventListener("popstate", () => {
  depth = Math.max(0, depth - 1);
  if (landing !== null) history.replaceState(history.state, "", landing);
  landing = null;
  path.value = location.pathname + location.search;
});

/** Go to a path of the app; `replace` leaves no way back to the present one. */
export function go(to: string, replace = false): void {
  if (replace && place(behind()) === place(to)) {
    // A form that was opened from there: replacing it would leave the same screen twice, and the first press of "back" would do nothing.
    landing = to;
    history.back();
  } else if (replace) history.replaceState(history.state, "", to);
  else {
    history.pushState({ behind: path.value }, "", to);
    depth += 1;
  }
  path.value = to;
  document.getElementById("main")?.scrollTo(0, 0);
}

/** One step back if there is one inside the app, else to `fallback`. */
export function goBack(fallback: string): void {
  if (depth > 0) history.back();
  else go(fallback, true);
}

export type Params = Record<string, string>;

/** Match "/defect/:id" against the present path; query values are added. Null when it does not fit. */
export function match(pattern: string, full: string): Params | null {
  const [pathname = "", query = ""] = full.split("?");
  const want = pattern.split("/");
  const have = pathname.replace(/\/+$/, "").split("/");
  if (want.length !== have.length) return null;
  const found: Params = Object.fromEntries(new URLSearchParams(query));
  for (const [i, piece] of want.entries()) {
    if (piece.startsWith(":")) found[piece.slice(1)] = decodeURIComponent(have[i] ?? "");
    else if (piece !== have[i]) return null;
  }
  return found;
}
