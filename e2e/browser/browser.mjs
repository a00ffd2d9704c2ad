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

/** A folder without any book, served by a program of its own. */
export function emptyFolder() {
  if (!process.env.QUILLWORT) throw new Error("a folder of its own needs QUILLWORT (the program)");
  return served(() => {}, ({ folder }) => folder);
}

async function served(make, what = ({ book }) => book) {
  const { QUILLWORT: program } = process.env;
  const folder = mkdtempSync(join(tmpdir(), "quillwort-"));
  const book = join(folder, "lake.gpkg");
  make(book);
  const server = spawn(program, ["serve", what({ book, folder }), "--listen", "127.0.0.1:0"], {
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
  return { base, book, folder, program, close };
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
  page.setDefaultTimeout(LONGEST);
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
  const under = new Set();
  page.on("request", (request) => under.add(request));
  for (const end of ["requestfinished", "requestfailed"]) page.on(end, (request) => under.delete(request));
  asking.set(page, under);
  await page.goto(base + path);
  await page.waitForSelector("h1");
  await settled(page);
  await page.evaluate(() => document.fonts.ready);
  return { page, troubles, close: () => context.close() };
}

/** What each page has asked for and not got yet. */
const asking = new WeakMap();
/** A page that changes nothing for so long, in milliseconds, and waits for nothing, is done. */
const QUIET = 60;
/** How long anything may be waited for: a machine that does other work beside is slow, not wrong. */
const LONGEST = 90_000;

/** Waits until everything asked for is there, nothing on the page changes any more, and it is drawn. */
export async function settled(page) {
  const under = asking.get(page);
  const end = Date.now() + LONGEST;
  do {
    await page.waitForSelector("[aria-busy]", { state: "detached" });
    await page.evaluate(
      (quiet) =>
        new Promise((done) => {
          const drawn = () => requestAnimationFrame(() => requestAnimationFrame(done));
          let timer;
          const watcher = new MutationObserver(() => begin());
          const begin = () => {
            clearTimeout(timer);
            timer = setTimeout(() => {
              watcher.disconnect();
              drawn();
            }, quiet);
          };
          watcher.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
          begin();
        }),
      QUIET,
    );
    if (Date.now() > end) throw new Error(`still asking: ${[...under].map((request) => request.url())}`);
  } while (under.size > 0 || (await page.locator("[aria-busy]").count()) > 0);
}

/** Waits until the address has a word with this value, and the page has followed. */
export async function addressed(page, word, value) {
  await page.waitForFunction(
    ([name, wanted]) => new URL(location.href).searchParams.get(name) === wanted,
    [word, value],
  );
  await settled(page);
}

/** Keeps a picture, when a folder is named. */
export async function picture(page, name) {
  if (!shots) return;
  mkdirSync(shots, { recursive: true });
  await page.screenshot({ path: join(shots, `${name}.png`) });
}

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
/** Those that ask for colours, by axe-core's doc/rule-descriptions.md. */
const COLOUR_RULES = ["color-contrast", "link-in-text-block"];

/** What axe finds against WCAG 2.2 A and AA, a line each. */
export async function violations(page, runOnly = RULES) {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(axe);
  const found = await page.evaluate((rules) => window.axe.run(document, { runOnly: rules }), runOnly);
  return found.violations.flatMap((violation) =>
    violation.nodes.map(
      (node) => `${violation.id}: ${node.target.join(" ")}: ${node.failureSummary}`,
    ),
  );
}

/** Every element with its box and what is said of it, colours left aside. */
const shape = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll("body, body *")]
      .map((element) => {
        const { x, y, width, height } = element.getBoundingClientRect();
        const words = [...element.attributes].map((one) => `${one.name}=${one.value}`);
        return `${element.localName} ${words} ${[x, y, width, height].map(Math.round)}`;
      })
      .join("\n"),
  );

/**
 * What axe finds in every theme, by the theme's name. The themes differ in colours: where each element has the
 * same box and the same attributes in the next theme, only what axe asks of colours is asked again there; where one
 * differs, everything. The page is left in the first theme.
 */
export async function violationsInThemes(page, look = async () => {}) {
  const found = {};
  const wear = (name) => page.evaluate((theme) => document.documentElement.setAttribute("data-theme", theme), name);
  const [first, ...others] = THEMES;
  await wear(first);
  found[first] = await violations(page);
  await look(first);
  const before = await shape(page);
  for (const theme of others) {
    await wear(theme);
    await settled(page);
    const same = (await shape(page)) === before;
    found[theme] = await violations(page, same ? COLOUR_RULES : RULES);
    await look(theme);
  }
  await wear(first);
  return found;
}
/** Nothing found in any theme. */
export const CLEAN = Object.fromEntries(THEMES.map((theme) => [theme, []]));

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
