/** Where the phone stood, which way it looked and what time it was when a photo was taken. Works without any of it. */
import { type Turned, headingOf } from "../../model/marking/heading";
import { type PhotoFacts, nowIso, settings } from "../../store";

export type PlaceFacts = Omit<PhotoFacts, "media_type">;
export type Shutter = {
  /** The facts now; waits a moment for a place that is still being looked for. */
  read: () => Promise<PlaceFacts>;
  close: () => void;
  opened_ms: number;
};
type Asking = { requestPermission?: () => Promise<string> };

const PATIENCE_MS = 4000;
const FIX_MS = 20_000;
const FRESH_MS = 5000;
export const NO_PLACE: PlaceFacts = { taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };

/** Must run within a tap: iPhones let a page ask for the compass only then. */
export async function askCompass(): Promise<void> {
  const asking = (globalThis as { DeviceOrientationEvent?: Asking }).DeviceOrientationEvent;
  // Refused or not there: photos go without a heading, and it can be given by hand.
  await asking?.requestPermission?.().catch(() => "denied");
}

/** The place of this phone now, or null. The browser asks the person the first time. */
export function askPosition(): Promise<GeolocationCoordinates | null> {
  if (!("geolocation" in navigator)) return Promise.resolve(null);
  return new Promise((done) => {
    navigator.geolocation.getCurrentPosition((found) => done(found.coords), () => done(null), { enableHighAccuracy: true, timeout: FIX_MS, maximumAge: FRESH_MS });
  });
}

const within = <T>(promise: Promise<T>, wait_ms: number): Promise<T | null> =>
  Promise.race([promise, new Promise<null>((done) => void setTimeout(() => done(null), wait_ms))]);

const EVENTS = ["deviceorientationabsolute", "deviceorientation"] as const;

/** Start looking for place and heading; call within the tap that opens the camera. */
export function openShutter(): Shutter {
  const wanted = settings.peek().photoPlace === "yes";
  let heading: number | null = null;
  const hear = (event: Event) => {
    heading = headingOf(event as Event & Turned) ?? heading;
  };
  if (wanted) for (const name of EVENTS) window.addEventListener(name, hear);
  const position = wanted ? askPosition() : Promise.resolve(null);
  const read = async (): Promise<PlaceFacts> => {
    const facts = { ...NO_PLACE, taken_at: nowIso(), heading_deg: heading === null ? null : Math.round(heading) % 360 };
    const found = await within(position, PATIENCE_MS);
    if (!found) return facts;
    return { ...facts, lat: found.latitude, lon: found.longitude, accuracy_m: Math.round(found.accuracy), position_source: "phone" };
  };
  const close = () => {
    for (const name of EVENTS) window.removeEventListener(name, hear);
  };
  return { read, close, opened_ms: Date.now() };
}
