/** The proportions of a mix as a bar: parts by loose volume as blocks, each material group with its own hatch. */
import { useId } from "preact/hooks";
import type { Mix } from "../../model/catalogue";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { showNumber } from "../../words/measures";
import { fractionWords } from "./amountWords";
import "./ticket.css";

type Look = { ground: string; ink: string; d: string; width: number };
const LIME: Look = { ground: "#fffdf8", ink: "#26365f", d: "M0 4H8", width: 1 };
const LOOKS: Record<string, Look> = {
  sand: { ground: "#efe2c6", ink: "#5f430a", d: "M1.5 2h1.6M5.5 6h1.6", width: 1.8 },
  fine_sand: { ground: "#f6eeda", ink: "#5f430a", d: "M2 2h.1M6 6h.1", width: 1.6 },
  shell: { ground: "#f7efe6", ink: "#5f430a", d: "M1 6a3 3 0 0 1 6 0", width: 1.2 },
  earth: { ground: "#d8b894", ink: "#5b2b12", d: "M0 8L8 0M-2 2L2-2M6 10L10 6", width: 1.4 },
  straw: { ground: "#f3ecc2", ink: "#5c5210", d: "M1 1L5 6M5 1L7 3", width: 1.4 },
  brick: { ground: "#ecc9b8", ink: "#7a3115", d: "M0 4H8M4 0V4M0 4V8", width: 1.2 },
  water: { ground: "#e2e9f2", ink: "#26365f", d: "M0 4q2-3 4 0t4 0", width: 1.2 },
};

function lookOf(id: string): Look {
  if (id === "fine_sand") return LOOKS.fine_sand ?? LIME;
  if (id === "crushed_shell") return LOOKS.shell ?? LIME;
  if (id.includes("sand")) return LOOKS.sand ?? LIME;
  if (id === "clay_earth") return LOOKS.earth ?? LIME;
  if (id === "straw") return LOOKS.straw ?? LIME;
  if (id.includes("brick")) return LOOKS.brick ?? LIME;
  return id === "water" ? (LOOKS.water ?? LIME) : LIME;
}

/** Quarters where they are exact, else the number itself. */
const partWords = (parts: number): string => (Math.abs(parts * 4 - Math.round(parts * 4)) < 0.01 ? fractionWords(parts) : showNumber(parts, 2));

/** The name without its grading: "sharp sand" of "sharp sand, well graded, 0 to 4 mm". */
const shortName = (id: string): string => (catalogue.value?.materials[id]?.words[language()] ?? id).split(",")[0] ?? id;

/** "1 part natural hydraulic lime, 2½ parts sharp sand": the drawing in words. */
export function partsWords(mix: Mix): string {
  return mix.parts.map((part) => t("mix_part", { n: part.parts <= 1 ? 1 : part.parts, parts: partWords(part.parts), material: shortName(part.material) })).join("; ");
}

export function PartsBar({ mix, slim }: { mix: Mix; slim?: boolean }) {
  const prefix = useId();
  const all = mix.parts.reduce((sum, part) => sum + part.parts, 0);
  const height = slim ? 22 : 44;
  let at = 1;
  return (
    <svg class="parts-bar" viewBox={`0 0 320 ${height}`} role="img" aria-label={partsWords(mix)}>
      <defs>
        {mix.parts.map((part) => {
          const look = lookOf(part.material);
          return (
            <pattern key={part.material} id={`${prefix}${part.material}`} width="8" height="8" patternUnits="userSpaceOnUse">
              <rect width="8" height="8" fill={`var(--ground, ${look.ground})`} /><path d={look.d} stroke={`var(--drawn, ${look.ink})`} stroke-width={look.width} fill="none" stroke-linecap="round" />
            </pattern>
          );
        })}
      </defs>
      {mix.parts.map((part) => {
        const width = (318 * part.parts) / all;
        const x = at;
        at += width;
        return (
          <g key={part.material}>
            <rect x={x} y="1" width={width} height={height - 2} fill={`url(#${prefix}${part.material})`} stroke="var(--ink)" stroke-width="1.6" />
            {slim ? null : (
              <>
                <rect x={x + width / 2 - 15} y="10" width="30" height="24" rx="5" fill="var(--paper)" stroke="var(--ink)" />
                <text x={x + width / 2} y="27" text-anchor="middle" class="parts-text">{partWords(part.parts)}</text>
              </>
            )}
          </g>
        );
      })}
    </svg>
  );
}
