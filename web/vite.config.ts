import {
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig, type Plugin } from "vite";
import { methods } from "./scripts/methods.mjs";

const FONTS = "@expo-google-fonts/atkinson-hyperlegible-next";
const FACES = [
  ["400Regular", "Regular"],
  ["400Regular_Italic", "Italic"],
  ["600SemiBold", "SemiBold"],
  ["600SemiBold_Italic", "SemiBoldItalic"],
  ["700Bold", "Bold"],
  ["700Bold_Italic", "BoldItalic"],
] as const;

/** Lays the TrueType faces for print beside the screens; the program takes them from there. */
function printFonts(): Plugin {
  let dist = "";
  return {
    name: "print-fonts",
    apply: "build",
    configResolved(config) {
      dist = config.build.outDir;
    },
    closeBundle() {
      const folder = join(dist, "print-fonts");
      mkdirSync(folder, { recursive: true });
      for (const [face, name] of FACES) {
        const file = `node_modules/${FONTS}/${face}/AtkinsonHyperlegibleNext_${face}.ttf`;
        copyFileSync(fileURLToPath(new URL(file, import.meta.url)), join(folder, `${name}.ttf`));
      }
    },
  };
}

/** Packs every text file with Brotli and gzip, so that the server need not. */
function packed(): Plugin {
  let dist = "";
  return {
    name: "packed",
    apply: "build",
    configResolved(config) {
      dist = config.build.outDir;
    },
    closeBundle() {
      for (const name of readdirSync(dist, { recursive: true, encoding: "utf8" })) {
        const path = join(dist, name);
        if (!statSync(path).isFile() || !/\.(html|js|css|svg|txt|json)$/.test(name)) continue;
        const bytes = readFileSync(path);
        const quality = { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } };
        writeFileSync(`${path}.br`, brotliCompressSync(bytes, quality));
        writeFileSync(`${path}.gz`, gzipSync(bytes, { level: 9 }));
      }
    },
  };
}

export default defineConfig({
  plugins: [svelte(), methods(), printFonts(), packed()],
  build: {
    target: "es2022",
    // a font that is its own file can be kept for ever; one inlined into the style sheet cannot
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 700,
  },
  // screens under work, data from a running program
  server: { proxy: { "/api": process.env.QUILLWORT_URL ?? "http://127.0.0.1:7878" } },
  test: { include: ["tests/**/*.test.ts"] },
} as Parameters<typeof defineConfig>[0]);
