import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { APPEND_ONLY, FIELDS, NUMBERED, ROW_TYPES, SERVERS } from "./fields";

type Shared = { types: Record<string, { append_only?: boolean; fields: Record<string, unknown> }> };
const shared = JSON.parse(readFileSync(new URL("../../../shared/records.json", import.meta.url), "utf8")) as Shared;

test("the row types and their fields are those of the shared file", () => {
  const theirs = Object.fromEntries(Object.entries(shared.types).map(([type, rule]) => [type, Object.keys(rule.fields).sort()]));
  expect(Object.fromEntries(ROW_TYPES.map((type) => [type, [...FIELDS[type]].sort()]))).toEqual(theirs);
});

test("append-only and numbered types are those of the shared file", () => {
  const only = Object.entries(shared.types).filter(([, rule]) => rule.append_only).map(([type]) => type);
  expect([...APPEND_ONLY].sort()).toEqual(only.sort());
  const numbered = Object.entries(shared.types).filter(([, rule]) => "number" in rule.fields).map(([type]) => type);
  expect([...NUMBERED].sort()).toEqual(numbered.sort());
});

test("the server's own fields are those of the shared file; clashes are the server's altogether", () => {
  const own = Object.entries(shared.types).filter(([type]) => type !== "clash").flatMap(([, rule]) =>
    Object.entries(rule.fields).filter(([, field]) => (field as { server?: boolean }).server).map(([name]) => name));
  expect([...SERVERS].sort()).toEqual([...new Set(own)].sort());
});
