// When a bond was glued, written at its step, is what the step that waits for it goes by, in Chromium:
// - the maker's times are added to the date and time that were typed (ECMAScript Date, UTC, in this file);
// - what is too cold, or no date, is said and never counted; the waiting step says that nothing is known yet.
//
// Usage: NODE_PATH=... node glued.cjs FOLDER GLUED WAITING DAYS BROWSER
// FOLDER holds index.html; GLUED and WAITING are the files of the two steps; DAYS the full cure at 20 °C.
"use strict";

const assert = require("assert");
const path = require("path");
const { pathToFileURL } = require("url");
const { chromium } = require("playwright-core");

const [folder, glued, waiting, days, executablePath] = process.argv.slice(2);
const home = pathToFileURL(path.join(path.resolve(folder), "index.html")).href;

(async () => {
  const browser = await chromium.launch({ executablePath, headless: true, args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"] });
  const page = await (await browser.newContext({ viewport: { width: 1000, height: 900 } })).newPage();
  page.on("pageerror", (e) => { throw e; });
  const open = async (file) => {
    await page.goto(`${home}#${file}`);
    for (let turn = 0; turn < 600; turn += 1) {
      const frame = page.frames().find((f) => f.url().includes(`/${file}`));
      if (frame && await frame.$("body.framed")) return frame;
      await page.waitForTimeout(100);
    }
    throw new Error(`${file} is not shown`);
  };
  const said = async (frame, selector, right, what) => {
    let text = "";
    for (let turn = 0; turn < 600; turn += 1) {
      text = await frame.$eval(selector, (e) => e.textContent);
      if (right.test(text)) return;
      await page.waitForTimeout(100);
    }
    throw new Error(`${what}: ${right} is not in "${text}"`);
  };
  const type = async (frame, text) => {
    await frame.fill(".glued-at input", text);
    await frame.$eval(".glued-at input", (e) => e.blur());
  };

  await said(await open(waiting), "tr[data-record=cured] .verdict", /Write down when it was glued/, "nothing is known yet");
  let frame = await open(glued);
  await type(frame, "yesterday");
  await said(frame, "tr[data-record=glued] .verdict", /Not kept/, "no date");
  await type(frame, "2026-12-01 14:30, 5 C");
  await said(frame, "tr[data-record=glued] .verdict", /TOO COLD/, "too cold");
  frame = await open(waiting);
  await said(frame, "tr[data-record=cured] .verdict", /TOO COLD/, "too cold for who waits");
  frame = await open(glued);
  await type(frame, "2026-12-01 14:30, 21 C");
  const at = new Date(Date.UTC(2026, 11, 1, 14, 30) + Number(days) * 864e5).toISOString().slice(0, 16).replace("T", " ");
  await said(frame, "tr[data-record=glued] .verdict", new RegExp(`Fully cured at ${at}`), "the time is up");
  frame = await open(waiting);
  await said(frame, "tr[data-record=cured] .verdict", new RegExp(`^${at}$`), "not before");
  await page.goto("about:blank");
  frame = await open(waiting);
  await said(frame, "tr[data-record=cured] .verdict", new RegExp(`^${at}$`), "kept by the browser");
  assert.strictEqual(await frame.$eval("tr[data-record=cured]", (row) => row.cells[row.cells.length - 2].textContent), "2026-12-01 14:30, 21 C");
  await browser.close();
  console.log(`not before ${at}`);
})().catch((error) => { console.error(error); process.exit(1); });
