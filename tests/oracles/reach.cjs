// How far the work of each step is from the top of its page, as a builder sees it in the shell, from disk, in Chromium:
// - on a phone (390 by 660 CSS pixels, the bars of the shell counted) the first action, or the safety message that guards it,
//   stands on the first screen in at least nine of ten steps; on a laptop (1280 by 800) in every step;
// - half of the steps begin their work within 1.1 screens of the phone, and within 0.9 of the laptop.
//
// Usage: NODE_PATH=... node reach.cjs FOLDER [BROWSER]
// FOLDER holds index.html. Prints the figures; ends with 1 where one of them does not hold.
"use strict";

const fs = require("fs");
const path = require("path");
const { pathToFileURL } = require("url");
const { chromium } = require("playwright-core");

const folder = path.resolve(process.argv[2]);
const executablePath = process.argv[3] || "/usr/bin/chromium-headless-shell";
const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-sync"];
// Name, width, height, least share of steps in reach, most screens to the first action in the middle of all steps.
const WINDOWS = [["phone", 390, 660, 0.9, 1.1], ["laptop", 1280, 800, 1, 0.9]];
// Of the first action one line, and of a message its word and a line, must be seen, in CSS pixels.
const ACTION = 28;
const MESSAGE = 60;

async function measure(page, name) {
  await page.evaluate((hash) => { window.location.hash = hash; }, name);
  const frame = await (await page.waitForSelector("iframe.frame")).contentFrame();
  await frame.waitForFunction((name) => window.location.href.indexOf(name) > 0 && document.readyState === "complete", name);
  // Scripts put in what can be ticked and where one turns to.
  await frame.waitForSelector("#_done", { state: "attached" });
  await frame.waitForFunction(() => {
    const before = window.lastHeight;
    window.lastHeight = document.documentElement.scrollHeight;
    return before === window.lastHeight;
  }, undefined, { polling: 150 });
  return frame.evaluate(({ ACTION, MESSAGE }) => {
    const box = (selector) => { const found = document.querySelector(selector); return found ? found.getBoundingClientRect() : null; };
    const action = box(".group-do li") || box(".group-do p");
    const message = box(".safety");
    const turn = box(".turn");
    const limit = Math.min(window.innerHeight, turn ? turn.top : window.innerHeight);
    return {
      screens: action ? action.top / window.innerHeight : Infinity,
      near: Boolean((action && action.top + ACTION <= limit) || (message && message.top + MESSAGE <= limit)),
    };
  }, { ACTION, MESSAGE });
}

async function main() {
  const names = fs.readdirSync(folder).filter((name) => /^step-.*html$/.test(name)).sort();
  const browser = await chromium.launch({ executablePath, args });
  let wrong = names.length < 5;
  for (const [window, width, height, least, most] of WINDOWS) {
    const page = await browser.newPage({ viewport: { width, height } });
    await page.goto(pathToFileURL(path.join(folder, "index.html")).href);
    const found = [];
    for (const name of names) found.push({ name, ...await measure(page, name) });
    const screens = found.map((f) => f.screens).sort((a, b) => a - b);
    const far = found.filter((f) => !f.near).map((f) => f.name);
    const middle = screens[Math.floor(screens.length / 2)];
    console.log(`${window}: first action or its message on the first screen in ${found.length - far.length} of ${found.length} steps; ` +
      `first action after ${middle.toFixed(2)} screens (middle), at most ${screens[screens.length - 1].toFixed(2)}; not: ${far.join(", ")}`);
    if (found.length - far.length < least * found.length || !(middle <= most)) wrong = true;
    await page.close();
  }
  await browser.close();
  process.exit(wrong ? 1 : 0);
}

main().catch((error) => { console.error(error); process.exit(1); });
