/** The hatch and the pin of each family of damage, from the catalogue's drawings: what tells marks apart without colour. */
import { catalogue } from "../../store";

type HatchLines = {
  kind: "line" | "dash" | "diagonal" | "waves" | "dots"; spacing: number; angle_deg: number; width: number; dash?: number[];
  wave_length?: number; wave_height?: number; dot_radius?: number;
};
export type Family = { colour: string; tint: string; hatch: HatchLines };
export type Stroke = { d: string; fill: string; stroke: "none" | "ink" | "family"; width: number };
type Drawings = { viewBox: string; ink: string; fills: Record<string, string>; families: Record<string, Family>; mix_kinds?: Record<string, Family>; kinds: Record<string, Stroke[]> };

const drawings = (): Drawings | null => (catalogue.value?.drawings as Drawings | undefined) ?? null;

// In glare the root names one colour for all that is drawn and one for all grounds (style.css); the hatch alone tells families apart.
const drawn = (colour: string) => `var(--drawn, ${colour})`;
const ground = (colour: string) => `var(--ground, ${colour})`;
/** Dark shapes stay dark in glare; every other fill is a ground. */
const DARK = "dark";

export function drawingOf(kind: string): { viewBox: string; ink: string; fills: Record<string, string>; strokes: Stroke[] } | null {
  const book = drawings();
  const strokes = book?.kinds[kind];
  if (!book || !strokes) return null;
  const fills = Object.fromEntries(Object.entries(book.fills).map(([name, colour]) => [name, name === DARK ? drawn(colour) : ground(colour)]));
  return { viewBox: book.viewBox, ink: drawn(book.ink), fills, strokes };
}

export function familyOf(id: string | null): Family | null {
  const family = id === null ? undefined : drawings()?.families[id];
  return family ? inGlare(family) : null;
}

const inGlare = (family: Family): Family => ({ ...family, colour: drawn(family.colour), tint: ground(family.tint) });

/** The hatch of a mix where coats are drawn cut through; null for a mix that this phone does not know. */
export function mixHatch(mix: string): { kind: string; family: Family } | null {
  const kind = catalogue.value?.mixes[mix]?.kind;
  const family = kind ? drawings()?.mix_kinds?.[kind] : undefined;
  return kind && family ? { kind, family: inGlare(family) } : null;
}

export const familyIds = (): string[] => Object.keys(drawings()?.families ?? {});

function HatchShape({ hatch, colour }: { hatch: HatchLines; colour: string }) {
  const middle = hatch.spacing / 2;
  if (hatch.kind === "dots") return <circle cx={middle} cy={middle} style={{ r: `calc(${hatch.dot_radius ?? 1}px * var(--bold))` }} fill={colour} />;
  const length = hatch.wave_length ?? hatch.spacing;
  const d = hatch.kind === "waves" ? `M0 ${middle}q${length / 4} ${-2 * (hatch.wave_height ?? 1)} ${length / 2} 0t${length / 2} 0` : `M0 ${middle}H100`;
  return <path d={d} fill="none" stroke={colour} stroke-width={`calc(${hatch.width}px * var(--bold))`} stroke-dasharray={hatch.dash?.join(" ")} />;
}

/** One hatch; `scale` is the drawing's units to a CSS pixel, so that the hatch stays as fine when the drawing is zoomed. */
export function HatchPattern({ id, family, scale = 1 }: { id: string; family: Family; scale?: number }) {
  const { hatch, colour, tint } = family;
  const width = hatch.wave_length ?? (hatch.dash ? hatch.dash.reduce((sum, part) => sum + part, 0) : hatch.spacing);
  return (
    <pattern id={id} width={width} height={hatch.spacing} patternUnits="userSpaceOnUse" patternTransform={`scale(${scale}) rotate(${hatch.angle_deg})`}>
      <rect width={width} height={hatch.spacing} fill={tint} />
      <HatchShape hatch={hatch} colour={colour} />
    </pattern>
  );
}

/** All hatches of a drawing; a mark of family f is filled with `url(#prefix-f)`. */
export function Hatches({ prefix, scale }: { prefix: string; scale: number }) {
  return (
    <>
      {familyIds().map((id) => {
        const family = familyOf(id);
        return family ? <HatchPattern key={id} id={`${prefix}-${id}`} family={family} scale={scale} /> : null;
      })}
    </>
  );
}

/** Pins differ in shape as well as in colour; in CSS pixels round their point. */
const PIN_PATHS: Record<string, string> = {
  crack_deformation: "M0-10L6 0L0 10L-6 0z",
  detachment: "M-7-7H7V7H-7z",
  loss: "M-9-7H9L0 9z",
  discoloration: "M0-10C4-4 7-1 7 3A7 7 0 0 1-7 3C-7-1-4-4 0-10z",
  growth: "M-3-9H3V-3H9V3H3V9H-3V3H-9V-3H-3z",
};
const PLAIN_PIN = "M7 0A7 7 0 1 1-7 0A7 7 0 1 1 7 0z";
export const pinPath = (family: string | null): string => (family ? PIN_PATHS[family] : undefined) ?? PLAIN_PIN;
