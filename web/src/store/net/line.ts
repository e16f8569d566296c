/** Which line the phone is on, as far as the browser tells, and whether the originals of photos wait for a better one. */
import { computed, signal } from "@preact/signals";
import { setSettings, settings } from "../phone";

/** "unknown" where the browser does not say: then only a person can. */
export type Line = "wifi" | "other" | "unknown";
type Connection = EventTarget & { type?: string };

const connection = () => (globalThis as { navigator?: { connection?: Connection } }).navigator?.connection;
const FREE = new Set(["wifi", "ethernet"]);

function readLine(): Line {
  const type = connection()?.type;
  if (type === undefined || type === "unknown") return "unknown";
  return FREE.has(type) ? "wifi" : "other";
}

export const line = signal<Line>(readLine());
/** A person said that the originals may go now, until none waits. */
const goAnyway = signal(false);

/** Whether originals stay here for now; rows and previews always go. */
export const originalsHeld = computed(() => settings.value.originalsOnWifi && line.value !== "wifi" && !goAnyway.value);

/** Let the waiting originals go over whatever line there is, this once. */
export function letOriginalsGo(): void {
  goAnyway.value = true;
}

/** All originals went: the next ones wait again. */
export function originalsWent(): void {
  goAnyway.value = false;
}

export async function holdOriginals(onWifiOnly: boolean): Promise<void> {
  goAnyway.value = false;
  await setSettings({ originalsOnWifi: onWifiOnly });
}

/** Follow the line; `onFree` is called when it becomes one on which originals may go. */
export function followLine(onFree: () => void): void {
  line.value = readLine();
  connection()?.addEventListener("change", () => {
    line.value = readLine();
    if (line.value === "wifi") onFree();
  });
}
