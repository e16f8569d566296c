/** Coats cut through to true scale: the weather on the left, the wall on the right, each coat with its mix and thickness. */
import { useId } from "preact/hooks";
import { stepFrom } from "../../model/drawing/plan";
import { scaledCoats } from "../../model/drawing/section";
import type { Coat } from "../../model/types";
import { t } from "../../words";
import { isUs, showMm } from "../../words/measures";
import { mixWord } from "../../words/vocabulary";
import { HatchPattern, mixHatch } from "./hatch";
import "./coats.css";
import { shortLabel, straw } from "./CoatSection";

const SHEET = { wall_x: 252, room: 212, most: 9, gap: 22 };
const [WIDTH, TOP, BOTTOM, TAGS] = [320, 6, 84, 106];
const MM_PER_IN = 25.4;
/** Lengths a scale bar may have: round ones in this device's measures. */
const bars_mm = () => (isUs() ? [0.05, 0.1, 0.25, 0.5, 1, 2, 4].map((inches) => inches * MM_PER_IN) : [1, 2, 5, 10, 20, 50, 100]);
const PLAIN = "var(--ground, #efe6d3)";

function Patterns({ coats, prefix }: { coats: readonly Coat[]; prefix: string }) {
  const hatches = new Map(coats.flatMap(({ mix }) => {
    const found = mixHatch(mix);
    return found ? [[found.kind, found.family] as const] : [];
  }));
  return <defs>{[...hatches].map(([kind, family]) => <HatchPattern key={kind} id={`${prefix}-${kind}`} family={family} />)}</defs>;
}

const fillOf = (mix: string, prefix: string): string => {
  const found = mixHatch(mix);
  return found ? `url(#${prefix}-${found.kind})` : PLAIN;
};

/** Rain from the left, so that one sees at once which side is out. */
const RAIN = "M6 14l16 8M4 34l18 9M6 56l16 8";

function ScaleBar({ per_mm }: { per_mm: number }) {
  const length_mm = stepFrom(bars_mm(), 26 / per_mm);
  const x = WIDTH - 8 - length_mm * per_mm;
  return (
    <>
      <path class="coat-scale" d={`M${x} ${TAGS - 8}v6h${length_mm * per_mm}v-6`} />
      <text class="coat-name" x={WIDTH - 8} y={TAGS + 12} text-anchor="end">{showMm(length_mm)}</text>
    </>
  );
}

function Section({ coats, tags, wallLabel, prefix }: { coats: readonly Coat[]; tags: readonly string[]; wallLabel: string; prefix: string }) {
  const { per_mm, coats: drawn } = scaledCoats(coats.map((coat) => coat.thickness_mm), SHEET);
  const said = coats.map((coat, i) => t("coats_numbered", { n: tags[i] ?? "", name: mixWord(coat.mix), thickness: showMm(coat.thickness_mm) }));
  return (
    <svg viewBox={`0 0 ${WIDTH} 122`} role="img" aria-label={t("coats_drawn", { wall: wallLabel, coats: said.join("; ") })}>
      <Patterns coats={coats} prefix={prefix} />
      <path class="coat-rain" d={RAIN} transform={`translate(${Math.max(0, (drawn.at(-1)?.x0 ?? 0) - 36)} 0)`} />
      {drawn.map(({ x0, x1, tag_x }, i) => (
        <g key={i}>
          <rect class="coat-layer" x={x0} y={TOP} width={Math.max(x1 - x0, 1.2)} height={BOTTOM - TOP} fill={fillOf(coats[i]?.mix ?? "", prefix)} />
          <path class="coat-lead" d={`M${(x0 + x1) / 2} ${BOTTOM - 8}L${tag_x} ${TAGS - 10}`} />
          <text class="coat-name" x={tag_x} y={TAGS + 4} text-anchor="middle">{tags[i]}</text>
        </g>
      ))}
      <rect class="coat-layer coat-wall" x={SHEET.wall_x} y={TOP} width={WIDTH - SHEET.wall_x} height={BOTTOM - TOP} />
      <path class="coat-straw" d={straw(SHEET.wall_x, WIDTH)} />
      <ScaleBar per_mm={per_mm} />
    </svg>
  );
}

function Swatch({ mix, prefix }: { mix: string; prefix: string }) {
  return <svg class="coat-swatch" viewBox="0 0 36 24" width="36" height="24" aria-hidden="true"><rect class="coat-layer" x="1" y="1" width="34" height="22" fill={fillOf(mix, prefix)} /></svg>;
}

/** `coats` from the wall outwards, as they are kept; `tagOf` where they are not simply numbered. */
export function CoatLayers<C extends Coat>({ coats, wallLabel, tagOf }: { coats: readonly C[]; wallLabel: string; tagOf?: (coat: C) => string }) {
  const prefix = `coat${useId()}`;
  const tags = coats.map((coat, i) => tagOf?.(coat) ?? String(i + 1));
  if (coats.length === 0) return null;
  return (
    <figure class="coat-layers">
      <Section coats={coats} tags={tags} wallLabel={shortLabel(wallLabel)} prefix={prefix} />
      <figcaption class="hint">{t("coats_read", { wall: shortLabel(wallLabel) })}</figcaption>
      <ol>
        {coats.map((coat, i) => (
          <li key={i}><Swatch mix={coat.mix} prefix={prefix} /><b>{tags[i]}</b><span class="grow">{mixWord(coat.mix)}</span><span>{showMm(coat.thickness_mm)}</span></li>
        ))}
      </ol>
    </figure>
  );
}
