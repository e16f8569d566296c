/** Words as they are compared: without accents and capitals, and dates however they are typed. */

/** Lower case, without accents: "Enlucído" and "enlucido" are one word. */
export function fold(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}

/** The words of a text, folded; a number counts as a word. */
export function wordsOf(text: string): string[] {
  return fold(text).match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** A word without the ending of its plural, in either language; the word itself where there is none. */
export function singular(word: string): string {
  if (word.length > 4 && /[^aeiou]es$/.test(word)) return word.slice(0, -2);
  return word.length > 3 && /[^s]s$/.test(word) ? word.slice(0, -1) : word;
}

const TWO = (n: number) => String(n).padStart(2, "0");
const YEAR_FIRST = /^(\d{4})[-/.](\d{1,2})(?:[-/.](\d{1,2}))?$/;
const DAY_FIRST = /^(\d{1,2})[/.-](\d{1,2})(?:[/.-](\d{4}|\d{2}))?\.?$/;

/**
 * What a typed date is compared with: "2026-11" stays a beginning of a day, "14/11" becomes "--11-14", a day of any year.
 * `monthFirst`: whether 11/14 is how this person writes a day; where only one order makes a day, that one counts. Null: no date.
 */
export function dateTyped(text: string, monthFirst: boolean): string | null {
  const whole = YEAR_FIRST.exec(text);
  if (whole) return [whole[1], TWO(Number(whole[2])), ...(whole[3] ? [TWO(Number(whole[3]))] : [])].join("-");
  const short = DAY_FIRST.exec(text);
  if (!short) return null;
  const [one, two] = [Number(short[1]), Number(short[2])];
  const [day, month] = (monthFirst ? two <= 31 && one <= 12 : two > 12 && one <= 12) ? [two, one] : [one, two];
  if (month < 1 || month > 12 || day < 1 || day > 31) return null;
  const year = short[3] === undefined ? "-" : short[3].length === 2 ? `20${short[3]}` : short[3];
  return `${year}-${TWO(month)}-${TWO(day)}`;
}

const MONTHS = (["en", "es"] as const).map((language) => {
  const name = new Intl.DateTimeFormat(language, { month: "long", timeZone: "UTC" });
  return Array.from({ length: 12 }, (_, month) => fold(name.format(new Date(Date.UTC(2026, month, 15)))));
});

/** What a day is found by: itself, its day and month in any year, and the name of its month in both languages. `day`: as the wall's clock shows it, "2026-11-14". */
export function dayWords(day: string): string[] {
  const month = Number(day.slice(5, 7)) - 1;
  return [day, `-${day.slice(4)}`, ...MONTHS.map((names) => names[month] ?? "").filter(Boolean)];
}
