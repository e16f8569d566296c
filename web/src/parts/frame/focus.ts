/** What has the focus may vanish by its own deed (a row removed, a sentence taken back): then the focus stays near, not at the top of the page. */

const NEAR = "section, fieldset, li, form, [role=group], dialog, main, .page-actions";
/** A new screen gives the focus to its heading by itself; only what is still nowhere after this is mended. */
const WAIT_MS = 60;

/** Watch the whole page, once. */
export function keepFocusNear(): void {
  let around: HTMLElement[] = [];
  let waiting = 0;
  const mend = () => {
    waiting = 0;
    if (document.activeElement !== document.body || around[0]?.isConnected !== false) return;
    const left = around.find((one) => one.isConnected && one.matches(NEAR));
    around = [];
    if (!left) return;
    if (!left.hasAttribute("tabindex")) left.tabIndex = -1;
    left.focus({ preventScroll: true });
  };
  document.addEventListener("focusin", (event) => {
    around = [];
    for (let one = event.target as HTMLElement | null; one; one = one.parentElement) around.push(one);
  });
  new MutationObserver(() => {
    if (!waiting && document.activeElement === document.body && around[0]?.isConnected === false) waiting = window.setTimeout(mend, WAIT_MS);
  }).observe(document.body, { childList: true, subtree: true });
}
