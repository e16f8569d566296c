import { defineConfig } from "vitest/config";
import { precache } from "./build/precache.ts";

export default defineConfig({
  plugins: [precache()],
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: { target: "es2022", sourcemap: false, assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  test: { environment: "node", include: ["src/**/*.test.ts", "build/**/*.test.ts"] },
});
