import { expect, test } from "vitest";
import { dateTyped, fold, singular } from "./fold";
import { type Entry, askedFor, becauseOf, buildIndex, examples, find, marked } from "./search";

const entry = (id: string, name: string, more: Partial<Entry> = {}): Entry => ({ id, group: "wall", name, also: [], at: "2026-11-01", ...more });
const rows: Entry[] = [
  entry("north", "Barn · North wall", { at: "2026-10-01" }),
  entry("dome", "Cúpula del Jardín", { also: ["Desconchado junto al alféizar"], at: "2026-11-03" }),
  entry("ticket", "Ticket 12", { number: 12, also: ["Limewash, four coats", "Ada"], days: ["2026-11-14"], at: "2026-11-14" }),
  entry("other", "Ticket 120", { number: 120, also: ["Grout the cracks"], days: ["2025-11-02"], at: "2025-11-02" }),
  entry("crack", "3 structural crack", { hidden: ["grieta estructural", "split"], at: "2026-11-05" }),
];
const index = buildIndex(rows);
const ids = (typed: string, monthFirst = false) => find(index, askedFor(typed, monthFirst)).map((one) => one.entry.id);

test("accents and capitals do not count, on either side", () => {
  expect(fold("Ñandú ÁÉÍÓÚ")).toBe("nandu aeiou");
  expect(ids("cupula JARDIN")).toEqual(["dome"]);
  expect(ids("cúpula")).toEqual(["dome"]);
});

test("words come in any order, each whole or as a beginning, and all must be there", () => {
  expect(ids("wall nor")).toEqual(["north"]);
  expect(ids("north wall")).toEqual(ids("wall north"));
  expect(ids("orth")).toEqual([]);
  expect(ids("north ada")).toEqual([]);
  expect(ids("  ")).toEqual([]);
});

test("whole words come before beginnings, then the newest", () => {
  expect(ids("ticket 12")).toEqual(["ticket", "other"]);
  expect(ids("ticket")).toEqual(["ticket", "other"]);
  expect(ids("12")).toEqual(["ticket", "other"]);
  expect(ids("#12")).toEqual(["ticket", "other"]);
  // The older holds it whole, the newer only as a beginning.
  const two = buildIndex([entry("new", "Limewashed gate", { at: "2026-12-01" }), entry("old", "Lime", { at: "2020-01-01" })]);
  expect(find(two, askedFor("lime", false)).map((one) => one.entry.id)).toEqual(["old", "new"]);
});

test("plurals find the one, in both languages", () => {
  expect(["cracks", "grietas", "desconchados", "moss", "splashes", "humedades"].map(singular)).toEqual(["crack", "grieta", "desconchado", "moss", "splash", "humedad"]);
  expect(ids("cracks")).toEqual(["crack", "other"]);
  expect(ids("grietas")).toEqual(["crack"]);
});

test("words of the other language and plain ones find a row although nobody shows them", () => {
  expect(ids("grieta")).toEqual(["crack"]);
  expect(ids("split")).toEqual(["crack"]);
});

test.each([
  ["2026", null, false], ["2026-11", "2026-11", false], ["2026-1", "2026-01", false], ["2026/11/4", "2026-11-04", false], ["14/11", "--11-14", false], ["14.11.", "--11-14", false],
  ["14/11/2026", "2026-11-14", false], ["14/11/26", "2026-11-14", false], ["11/14", "--11-14", false], ["11/14", "--11-14", true], ["3/4", "--04-03", false], ["3/4", "--03-04", true],
  ["14/11", "--11-14", true], ["45/11", null, false], ["0/11", null, false], ["12", null, false], ["x/11", null, false],
] as const)("the date %s is read as %s (month first: %s)", (typed, read, monthFirst) => {
  expect(dateTyped(typed, monthFirst)).toBe(read);
});

test("a row is found by its day, its month, its month's name in either language", () => {
  for (const typed of ["2026-11-14", "2026-11", "14/11", "14/11/2026", "14.11", "november 2026", "noviembre 2026", "nov 2026"]) expect([typed, ids(typed)]).toEqual([typed, ["ticket"]]);
  expect(ids("11/14", true)).toEqual(["ticket"]);
  expect(ids("2025-11")).toEqual(["other"]);
  expect(ids("2026-12")).toEqual([]);
});

test("what was asked for is cut out of a text with its accents", () => {
  const said = (text: string, typed: string) => marked(text, askedFor(typed, false)).map((one) => (one.hit ? `[${one.text}]` : one.text)).join("");
  expect(said("Cúpula del Jardín", "cup jardin")).toBe("[Cúp]ula del [Jardín]");
  expect(said("Barn · North wall", "x")).toBe("Barn · North wall");
  expect(said("a crack, cracks", "cracks")).toBe("a [crack], [cracks]");
  expect(said("Cúpula", "cupula")).toBe("[Cúpula]");
});

test("the text that holds what the name has not is told", () => {
  const dome = rows[1] as Entry;
  expect(becauseOf(dome, askedFor("alfeizar", false))).toBe("Desconchado junto al alféizar");
  expect(becauseOf(dome, askedFor("cupula", false))).toBeNull();
});

test("examples are this site's own words, one from each group, the newest's", () => {
  expect(examples([entry("a", "Old barn", { at: "2020-01-01" }), entry("b", "New Granary"), entry("c", "Gale", { group: "storm" }), entry("d", "The granary", { group: "note" })], 4)).toEqual(["Granary", "Gale"]);
});

test("the work grows with the rows and no faster: each keypress looks at each row's line once", () => {
  const many = (n: number) => buildIndex(Array.from({ length: n }, (_, i) => entry(String(i), `Wall ${i} north side`, { also: [`note number ${i} about a crack by the gutter`] })));
  const looked = (n: number) => {
    let count = 0;
    const held = many(n);
    const lines = held.lines.map(({ entry: one, line }) => ({ entry: one, get line() { count += 1; return line; } }));
    expect(find({ lines }, askedFor("nor gut", false))).toHaveLength(n);
    return count;
  };
  expect(looked(500)).toBe(500);
  expect(looked(5000)).toBe(5000);
});
