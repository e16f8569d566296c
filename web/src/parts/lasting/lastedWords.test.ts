/** How a group that held or let go is said: no number where a word is meant, and nothing twice. */
import { beforeAll, expect, test } from "vitest";
import type { Group } from "../../model/lasting/group";
import { settings } from "../../store";
import { loadWords, withWords } from "../../words";
import { groupWords } from "./lastedWords";

const seen = (held: number, gone: [number, number][], through = 90): Group => ({
  followed: held + gone.length, held, worn: 0, let_go: gone.length, held_through: held ? through : null, most: through,
  gone_between: gone.map(([left, right]) => ({ left, right })), not_looked: 0, not_known: 0, too_few: true,
});

beforeAll(async () => {
  await withWords(Promise.resolve());
});

test.each([
  [seen(1, []), ["It held so far, through 90 days or more."]],
  [seen(2, []), ["Both held so far, each through 90 days or more."]],
  [seen(3, []), ["All 3 held so far, each through 90 days or more."]],
  [seen(0, [[3, 9]]), ["It did not hold.", "One let go between 3 days and 9 days."]],
  [seen(0, [[3, 9], [3, 9]]), ["Neither held.", "2 let go between 3 days and 9 days."]],
  [seen(0, [[3, 9], [3, 9], [0, 5]]), ["None of the 3 held.", "2 let go between 3 days and 9 days.", "One had let go by 5 days."]],
  [seen(1, [[3, 9]]), ["1 of 2 held, through 90 days or more.", "One let go between 3 days and 9 days."]],
])("%#", (group, said) => expect(groupWords(group, "days")).toEqual(said));

test("Spanish verbs go with their number", async () => {
  settings.value = { ...settings.value, language: "es" };
  await loadWords("es");
  expect(groupWords(seen(1, [[3, 9]]), "days")[0]).toBe("Aguantó 1 de 2, con 90 días o más.");
  expect(groupWords(seen(2, [[3, 9]]), "days")[0]).toBe("Aguantaron 2 de 3, con 90 días o más.");
  expect(groupWords(seen(2, []), "days")[0]).toBe("Aguantan los dos hasta ahora, cada uno con 90 días o más.");
});
