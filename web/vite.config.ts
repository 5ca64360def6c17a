/** The bundle: static files with hashed names, nothing inline (the page's content policy refuses inline scripts). */
import { defineConfig } from "vitest/config";

const board = process.env.BOARD ?? "http://127.0.0.1:8765";

export default defineConfig({
  base: "/",
  // The components are compiled by the bundler itself; no plugin is needed for this.
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: "../src/gantrywright/board/static",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 900,
  },
  server: { host: "127.0.0.1", proxy: { "/api": board, "/sheet": board } },
  test: { environment: "happy-dom", include: ["test/**/*.test.{ts,tsx}"], restoreMocks: true },
});
