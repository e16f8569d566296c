/**
 * What was just taken away, and how it comes back: the one way in which the app offers this. An offer stands for ten seconds
 * at least, and until the person goes somewhere else; the newest is shown, and those of the same
 * screen before it come up as it is taken.
 */
import { effect, signal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { Refused, bringBack, bringThrownBack, forgetThrown, throwDraft, type RowKey } from "../../store";
import { refusalWords, t } from "../../words";
import { ignoreStoreTrouble } from "../draft";
import { go, path } from "../frame/route";

/** `say`: what was taken away; `lapse` is called if nobody wants it back; `here`: of no use on another screen. */
export type Offer = { say: string; back: () => unknown; lapse?: () => unknown; here?: boolean };

const AT_LEAST_MS = 10_000;
/** The deed's own way out of its screen may take this long: it is no going somewhere else. */
const OWN_WAY_MS = 600;
const MOST = 20;

export const offers = signal<readonly Offer[]>([]);
/** Why the last one could not be brought back, in words. */
export const undoTrouble = signal<string | null>(null);

let since_ms = 0;
let place = "";
let leaving: ReturnType<typeof setTimeout> | undefined;
const placeNow = () => path.peek().split("?")[0] ?? "";

/** Offer to take back what was just done; call it once the screen is the one the person stays on. */
export function offerUndo(offer: Offer): void {
  // What was taken away on another screen would come up here without its sense.
  if (placeNow() !== place) closeOffers();
  clearTimeout(leaving);
  [since_ms, place] = [Date.now(), placeNow()];
  undoTrouble.value = null;
  const all = [...offers.peek(), offer];
  all.slice(0, -MOST).forEach(lapse);
  offers.value = all.slice(-MOST);
}

/** Take back the newest. */
export async function undoLast(): Promise<void> {
  const last = offers.peek().at(-1);
  if (!last) return;
  offers.value = offers.peek().slice(0, -1);
  try {
    await last.back();
  } catch (error) {
    if (error instanceof Refused) undoTrouble.value = refusalWords(error.code);
    else ignoreStoreTrouble(error);
  }
}

/** Nobody wants any of it back. */
export function closeOffers(): void {
  clearTimeout(leaving);
  const all = offers.peek();
  offers.value = [];
  undoTrouble.value = null;
  all.forEach(lapse);
}

function lapse(offer: Offer): void {
  void (async () => offer.lapse?.())().catch(ignoreStoreTrouble);
}

effect(() => {
  const now = path.value.split("?")[0];
  if (now === place || now === undefined || !offers.peek().length) return;
  if (Date.now() - since_ms < OWN_WAY_MS) {
    place = now;
    return;
  }
  offers.value = offers.peek().filter((one) => !one.here);
  clearTimeout(leaving);
  leaving = setTimeout(closeOffers, Math.max(0, since_ms + AT_LEAST_MS - Date.now()));
});

/** Rows were deleted: those first on which others stand. `also` puts right what was changed along with it. */
export function offerRows(name: string, rows: readonly RowKey[], also?: () => Promise<unknown>): void {
  offerUndo({ say: t("undo_deleted", { name }), back: () => bringBack(rows).then(() => also?.()) });
}

/** Throw a draft away, leave its screen, and offer to bring it back there; a draft's key is mostly its screen's path. Where nothing was entered there is nothing to offer. */
export async function throwAway(key: string, name: string, leave: () => void, screen: string | null = `/${key}`): Promise<void> {
  const thrown = await throwDraft(key);
  leave();
  if (!thrown) return;
  const back = async () => {
    await bringThrownBack(key);
    if (screen) go(screen);
  };
  offerUndo({ say: t("undo_thrown", { name }), back, lapse: () => forgetThrown(key) });
}

/** Take one out of a list that a form holds: the given place of it, by a name for the sentence. It comes back into the list as that is then. */
export function useTakeOut<T>(list: readonly T[], set: (next: T[]) => void): (at: number, name: string) => void {
  const now = useRef({ list, set });
  now.current = { list, set };
  return (at, name) => {
    const one = list[at] as T;
    set(list.filter((_, n) => n !== at));
    const back = () => now.current.set([...now.current.list.slice(0, at), one, ...now.current.list.slice(at)]);
    offerUndo({ say: t("undo_removed", { name }), back, here: true });
  };
}
