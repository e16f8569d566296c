/** What moves the number: a bar per assumption, from the amount at its low end to the amount at its high end, around what is likely. */
import type { Method } from "../../../model/catalogue";
import { type Move, movesOf } from "../../../model/repair/moves";
import type { Book, Repair } from "../../../model/repair/repair";
import { t } from "../../../words";
import { rangeEnds, showMass, showNumber, showPercent, showVolume } from "../../../words/measures";

function moveWords(move: Move): string {
  if (move.what === "loss") return t("move_loss", { low: showPercent(move.from.low), high: showPercent(move.from.high) });
  if (move.what === "thickness") return t("move_thickness", { low: showNumber(move.from.low, 2), high: showNumber(move.from.high, 2) });
  return t("move_size", { off: showPercent(move.from.high - 1) });
}

export function MovesBars({ repair, method, book }: { repair: Repair; method: Method; book: Book }) {
  const moves = movesOf(repair, method, book);
  const likely = repair.with_loss_l.likely;
  const low = Math.min(likely, ...moves.map((move) => move.low_l));
  const high = Math.max(likely, ...moves.map((move) => move.high_l));
  const x = (value: number) => 4 + (312 * (value - low)) / (high - low || 1);
  return (
    <>
      <p>{t("moves_say", { volume: showVolume(likely) })}</p>
      <ul class="moves">
        {moves.map((move) => (
          <li key={move.what}>
            <p>{moveWords(move)} <strong>{t("range_words", rangeEnds(showVolume(move.low_l), showVolume(move.high_l)))}</strong> <small>{t("moves_weight", rangeEnds(showMass(move.low_kg), showMass(move.high_kg)))}</small></p>
            <svg viewBox="0 0 320 18" class="move-bar" aria-hidden="true" preserveAspectRatio="none">
              <path d="M4 9H316" stroke="var(--line)" stroke-width="2" />
              <rect x={x(move.low_l)} y="3" width={Math.max(1, x(likely) - x(move.low_l))} height="12" fill="#fffdf8" stroke="var(--indigo)" stroke-width="1.6" />
              <rect x={x(likely)} y="3" width={Math.max(1, x(move.high_l) - x(likely))} height="12" fill="var(--indigo)" />
              <path d={`M${x(likely)} 0V18`} stroke="var(--ink)" stroke-width="3" />
            </svg>
          </li>
        ))}
      </ul>
    </>
  );
}
