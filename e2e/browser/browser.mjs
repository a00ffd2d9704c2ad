// What every test needs: a browser, a page that keeps what went wrong, and the program's address.
// QUILLWORT_URL names the running program; QUILLWORT_SHOTS a folder for pictures;
// QUILLWORT_CHROMIUM the browser, when it is not /usr/bin/chromium. Tests that write get a book of
// their own: QUILLWORT names the program, QUILLWORT_DEMO the book they copy.
import { execFileSync, spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { createInterface } from "node:readline";
import { chromium } from "playwright-core";

const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const shots = process.env.QUILLWORT_SHOTS;

export const BASE = (() => {
  const url = process.env.QUILLWORT_URL;
  if (!url) {
    throw new Error(
      "QUILLWORT_URL is not set; start `quillwort serve BOOK` and set it to the address it prints",
    );
  }
  return url.replace(/\/$/, "");
})();

export const DESK = { width: 1366, height: 768 };
export const PHONE = { width: 390, height: 844 };
export const THEMES = ["light", "contrast"];

export const launch = () =>
  chromium.launch({
    executablePath: process.env.QUILLWORT_CHROMIUM ?? "/usr/bin/chromium",
    args: FLAGS,
  });

/** What the program answers at an address. */
export async function answer(path) {
  const response = await fetch(BASE + path);
  if (!response.ok) throw new Error(`${path} answered ${response.status}`);
  return response.json();
}

/** A copy of the demo book, served by a program of its own, for tests that write. */
export async function ownBook() {
  const { QUILLWORT: program, QUILLWORT_DEMO: demo } = process.env;
  if (!program || !demo) {
    throw new Error("tests that write need QUILLWORT (the program) and QUILLWORT_DEMO (a lake book)");
  }
  return served((book) => copyFileSync(demo, book));
}

/** A book with a name and whatever else `fill` adds to it by command, served by a program of its own. */
export function bareBook(fill = () => {}) {
  const { QUILLWORT: program, QUILLWORT_DEMO: demo } = process.env;
  if (!program || !demo) {
    throw new Error("a book of its own needs QUILLWORT (the program) and QUILLWORT_DEMO (a lake book)");
  }
  const files = join(dirname(demo), "files");
  return served((book) => {
    const run = (...words) => execFileSync(program, words, { stdio: "ignore" });
    run("new", book, "--name", "Bare Lake");
    fill((...words) => run("add", book, ...words), files);
  });
}

async function served(make) {
  const { QUILLWORT: program } = process.env;
  const folder = mkdtempSync(join(tmpdir(), "quillwort-"));
  const book = join(folder, "lake.gpkg");
  make(book);
  const server = spawn(program, ["serve", book, "--listen", "127.0.0.1:0"], {
    stdio: ["ignore", "pipe", "ignore"],
    env: { ...process.env, XDG_CONFIG_HOME: folder },
  });
  const base = await new Promise((resolve, reject) => {
    server.on("exit", (code) => reject(new Error(`the program ended with ${code}`)));
    createInterface({ input: server.stdout }).on("line", (line) => {
      const address = /http:\/\/\S+/.exec(line)?.[0];
      if (address) resolve(address.replace(/\/$/, ""));
    });
  });
  const close = () => {
    server.removeAllListeners("exit");
    server.kill();
    rmSync(folder, { recursive: true, force: true });
  };
  return { base, book, program, close };
}

/** Addresses of all screens, with names for their pictures. */
export async function screens() {
  const { surveys } = await answer("/api/book");
  const list = [
    ["lake", "/lake"],
    ["plan-number", "/plan"],
    ["plan-sites", "/plan?step=sites"],
    ["plan-day", "/plan?step=day"],
  ];
  for (const survey of surveys) {
    const name = survey.name.toLowerCase().replace(/[^a-z0-9]+/g, "-");
    list.push([`findings-${name}`, `/findings?${new URLSearchParams({ survey: survey.name })}`]);
  }
  if (surveys.length > 1) {
    const pair = { from: surveys[1].name, to: surveys[0].name };
    list.push(["compare", `/compare?${new URLSearchParams(pair)}`]);
    list.push(["trend", "/trend"], ["spread", `/spread?${new URLSearchParams(pair)}`]);
  }
  for (const survey of surveys.slice(0, 1)) {
    for (const view of ["", "file", "plants", "close", "history"]) {
      const words = new URLSearchParams({ survey: survey.name, ...(view && { view }) });
      list.push([`record${view && `-${view}`}`, `/record?${words}`]);
    }
  }
  list.push(["efficacy", "/efficacy"], ["methods", "/methods"]);
  list.push(["library", "/library"]);
  return list;
}

/** A page at an address; `troubles` collects console errors, failed and foreign requests. */
export async function open(browser, path, { size = DESK, theme = "light", base = BASE, motion = "reduce" } = {}) {
  const context = await browser.newContext({ viewport: size, reducedMotion: motion });
  await context.addInitScript((name) => localStorage.setItem("quillwort.theme", name), theme);
  const page = await context.newPage();
  const troubles = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) troubles.push(message.text());
  });
  page.on("pageerror", (error) => troubles.push(error.message));
  page.on("request", (request) => {
    if (!request.url().startsWith(base) && !request.url().startsWith("data:")) {
      troubles.push(`asked ${request.url()}`);
    }
  });
  page.on("response", (response) => {
    if (response.status() >= 400) troubles.push(`${response.status()} ${response.url()}`);
  });
  await page.goto(base + path);
  await page.waitForSelector("h1");
  await page.waitForSelector("[aria-busy]", { state: "detached" });
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(300);
  return { page, troubles, close: () => context.close() };
}

/** Keeps a picture, when a folder is named. */
export async function picture(page, name) {
  if (!shots) return;
  mkdirSync(shots, { recursive: true });
  await page.screenshot({ path: join(shots, `${name}.png`) });
}

/** What axe finds against WCAG 2.2 A and AA, a line each. */
export async function violations(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() =>
    window.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }),
  );
  return found.violations.flatMap((violation) =>
    violation.nodes.map(
      (node) => `${violation.id}: ${node.target.join(" ")}: ${node.failureSummary}`,
    ),
  );
}

/** How far the page is wider than the window, and what sticks out. */
export const overflow = (page) =>
  page.evaluate(() => {
    const wide = document.documentElement.scrollWidth - innerWidth;
    if (wide <= 0) return "";
    const out = [...document.querySelectorAll("body *")].filter(
      (element) => element.getBoundingClientRect().right > innerWidth + 0.5,
    );
    return `${wide} px: ${out.slice(0, 5).map((e) => `${e.tagName}.${e.getAttribute("class") ?? ""}`)}`;
  });

/** Where the accent colour stands on the map: how many pixels, and their middle. */
export const accent = (page) =>
  page.evaluate(() => {
    let n = 0;
    let sx = 0;
    let sy = 0;
    for (const canvas of document.querySelectorAll("[role=application] canvas")) {
      const { width, height } = canvas;
      const data = canvas.getContext("2d").getImageData(0, 0, width, height).data;
      for (let i = 0; i < data.length; i += 4) {
        const [r, g, b] = [data[i] - 0x9c, data[i + 1] - 0x14, data[i + 2] - 0x58];
        if (Math.abs(r) + Math.abs(g) + Math.abs(b) < 12) {
          n++;
          sx += (i / 4) % width;
          sy += Math.floor(i / 4 / width);
        }
      }
    }
    return { n, x: n ? sx / n : 0, y: n ? sy / n : 0 };
  });
