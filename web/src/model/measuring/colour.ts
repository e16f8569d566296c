/**
 * Colours as the eye tells them apart: CIE 1976 L*a*b* under D65, from sRGB (IEC 61966-2-1), and the distance between them
 * (the plain one of 1976). From memory of the standards; held to OpenCV's own conversion by shared/vectors/colour_region.json.
 */
export type Pixels = { width: number; height: number; /** Red, green, blue, opacity, row by row. */ data: Uint8ClampedArray };
export type Lab = readonly [number, number, number];

const TO_XYZ = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]] as const;
const WHITE = TO_XYZ.map((row) => row[0] + row[1] + row[2]);
const KNEE = (6 / 29) ** 3;

const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => {
  const c = byte / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
});

const curve = (share: number) => (share > KNEE ? Math.cbrt(share) : (share * 841) / 108 + 4 / 29);

/** Red, green and blue of 0 to 255 as L* (0 to 100), a*, b*. */
export function labOf(red: number, green: number, blue: number): Lab {
  const [r, g, b] = [LINEAR[red]!, LINEAR[green]!, LINEAR[blue]!];
  const [x, y, z] = TO_XYZ.map((row, k) => curve((row[0] * r + row[1] * g + row[2] * b) / WHITE[k]!)) as [number, number, number];
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Three numbers for each pixel. */
export function labsOf({ width, height, data }: Pixels): Float32Array {
  const labs = new Float32Array(width * height * 3);
  for (let i = 0; i < width * height; i++) labs.set(labOf(data[4 * i]!, data[4 * i + 1]!, data[4 * i + 2]!), 3 * i);
  return labs;
}

/** The middle value of each of the three, over a square of `reach` pixels to each side; robust against straw, cracks and grains. */
export function medianAround(labs: Float32Array, { width, height }: { width: number; height: number }, [x, y]: readonly [number, number], reach: number): Lab {
  const found: number[][] = [[], [], []];
  for (let row = Math.max(0, y - reach); row <= Math.min(height - 1, y + reach); row++) {
    for (let column = Math.max(0, x - reach); column <= Math.min(width - 1, x + reach); column++) {
      for (let k = 0; k < 3; k++) found[k]!.push(labs[3 * (row * width + column) + k]!);
    }
  }
  return found.map((all) => all.sort((a, b) => a - b)[Math.floor(all.length / 2)]!) as unknown as Lab;
}

/** Each pixel's distance from one colour. */
export function distances(labs: Float32Array, from: Lab): Float32Array {
  return Float32Array.from({ length: labs.length / 3 }, (_, i) => Math.hypot(labs[3 * i]! - from[0], labs[3 * i + 1]! - from[1], labs[3 * i + 2]! - from[2]));
}

/** The mean colour of the pixels marked 1. */
export function meanWhere(labs: Float32Array, on: Uint8Array): Lab {
  const sum = [0, 0, 0];
  let count = 0;
  on.forEach((one, i) => {
    if (one === 0) return;
    count += 1;
    for (let k = 0; k < 3; k++) sum[k]! += labs[3 * i + k]!;
  });
  return sum.map((all) => all / Math.max(count, 1)) as unknown as Lab;
}
