/** Coats and wall in section: where a depth lies on the drawing, and which layer it has reached. Each layer is drawn wide enough to be hit. */
export type Layer = { label: string; thickness_mm: number };
export type Band = { label: string; from_mm: number; to_mm: number; x0: number; x1: number };

const LEAST_SHARE = 0.16;
const WALL_SHARE = 0.4;
const WALL_SHOWN_MM = 100;

/** Bands from the outside in, over a drawing from 0 to `width`; `coats` run from the wall outwards, as they are kept. */
export function bandsOf(coats: readonly Layer[], wallLabel: string, deepest_mm: number, width: number): Band[] {
  const outside = [...coats].reverse();
  const cover = outside.reduce((sum, coat) => sum + coat.thickness_mm, 0);
  const room = outside.length === 0 ? 0 : Math.min(1 - WALL_SHARE, Math.max(LEAST_SHARE * outside.length, 0.45));
  const each = Math.min(LEAST_SHARE, room / Math.max(1, outside.length));
  const rest = room - each * outside.length;
  let [mm, x] = [0, 0];
  const bands = outside.map((coat) => {
    const share = each + (cover > 0 ? (rest * coat.thickness_mm) / cover : 0);
    const band = { label: coat.label, from_mm: mm, to_mm: mm + coat.thickness_mm, x0: x, x1: x + share * width };
    [mm, x] = [band.to_mm, band.x1];
    return band;
  });
  const wall = Math.max(WALL_SHOWN_MM, (deepest_mm - cover) * 1.25);
  return [...bands, { label: wallLabel, from_mm: mm, to_mm: mm + wall, x0: x, x1: width }];
}

export function xOfDepth(bands: readonly Band[], depth_mm: number): number {
  const band = bands.find((one) => depth_mm <= one.to_mm) ?? bands.at(-1);
  if (!band) return 0;
  const share = (Math.min(depth_mm, band.to_mm) - band.from_mm) / (band.to_mm - band.from_mm);
  return band.x0 + Math.max(0, share) * (band.x1 - band.x0);
}

/** Whole millimetres. */
export function depthOfX(bands: readonly Band[], x: number): number {
  const band = bands.find((one) => x <= one.x1) ?? bands.at(-1);
  if (!band) return 0;
  const share = Math.min(1, Math.max(0, (x - band.x0) / (band.x1 - band.x0)));
  return Math.round(band.from_mm + share * (band.to_mm - band.from_mm));
}

/** The layer a depth ends in, and whether it stops just where that layer begins; null at no depth. */
export function layerAt(bands: readonly Band[], depth_mm: number): { label: string; bare: boolean } | null {
  if (depth_mm <= 0) return null;
  const band = bands.find((one) => depth_mm < one.to_mm) ?? bands.at(-1);
  return band ? { label: band.label, bare: depth_mm === band.from_mm } : null;
}

export type ScaledCoat = { x0: number; x1: number; tag_x: number };
/** `wall_x`: where the wall begins; the coats lie left of it over at most `room` units and `most` units for each mm; their tags stand `gap` apart. */
export type SectionSheet = { wall_x: number; room: number; most: number; gap: number };

/** Coats to true scale, as they are laid from the wall outwards: the first ends at the wall, the last has the weather on its left. */
export function scaledCoats(coats_mm: readonly number[], { wall_x, room, most, gap }: SectionSheet): { per_mm: number; coats: ScaledCoat[] } {
  const whole_mm = coats_mm.reduce((sum, mm) => sum + mm, 0);
  const per_mm = whole_mm > 0 ? Math.min(most, room / whole_mm) : most;
  let x = wall_x;
  const bands = coats_mm.map((mm) => {
    const x1 = x;
    x -= mm * per_mm;
    return { x0: x, x1 };
  });
  const tags = spread(bands.map(({ x0, x1 }) => (x0 + x1) / 2), wall_x - room, gap);
  return { per_mm, coats: bands.map((band, i) => ({ ...band, tag_x: tags[i] ?? band.x0 })) };
}

/** Places that fall from left to right no more than they must be moved to stand `gap` apart, none left of `least`. */
function spread(wanted: readonly number[], least: number, gap: number): number[] {
  const places: number[] = [];
  for (const place of wanted) places.push(Math.min(place, (places.at(-1) ?? Infinity) - gap));
  for (let i = places.length - 1, floor = least; i >= 0; i--, floor += gap) places[i] = Math.max(places[i] ?? floor, floor);
  return places;
}
