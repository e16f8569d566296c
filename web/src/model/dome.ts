/**
 * The shapes of walls and domes as surfaces of revolution: radius over height, meridian weight m = r sqrt(1 + r'^2), and
 * what shows from above. Twin of science/dome.py, where formulas, ranges and sources stand.
 */

export type Round = {
  readonly height: number;
  readonly foot: number;
  /** Radius of the opening at the top; 0 where it closes. */
  readonly top: number;
  /** Largest radius. */
  readonly shown: number;
  readonly area: number;
  readonly silhouette: number;
  /** Heights, and radii from above, where the slope changes. */
  readonly breaks: readonly number[];
  readonly aboveBreaks: readonly number[];
  /** Whether every part above the widest ring shows once, and only once, from above. */
  readonly showsAbove: boolean;
  readonly rings: readonly (readonly [radius: number, height: number])[] | null;
  radius(z: number): number;
  slope(z: number): number;
  weight(z: number): number;
  heightAt(rho: number): number;
  /** -dz/drho where it shows from above. */
  fall(rho: number): number;
  /** Area within rho of the axis, per radian and rho^2. */
  crown(rho: number): number;
};

const NEAR_AXIS = 0.02;
/** Nearer to an upright rim than this share of its radius, rounding would make the fall anything. */
const LEAST_ROOM = 1e-14;
const GAUSS_4 = [
  [0.06943184420297371, 0.17392742256872692], [0.33000947820757187, 0.32607257743127307],
  [0.6699905217924281, 0.32607257743127307], [0.9305681557970262, 0.17392742256872692],
] as const;
const SMOOTH = { top: 0, breaks: [], aboveBreaks: [], showsAbove: true, rings: null } as const;

const root = (square: number) => Math.sqrt(Math.max(0, square));

/** Part of a sphere cut level: foot radius a, height H; H = a is a hemisphere, H > a bulges out. */
export function cap(a: number, H: number): Round {
  const rc = (a ** 2 + H ** 2) / (2 * H), under = rc - H;
  const radius = (z: number) => root((H - z) * (z + a ** 2 / H));
  const crown = (rho: number) => rc / (rc + root((rc - rho) * (rc + rho)));
  return {
    ...SMOOTH, height: H, foot: a, shown: H > a ? rc : a,
    area: 2 * Math.PI * rc * H,
    silhouette: rc * rc * (Math.PI / 2 - Math.atan2(under, a)) - under * a,
    radius,
    slope: (z) => {
      const r = radius(z);
      return r > 0 ? (H - rc - z) / r : -Infinity;
    },
    weight: () => rc,
    heightAt: (rho) => H - (rho * rho * crown(rho)) / rc,
    fall: (rho) => rho / Math.sqrt(Math.max(rc - rho, LEAST_ROOM * rc) * (rc + rho)),
    crown,
  };
}

/** A pointed dome, each side an arc centred at foot level beyond the axis: foot radius a, height H >= a. */
export function lancet(a: number, H: number): Round {
  const R = (a ** 2 + H ** 2) / (2 * a), e = ((H - a) * (H + a)) / (2 * a);
  const upright = (z: number) => root((R - z) * (R + z));
  const above = (rho: number) => root((a - rho) * (R + e + rho));
  const radius = (z: number) => {
    const below = upright(z) + e;
    return below > 0 ? Math.max(0, ((H - z) * (H + z)) / below) : 0;
  };
  const crown = (rho: number) => {
    if (rho < NEAR_AXIS * a) return GAUSS_4.reduce((sum, [s, w]) => sum + (w * s * R) / above(rho * s), 0);
    const q = above(rho);
    const turn = Math.atan2((rho + e) * H - e * q, q * H + e * (rho + e));
    return (R * ((rho + 2 * e) / (H + q) - (e * turn) / rho)) / rho;
  };
  return {
    ...SMOOTH, height: H, foot: a, shown: a,
    area: 2 * Math.PI * R * (H - e * Math.atan2(H, e)),
    silhouette: R ** 2 * Math.atan2(H, e) + H * e - 2 * e * H,
    radius,
    slope: (z) => (upright(z) > 0 ? -z / upright(z) : -Infinity),
    weight: (z) => (upright(z) > 0 ? (radius(z) * R) / upright(z) : R),
    heightAt: above,
    fall: (rho) => (rho + e) / Math.sqrt(Math.max(a - rho, LEAST_ROOM * a) * (R + e + rho)),
    crown,
  };
}

/** How many of rising numbers are no larger than x. */
function countUpTo(rising: readonly number[], x: number): number {
  let k = 0;
  while (k < rising.length && rising[k]! <= x) k++;
  return k;
}

type Ring = readonly [radius: number, height: number];
type ShownRing = { outer: number; inner: number; z: number; fall: number; within: number };

/** The rings that show from above, from the top down, with the area per radian within each one's inner edge. */
function shownRings(rings: readonly Ring[], shown: number): ShownRing[] {
  const found: ShownRing[] = [];
  const widest = rings.reduce((last, [r], k) => (r === shown ? k : last), 0);
  let within = 0;
  for (let k = rings.length - 2; k >= widest; k--) {
    const [r0, z0] = rings[k]!, [r1, z1] = rings[k + 1]!;
    found.push({ outer: r0, inner: r1, z: z1, fall: (z1 - z0) / (r0 - r1), within });
    within += ((r0 + r1) / 2) * Math.hypot(r1 - r0, z1 - z0);
  }
  return found;
}

/** Straight between measured rings, from the foot at height 0 upwards. */
export function profile(rings: readonly Ring[]): Round {
  const [foot] = rings[0]!, [top, height] = rings[rings.length - 1]!;
  const shown = Math.max(...rings.map(([r]) => r));
  const breaks = rings.slice(1, -1).map(([, z]) => z);
  const pairs = rings.slice(1).map((upper, k) => [rings[k]!, upper] as const);
  const rise = pairs.map(([[r0, z0], [r1, z1]]) => (r1 - r0) / (z1 - z0));
  const radius = (z: number) => {
    const k = countUpTo(breaks, z), [r0, z0] = rings[k]!;
    return Math.max(0, r0 + (z - z0) * rise[k]!);
  };
  const slope = (z: number) => rise[countUpTo(breaks, z)]!;
  const fromAbove = shownRings(rings, shown);
  const outers = fromAbove.map(({ outer }) => outer);
  const ringAt = (rho: number) => fromAbove[Math.min(countUpTo(outers, rho), fromAbove.length - 1)]!;
  return {
    height, foot, top, shown, breaks, rings, radius, slope,
    area: pairs.reduce((sum, [[r0, z0], [r1, z1]]) => sum + Math.PI * (r0 + r1) * Math.hypot(r1 - r0, z1 - z0), 0),
    silhouette: pairs.reduce((sum, [[r0, z0], [r1, z1]]) => sum + (r0 + r1) * (z1 - z0), 0),
    aboveBreaks: fromAbove.map(({ inner }) => inner).filter((inner) => inner > 0),
    showsAbove: fromAbove.length > 0 && fromAbove.every(({ outer, inner }) => outer > inner),
    weight: (z) => radius(z) * Math.sqrt(1 + slope(z) ** 2),
    heightAt: (rho) => {
      const { inner, z, fall } = ringAt(rho);
      return z - Math.max(0, rho - inner) * fall;
    },
    fall: (rho) => (rho < top ? 0 : ringAt(rho).fall),
    crown: (rho) => {
      if (rho < top) return 0;
      const { inner, fall, within } = ringAt(rho), stretch = Math.sqrt(1 + fall * fall);
      return inner === 0 ? stretch / 2 : (within + (stretch * (rho - inner) * (rho + inner)) / 2) / (rho * rho);
    },
  };
}
