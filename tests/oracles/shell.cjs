// Opens every view of the manual's shell and of the stick's own pages in Chromium and checks from outside:
// - axe-core (npm `@axe-core/playwright`) finds nothing against WCAG 2.2 A and AA, in each look, at three widths;
// - nothing is wider than its window, down to 320 px (WCAG 2.2, 1.4.10), in large text too, and at 320 x 256 with four
//   times the pixels: a window of 1280 x 1024 at 400 %;
// - with scripts off every page is reached from the start page by links alone, has its heading and its words, and every
//   link leads to a file and a place that exist;
// - every page of the manual opens in the frame, says so, and shows its lengths in millimetres when asked;
// - no request leaves the disk, no script fails; a picture, the style sheet or the data that is missing is said.
//
// Usage: NODE_PATH=... node shell.cjs FOLDER SCRATCH BROWSER
// FOLDER holds START-HERE.html. SCRATCH takes a copy that is then damaged.
"use strict";

const fs = require("fs");
const path = require("path");
const { pathToFileURL } = require("url");
const { chromium } = require("playwright-core");
const { AxeBuilder } = require("@axe-core/playwright");

const [folder, scratch, executablePath] = [path.resolve(process.argv[2]), path.resolve(process.argv[3]), process.argv[4]];
const faults = [];
const fault = (where, words) => faults.push(`${where}: ${words}`);
const address = (root, file, place) => pathToFileURL(path.join(root, file)).href + (place ? `#${place}` : "");
// What a page says of the files that it misses; nothing where it says nothing for a while.
const missing = async (page) => page.waitForSelector(".missing", { timeout: 10000 }).then((said) => said.textContent(), () => "");

async function opened(context, where) {
  const page = await context.newPage();
  page.on("console", (m) => m.type() === "error" && fault(where(), `console: ${m.text()}`));
  page.on("pageerror", (e) => fault(where(), `script: ${e.message}`));
  page.on("request", (r) => /^(file|data|blob):/.test(r.url()) || fault(where(), `asks the network for ${r.url()}`));
  return page;
}

async function look(page, where) {
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const found = await new AxeBuilder({ page }).withTags(tags).options({ preload: false }).analyze();
  for (const violation of found.violations) {
    const nodes = violation.nodes.map((node) => `${node.target.join(" ")} ${node.html.slice(0, 100)}`).slice(0, 3).join(" | ");
    fault(where, `axe ${violation.id}: ${violation.help}: ${nodes}`);
  }
  for (const frame of page.frames()) {
    const over = await frame.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (over > 0) fault(where, `${over} px wider than its window`);
  }
}

(async () => {
  const window = {};
  // eslint-disable-next-line no-new-func
  new Function("window", fs.readFileSync(path.join(folder, "manual/data.js"), "utf8"))(window);
  const data = window.kitwright;
  const step = data.pages.find((p) => p.s && p.m);
  const thing = data.things.findIndex((t) => t.p.length > 0);
  const views = ["", step.f, "receiving.html", "_record", "_today", "_bag-0", `_thing-${thing}`, `_slip-${step.s}`, "_slip", "_display"];
  const browser = await chromium.launch({ executablePath, headless: true, args: ["--no-sandbox", "--disable-gpu", "--disable-quic",
    "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"] });
  let at = "";

  const small = [320, 640, 1];
  const zoomed = [320, 256, 4];
  for (const [[width, height, deviceScaleFactor], displays] of [[[1280, 900, 1], ["  light", "  dark"]], [[768, 1024, 1], ["  contrast"]], [small, ["  dark", " larger light"]], [zoomed, ["  light"]]]) {
    for (const display of displays) {
      const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor, reducedMotion: "reduce" });
      const page = await opened(context, () => at);
      at = "START-HERE.html";
      await page.goto(address(folder, at));
      await look(page, at);
      at = "check-this-copy.html";
      await page.goto(address(folder, at));
      await look(page, at);
      await page.goto(address(folder, "manual/index.html"));
      const key = `kitwright/${data.manual}/${data.configuration}/display`;
      await page.evaluate(([name, value]) => localStorage.setItem(name, value), [key, display]);
      for (const view of views) {
        at = `${view || "first page"} (${width} px,${display})`;
        await page.goto("about:blank");
        await page.goto(address(folder, "manual/index.html", view));
        if (/html$/.test(view)) await (await (await page.waitForSelector("iframe.frame")).contentFrame()).waitForSelector("#_done, .page:not(.page-step) .tick-target");
        if (view === "_today") await page.click("summary");
        await look(page, at);
      }
      at = `search and menu (${width} px,${display})`;
      await page.fill("input[type=search]", step.t);
      await page.waitForSelector(".found-line mark");
      await look(page, at);
      at = `gone on with (${width} px,${display})`;
      await page.keyboard.press("Escape");
      await page.goto(address(folder, "manual/index.html", step.f));
      const frame = await (await page.waitForSelector("iframe.frame")).contentFrame();
      await frame.click(".action-tick input");
      await page.waitForFunction(() => /ticked/.test(document.querySelector(".said").textContent));
      await look(page, at);
      await page.goto("about:blank");
      await page.goto(address(folder, "manual/index.html"));
      await page.waitForSelector(".go-on");
      await look(page, at);
      at = `menu (${width} px,${display})`;
      await page.keyboard.press("Escape");
      await page.click(".opens");
      await look(page, at);
      await context.close();
    }
  }

  const context = await browser.newContext({ viewport: { width: 1000, height: 800 } });
  const page = await opened(context, () => at);
  await page.goto(address(folder, "manual/index.html"));
  await page.evaluate((name) => localStorage.setItem(name, "mm  "), `kitwright/${data.manual}/${data.configuration}/display`);
  await page.reload();
  for (const target of data.pages.slice(1)) {
    at = target.f;
    await page.evaluate((hash) => { window.location.hash = hash; }, target.f);
    const frame = await (await page.waitForSelector("iframe.frame")).contentFrame();
    try {
      await page.waitForFunction((title) => document.title.indexOf(title) >= 0, target.t, { timeout: 30000 });
      await frame.waitForFunction((file) => document.body && document.body.getAttribute("data-page") === file
        && Array.prototype.every.call(document.querySelectorAll(".value[data-inches]"), (v) => / mm$/.test(v.textContent)), target.f, { timeout: 30000 });
    } catch (error) {
      fault(at, `does not open in the shell, or not in millimetres: ${error.message.split("\n")[0]}`);
    }
  }
  await context.close();

  // With scripts off, from the start page on.
  const without = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 1000, height: 800 } });
  const found = new Map([["START-HERE.html", null]]);
  const wanted = [];
  for (const file of found.keys()) {
    at = `${file} without scripts`;
    const plain = await opened(without, () => at);
    await plain.goto(address(folder, file));
    const words = (await plain.innerText("body")).length;
    const headings = await plain.$$eval("h1", (all) => all.length);
    if (words < 120 || headings !== 1) fault(at, `${words} signs and ${headings} headings`);
    if (await plain.$(".bar-shell, .tick-target")) fault(at, "shows what only a script can use");
    found.set(file, new Set(await plain.$$eval("[id]", (all) => all.map((e) => e.id))));
    for (const link of await plain.$$eval("a[href]", (all) => all.map((a) => a.href))) {
      const url = new URL(link);
      const target = path.relative(folder, decodeURIComponent(url.pathname));
      if (url.protocol !== "file:" || target.startsWith("..")) { fault(at, `leads out of the stick: ${link}`); continue; }
      if (!fs.existsSync(path.join(folder, target))) fault(at, `leads nowhere: ${target}`);
      else if (/\.html$/.test(target)) {
        if (!found.has(target)) found.set(target, null);
        if (url.hash) wanted.push([at, target, decodeURIComponent(url.hash.slice(1))]);
      }
    }
    await plain.close();
  }
  wanted.forEach(([from, target, id]) => found.get(target).has(id) || fault(from, `leads to no place: ${target}#${id}`));
  fs.readdirSync(path.join(folder, "manual")).filter((f) => f.endsWith(".html") && !found.has(`manual/${f}`)).forEach((f) => fault(f, "no link leads there"));
  await without.close();

  // A copy that lost files says so itself.
  const copy = path.join(scratch, "damaged");
  fs.cpSync(folder, copy, { recursive: true });
  const picture = fs.readdirSync(path.join(copy, "manual/figures"))[0];
  const shows = fs.readdirSync(path.join(copy, "manual")).find((f) => f.startsWith("step-") && fs.readFileSync(path.join(copy, "manual", f), "utf8").includes(`figures/${picture}`));
  fs.rmSync(path.join(copy, "manual/figures", picture));
  fs.rmSync(path.join(copy, "manual/data.js"));
  const quiet = await browser.newContext();
  for (const [file, words] of [[`manual/${shows}`, picture], ["manual/index.html", "data.js"]]) {
    const damaged = await quiet.newPage();
    await damaged.goto(address(copy, file));
    const said = await missing(damaged);
    if (!said.includes(words)) fault(file, `does not say that ${words} is missing: ${said}`);
  }
  fs.rmSync(path.join(copy, "manual/lines.js"));
  fs.copyFileSync(path.join(folder, "manual/data.js"), path.join(copy, "manual/data.js"));
  const lineless = await quiet.newPage();
  await lineless.goto(address(copy, "manual/index.html"));
  await lineless.fill("input[type=search]", step.t);
  if (!(await lineless.waitForFunction(() => /lines.js is missing/.test(document.querySelector(".found-said").textContent), null, { timeout: 10000 }).then(() => true, () => false))) fault("search", "does not say that lines.js is missing");
  fs.rmSync(path.join(copy, "manual/style.css"));
  const plain = await quiet.newPage();
  await plain.goto(address(copy, `manual/${shows}`));
  if (!(await missing(plain)).includes("style.css")) fault(shows, "does not say that style.css is missing");
  await browser.close();
  faults.forEach((line) => console.log(line));
  console.log(`${views.length + 4} views, ${data.pages.length} pages, ${found.size} without scripts, ${faults.length} faults`);
  process.exit(faults.length === 0 ? 0 : 1);
})();
