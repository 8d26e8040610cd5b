// Opens every page of a folder in a browser, from disk, and checks it from outside:
// - axe-core (npm `@axe-core/playwright`) finds nothing against WCAG 2.2 A and AA on three pages of each kind,
//   light and dark, at three widths;
// - nothing is wider than a window of 320 px (WCAG 2.2, 1.4.10), nor than those where the layout changes;
// - with scripts off every link of the page leads to a file and an id that exist;
// - no request leaves the disk, and no script fails;
// - Tab reaches every link, button and field in the order of the text, and each shows where the focus is;
// - the words that a browser shows for a value are those it keeps as text.
//
// Usage: NODE_PATH=... node pages.cjs FOLDER [BROWSER]
// Needs npm `playwright-core` and `@axe-core/playwright`, and a Chromium.
"use strict";

const fs = require("fs");
const path = require("path");
const { pathToFileURL, fileURLToPath } = require("url");
const { chromium } = require("playwright-core");
const { AxeBuilder } = require("@axe-core/playwright");

const folder = path.resolve(process.argv[2]);
const executablePath = process.argv[3] || "/usr/bin/chromium-headless-shell";
const faults = [];
const widest = { wide: { width: 1280, height: 900 }, middle: { width: 660, height: 900 }, narrow: { width: 320, height: 640 } };
const flags = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync"];

function fault(page, words) {
  faults.push(`${page}: ${words}`);
}

async function open(context, name) {
  const page = await context.newPage();
  page.on("console", (message) => message.type() === "error" && fault(name, `console: ${message.text()}`));
  page.on("pageerror", (error) => fault(name, `script: ${error.message}`));
  page.on("requestfailed", (request) => fault(name, `not loaded: ${request.url()}`));
  page.on("request", (request) => {
    if (!request.url().startsWith("file:") && !request.url().startsWith("data:")) {
      fault(name, `asks the network for ${request.url()}`);
    }
  });
  await page.goto(pathToFileURL(path.join(folder, name)).href);
  return page;
}

async function accessible(browser, name) {
  for (const colorScheme of ["light", "dark"]) {
    for (const [width, viewport] of Object.entries(widest)) {
      const context = await browser.newContext({ viewport, colorScheme });
      const page = await open(context, name);
      const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
      // Without this axe-core asks for the style sheet by a way that pages from disk are refused.
      const found = await new AxeBuilder({ page }).withTags(tags).options({ preload: false }).analyze();
      for (const violation of found.violations) {
        const where = violation.nodes.map((node) => node.html.slice(0, 90)).join(" | ");
        fault(name, `axe ${violation.id} (${colorScheme}, ${width}): ${violation.help}: ${where}`);
      }
      const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      if (over > 0) {
        fault(name, `${over} px wider than the ${width} window`);
      }
      await context.close();
    }
  }
}

async function reachable(browser, name) {
  const context = await browser.newContext({ javaScriptEnabled: true, viewport: widest.wide });
  const page = await open(context, name);
  // What can be reached, in the order of the text, and is shown.
  const stops = "a[href], button, input, textarea, summary, [tabindex='0']";
  // What folds is looked at open.
  await page.evaluate(() => document.querySelectorAll("details").forEach((e) => { e.open = true; }));
  const expected = await page.evaluate((selector) => {
    const all = [...document.querySelectorAll(selector)].filter((e) => e.getClientRects().length > 0);
    window.reached = [];
    document.addEventListener("focusin", ({ target }) => {
      const style = getComputedStyle(target);
      window.reached.push({ number: all.indexOf(target), seen: style.outlineStyle !== "none" && style.outlineWidth !== "0px" });
    });
    return all.length;
  }, stops);
  // Once more than there are stops: there may be no further one.
  for (let turn = 0; turn <= expected; turn += 1) await page.keyboard.press("Tab");
  const stopped = await page.evaluate(() => window.reached);
  stopped.filter((stop) => !stop.seen).forEach((stop) => fault(name, `the focus is not seen on stop ${stop.number}`));
  const reached = stopped.map((stop) => stop.number);
  const inOrder = reached.every((number, position) => number === position);
  if (!inOrder || reached.length !== expected) {
    fault(name, `Tab reached stops ${reached.join(" ")} of ${expected}`);
  }
  const broken = await page.evaluate(() =>
    [...document.querySelectorAll(".value")].filter((v) => v.innerText.trim() !== v.textContent.trim()).map((v) => v.textContent));
  broken.forEach((words) => fault(name, `shown otherwise than kept: ${words}`));
  const empty = await page.evaluate(() => [...document.images].filter((i) => !i.naturalWidth).map((i) => i.src));
  empty.forEach((source) => fault(name, `the picture is not shown: ${source}`));
  for (const width of [320, 660, 725, 960]) {
    await page.setViewportSize({ width, height: 900 });
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (over > 0) fault(name, `${over} px wider than a window of ${width}`);
  }
  await context.close();
}

// Each page with scripts off: its ids, and where its links lead.
async function read(browser, names) {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const found = new Map();
  for (const name of names) {
    const page = await open(context, name);
    found.set(name, {
      ids: new Set(await page.$$eval("[id]", (all) => all.map((e) => e.id))),
      links: await page.$$eval("a[href]", (all) => all.map((a) => a.href)),
    });
    await page.close();
  }
  await context.close();
  return found;
}

function linked(name, pages) {
  for (const link of pages.get(name).links.filter((l) => l.startsWith("file:"))) {
    const url = new URL(link);
    const id = decodeURIComponent(url.hash.slice(1));
    url.hash = "";
    const target = path.relative(folder, fileURLToPath(url));
    if (target.startsWith("..")) fault(name, `leads out of the folder: ${link}`);
    else if (!fs.existsSync(path.join(folder, target))) fault(name, `leads nowhere: ${target}`);
    else if (id && !pages.get(target).ids.has(id)) fault(name, `leads to no place: ${target}#${id}`);
  }
}

(async () => {
  const names = fs.readdirSync(folder).filter((name) => name.endsWith(".html")).sort();
  if (names.length === 0) throw new Error(`no page in ${folder}`);
  const browser = await chromium.launch({ executablePath, headless: true, args: flags });
  const pages = await read(browser, names);
  const seen = {};
  for (const name of names) {
    const kind = /<body class="([^"]*)"/.exec(fs.readFileSync(path.join(folder, name), "utf8"))[1];
    seen[kind] = (seen[kind] || 0) + 1;
    if (seen[kind] <= 3) await accessible(browser, name);
    await reachable(browser, name);
    linked(name, pages);
  }
  await browser.close();
  faults.forEach((line) => console.log(line));
  console.log(`${names.length} pages, ${faults.length} faults`);
  process.exit(faults.length === 0 ? 0 : 1);
})();
