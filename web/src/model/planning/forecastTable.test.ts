import { describe, expect, test } from "vitest";
import { MOST_DAYS, readForecast } from "./forecastTable";

const day = (on: string, low_c: number | null, high_c: number | null, rain_mm: number | null) => ({ on, low_c, high_c, rain_mm });

describe("a pasted forecast", () => {
  test.each([
    ["with commas and a heading", "date,low,high,rain\n2026-05-02,4.5,14,0\n2026-05-01,-1,9,2.5\n"],
    ["with semicolons and decimal commas", "fecha;mín;máx;lluvia\r\n2026-05-02;4,5;14;0\r\n2026-05-01;-1;9;2,5"],
    ["with tabs from a spreadsheet", "2026-05-02\t4,5\t14\t0\n\n2026-05-01\t−1\t9\t2,5"],
    ["with a byte order mark", "\uFEFFdate,low,high,rain\n2026-05-02,4.5,14,0\n2026-05-01,-1,9,2.5"],
  ])("%s", (_name, text) => {
    expect(readForecast(text)).toEqual({ days: [day("2026-05-01", -1, 9, 2.5), day("2026-05-02", 4.5, 14, 0)], wrong: [] });
  });

  test("what is not known stays open", () => {
    expect(readForecast("2026-05-01,,12,-").days).toEqual([day("2026-05-01", null, 12, null)]);
  });

  test.each([
    ["2026-02-30,1,2,0", "date"], ["tomorrow 5,1,2,0", "date"], ["2026-05-01,1,2", "columns"], ["2026-05-01,1,2,0,9", "columns"],
    ["2026-05-01,cold,2,0", "number"], ["2026-05-01,1,200,0", "range"], ["2026-05-01,1,2,-1", "range"], ["2026-05-01,9,2,0", "upside_down"],
    ["2026-04-01,1,2,0", "twice"], ["=HYPERLINK(1),1,2,0", "date"],
  ])("%s is wrong: %s, and its line is named", (line, why) => {
    const read = readForecast(`date,low,high,rain\n2026-04-01,5,15,0\n\n${line}`);
    expect(read.wrong).toEqual([{ line: 4, why }]);
    expect(read.days).toEqual([day("2026-04-01", 5, 15, 0)]);
  });

  test("a heading further down is a wrong line", () => {
    expect(readForecast("2026-05-01,1,2,0\ndate,low,high,rain").wrong).toEqual([{ line: 2, why: "date" }]);
  });

  test("more days than a work day takes are named", () => {
    const lines = Array.from({ length: MOST_DAYS + 2 }, (_, n) => `${new Date(Date.UTC(2026, 0, 1 + n)).toISOString().slice(0, 10)},1,2,0`);
    expect(readForecast(lines.join("\n")).wrong.map((one) => one.why)).toEqual(["too_many", "too_many"]);
  });

  test("figures are taken as the device writes them", () => {
    const inches = { celsius: (value: number) => (value - 32) / 1.8, mm: (value: number) => value * 25.4 };
    expect(readForecast("2026-05-01,32,50,1", inches).days).toEqual([day("2026-05-01", 0, 10, 25.4)]);
  });
});
