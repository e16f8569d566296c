/** Which way the camera looks, from how the phone is turned. */

const RAD = Math.PI / 180;
/** Below this share of the view that is level, the phone lies flat and its upper edge points, not its camera. */
const LEVEL_SHARE = 0.5;

/** What an orientation event of the browser brings; the webkit fields come on iPhones only. */
export type Turned = {
  absolute?: boolean; alpha: number | null; beta: number | null; gamma: number | null;
  webkitCompassHeading?: number; webkitCompassAccuracy?: number;
};

export const wrapDegrees = (deg: number): number => ((deg % 360) + 360) % 360;

/**
 * Compass direction in degrees of the camera at the phone's back, or of its upper edge where the phone lies flat.
 * alpha, beta, gamma: turns about z, x, y in degrees (W3C Device Orientation), earth frame x east, y north.
 * Source: own derivation from R = Rz(alpha) Rx(beta) Ry(gamma): the camera looks along -R z, the upper edge along R y.
 */
export function cameraHeading(alpha: number, beta: number, gamma: number): number {
  const [sz, cz] = [Math.sin(alpha * RAD), Math.cos(alpha * RAD)];
  const [sx, cx] = [Math.sin(beta * RAD), Math.cos(beta * RAD)];
  const sy = Math.sin(gamma * RAD);
  const cy = Math.cos(gamma * RAD);
  const [east, north] = [-cz * sy - sz * sx * cy, -sz * sy + cz * sx * cy];
  if (Math.hypot(east, north) >= LEVEL_SHARE) return wrapDegrees(Math.atan2(east, north) / RAD);
  return wrapDegrees(Math.atan2(-sz * cx, cz * cx) / RAD);
}

/** The heading an orientation event tells, or null where it knows no north. */
export function headingOf(event: Turned): number | null {
  const { webkitCompassHeading: compass, webkitCompassAccuracy: accuracy } = event;
  if (compass !== undefined) return accuracy !== undefined && accuracy < 0 ? null : wrapDegrees(compass);
  if (event.absolute !== true || event.alpha === null || event.beta === null || event.gamma === null) return null;
  return cameraHeading(event.alpha, event.beta, event.gamma);
}
