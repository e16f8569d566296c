/**
 * Finding rows by words: every word typed must be one of a row's, or the beginning of one, in any order. Rows that hold
 * all of them as whole words come first, then the newest. One pass over one line of text for each row.
 */
import { dateTyped, dayWords, fold, singular, wordsOf } from "./fold";

/** A row as it can be found. `name` is what it is called; `also` further texts, each shown where a word was found only there; `hidden` words that are never shown. */
export type Entry<G extends string = string> = {
  id: string; group: G; name: string; also: readonly string[]; hidden?: readonly string[]; days?: readonly string[]; number?: number | null;
  /** The instant or day by which it counts as new; null comes last. */
  at: string | null;
};
type Line<E> = { entry: E; line: string };
export type Index<E> = { lines: readonly Line<E>[] };
/** `because`: the text that holds what the name does not; null where the name says it all. */
export type Found<E> = { entry: E; whole: boolean; because: string | null };
export type Asked = readonly string[];

/** One line for each row, a blank before and after each word. */
export function buildIndex<E extends Entry>(entries: Iterable<E>): Index<E> {
  const lines: Line<E>[] = [];
  for (const entry of entries) {
    const words = new Set([entry.name, ...entry.also, ...(entry.hidden ?? [])].flatMap(wordsOf));
    for (const day of entry.days ?? []) for (const word of dayWords(day)) words.add(word);
    if (entry.number != null) words.add(`#${entry.number}`);
    lines.push({ entry, line: ` ${[...words].join(" ")} ` });
  }
  return { lines };
}

/** What was typed as words to look for; a date, in whichever way, is one word. */
export function askedFor(typed: string, monthFirst: boolean): Asked {
  const words = fold(typed).trim().split(/\s+/).flatMap((piece) => {
    const date = dateTyped(piece, monthFirst);
    if (date !== null) return [date];
    return /^#\d+$/.test(piece) ? [piece] : wordsOf(piece);
  });
  return [...new Set(words)];
}

/** Whether a line holds a word: 2 as a whole word, 1 as the beginning of one, 0 not. "Cracks" also finds a crack. */
function holds(line: string, word: string): 0 | 1 | 2 {
  const one = singular(word);
  if (line.includes(` ${word} `) || line.includes(` ${one} `)) return 2;
  return line.includes(` ${word}`) || (one !== word && line.includes(` ${one}`)) ? 1 : 0;
}

/** All rows that hold every word asked for, the best first; none where nothing is asked. */
export function find<E extends Entry>(index: Index<E>, asked: Asked): Found<E>[] {
  if (!asked.length) return [];
  const found: Found<E>[] = [];
  for (const { entry, line } of index.lines) {
    let whole = true;
    let all = true;
    for (const word of asked) {
      const how = holds(line, word);
      if (how === 0) {
        all = false;
        break;
      }
      whole &&= how === 2;
    }
    if (all) found.push({ entry, whole, because: null });
  }
  found.sort((a, b) => Number(b.whole) - Number(a.whole) || later(a.entry.at, b.entry.at));
  return found;
}

const later = (a: string | null, b: string | null) => ((a ?? "") < (b ?? "") ? 1 : (a ?? "") > (b ?? "") ? -1 : 0);

/** The further text in which a word was found that the name has not; for the few rows that are drawn. */
export function becauseOf(entry: Entry, asked: Asked): string | null {
  const name = ` ${wordsOf(entry.name).join(" ")} `;
  const missing = asked.filter((word) => holds(name, word) === 0);
  if (!missing.length) return null;
  return entry.also.find((text) => {
    const line = ` ${wordsOf(text).join(" ")} `;
    return missing.some((word) => holds(line, word) > 0);
  }) ?? null;
}

/** A text cut into what was asked for and what was not, for the eye. */
export function marked(text: string, asked: Asked): { text: string; hit: boolean }[] {
  const pieces: { text: string; hit: boolean }[] = [];
  let rest = 0;
  for (const word of text.matchAll(/[\p{L}\p{N}\p{M}]+/gu)) {
    const folded = fold(word[0]);
    const hit = asked.flatMap((one) => [one, singular(one)]).filter((one) => folded.startsWith(one)).sort((a, b) => b.length - a.length)[0];
    if (!hit) continue;
    const length = letters(word[0], hit.length);
    if (word.index > rest) pieces.push({ text: text.slice(rest, word.index), hit: false });
    pieces.push({ text: text.slice(word.index, word.index + length), hit: true });
    rest = word.index + length;
  }
  if (rest < text.length) pieces.push({ text: text.slice(rest), hit: false });
  return pieces;
}

/** How many characters of a word its first `n` folded letters take. */
function letters(word: string, n: number): number {
  let length = 0;
  for (const letter of word) {
    if (n <= 0 && fold(letter) !== "") break;
    n -= fold(letter).length;
    length += letter.length;
  }
  return length;
}

/** Words of this site's own to try: the longest word of the newest in each group. */
export function examples(entries: readonly Entry[], most: number): string[] {
  const chosen: string[] = [];
  const groups = new Map<string, Entry>();
  for (const entry of entries) {
    const held = groups.get(entry.group);
    if (!held || later(held.at, entry.at) > 0) groups.set(entry.group, entry);
  }
  for (const entry of groups.values()) {
    const word = (entry.name.match(/[\p{L}\p{M}]{4,}/gu) ?? []).reduce<string>((longest, one) => (one.length > longest.length ? one : longest), "");
    if (word && !chosen.some((one) => fold(one) === fold(word))) chosen.push(word);
  }
  return chosen.slice(0, most);
}
