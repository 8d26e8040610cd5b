// Works through a small box with a lid (tests/cases/box) as a builder would, in one browser, from disk:
// - ticks actions, closes the browser, and is led back a month later to the action that is next;
// - takes back and does once more on the page that is shown; what was done on another page stays, and it is said which page;
// - counts what is in no saved file, is reminded of a copy, saves it, reads it into another browser, also under a release in
//   which the step has changed;
// - asks what can be begun today, alone or with somebody, and what it takes (worked out by hand in scripts.cjs);
// - searches by keyboard alone, and comes to the line that was found.
//
// Usage: NODE_PATH=... node work.cjs FOLDER SCRATCH chromium|firefox EXECUTABLE
// FOLDER holds START-HERE.html. SCRATCH is an empty folder. Prints what was done; ends with 1 where a check failed.
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");
const { pathToFileURL } = require("url");

const [folder, scratch, kind, executable] = process.argv.slice(2);
const downloads = path.join(path.resolve(scratch), `saved-${kind}`);
fs.mkdirSync(downloads, { recursive: true });
const window = {};
// eslint-disable-next-line no-new-func
new Function("window", fs.readFileSync(path.join(folder, "manual/data.js"), "utf8"))(window);
const data = window.kitwright;
const page = (id) => data.pages.find((p) => p.s === id);
const home = (place) => pathToFileURL(path.join(path.resolve(folder), "manual/index.html")).href + (place ? `#${place}` : "");
const acts = require("./browsers.cjs")(kind, executable, downloads);
const { start, until, shown, quote, saved } = acts;
const text = (selector) => `((document.querySelector(${quote(selector)}) || {}).textContent || "")`;
const ticks = `Array.prototype.map.call(document.querySelectorAll(".action-tick input"), function (box) { return box.checked ? "x" : "-"; }).join("")`;
const kept = `Object.keys(localStorage).filter(function (k) { return /record\\//.test(k); }).map(function (k) { return localStorage.getItem(k); }).join("")`;

async function open(browser, place) {
  await browser.top();
  await browser.run(`(window.location.hash = ${quote(place)}, true)`);
  if (/html/.test(place)) {
    await shown(browser, place.split("~")[0]);
    await until(browser, `!document.body.getAttribute("data-step") || !!document.querySelector("#_done")`, `${place} opens`);
  }
}

async function tick(browser, number, on) {
  await browser.run(`(document.querySelectorAll(".action-tick input")[${number - 1}].click(), true)`);
  await until(browser, `document.querySelectorAll(".action-tick input")[${number - 1}].checked === ${on}`, `action ${number}`);
}

async function said(browser, words, what) {
  await browser.top();
  await until(browser, `${text(".said")}.indexOf(${quote(words)}) >= 0`, what || words);
}

const key = (browser, name) => browser.run(`(document.activeElement.dispatchEvent(new KeyboardEvent("keydown", { key: ${quote(name)}, bubbles: true, cancelable: true })), true)`);
const focused = (browser, words, what) => until(browser, `document.activeElement.textContent.indexOf(${quote(words)}) >= 0`, what);

async function ticking(browser) {
  await browser.open(home());
  await until(browser, `document.body.className.indexOf("shell") > 0`, "the shell");
  await until(browser, `${text(".go-today")} === "Today\u2019s work" && !document.querySelector(".go-on")`, "nothing to go on with yet");
  await open(browser, page("saw").f);
  await until(browser, `${ticks} === "-------"`, "a tick for each action");
  const small = await browser.run(`Array.prototype.filter.call(document.querySelectorAll(".action-tick"), function (e) { var r = e.getBoundingClientRect(); return r.width < 44 || r.height < 44; }).length`);
  assert.strictEqual(small, 0, "targets for gloves");
  for (const number of [1, 2, 3, 4, 5]) await tick(browser, number, true);
  await until(browser, `${text(".holds")} === "Not ticked: actions 6, 7."`, "what is not ticked is said before the step is closed");
  await browser.top();
  await until(browser, `${kept}.indexOf("| action | 5: Lay both on each other. | yes, next 6 of 7") > 0`, "the place is kept");
}

// A month later, in the same browser.
async function monthLater(browser) {
  await browser.open(home());
  await browser.run(`(function () { var Before = Date; window.Date = function () { return new Before(Before.now() + 31 * 864e5); }; return true; })()`);
  await until(browser, `${text(".go-on b")} === "Go on at 1.1, action 6"`, "the place");
  await until(browser, `/You stopped there on 20\\d\\d-\\d\\d-\\d\\d. Action 6 of 7 is next. 0 of 5 steps done./.test(${text(".left-off")})`, "when and how far");
  await browser.click(".go-on");
  await shown(browser, page("saw").f);
  await until(browser, `${ticks} === "xxxxx--"`, "ticked as it was left");
  await until(browser, `/^Action 6: /.test(document.activeElement.getAttribute("aria-label"))`, "the keyboard is at the next action");
  await until(browser, `(function () { var r = document.activeElement.getBoundingClientRect(); return r.top >= 0 && r.bottom <= window.innerHeight; })()`, "and it can be seen");
  // Once more from the first page, with the step still in the frame.
  await open(browser, "");
  await browser.run(`(document.querySelector(".go-today").focus(), true)`);
  await browser.click(".go-on");
  await shown(browser, page("saw").f);
  await browser.top();
  await until(browser, `document.activeElement.tagName === "IFRAME"`, "back in the page");
  await shown(browser, page("saw").f);
  await tick(browser, 6, true);
  await browser.top();
  await until(browser, `${kept}.indexOf("| yes, next 7 of 7") > 0`, "action 6 is kept");
  const days = (Date.parse((await browser.run(kept)).match(/(\S+) \S+ \| set \| saw \| \S+ \| action \| 6: /)[1]) - Date.now()) / 864e5;
  assert(days > 29 && days < 33, `dated a month later: ${days}`);
}

async function takingBack(browser) {
  const before = () => browser.top().then(() => browser.run(kept));
  await open(browser, page("feet").f);
  await tick(browser, 1, true);
  await said(browser, "Kept: 1.3, action 1 ticked");
  await open(browser, page("saw").f);
  await browser.top();
  await browser.click(".undo");
  await said(browser, "Taken back: 1.1, action 6 ticked");
  await shown(browser, page("saw").f);
  await until(browser, `${ticks} === "xxxxx--" && document.querySelectorAll("li.found-here").length === 1`, "taken back on this page, and shown");
  await browser.top();
  await until(browser, `${kept}.match(/\\| undo \\|/g).length === 1 && ${kept}.indexOf("undo | feet") < 0`, "and on no other");
  await browser.click(".undo + button");
  await said(browser, "Done once more: 1.1, action 6 ticked");
  await shown(browser, page("saw").f);
  await until(browser, `${ticks} === "xxxxxx-"`, "done once more");
  await browser.top();
  await until(browser, `document.querySelector(".undo + button").hidden`, "nothing more to redo");
  // Where nothing was done, nothing is changed: it is said where the last entry is, and a link leads there.
  for (const place of [page("glue").f, "_record", ""]) {
    await open(browser, place);
    const was = await before();
    await browser.click(".undo");
    await said(browser, "Nothing to undo on this page. The last entry is on another: 1.1, action 6 ticked");
    assert.strictEqual(await before(), was, `nothing is taken back from ${place || "the first page"}`);
  }
  await browser.click(".said a");
  await shown(browser, page("saw").f);
  // The receiving list has no step; what was ticked there is undone there alone.
  await open(browser, "receiving.html");
  await until(browser, `document.querySelectorAll("tr[data-record=receive] input[type=checkbox]").length > 3`, "the receiving list");
  await browser.run(`(document.querySelector("tr[data-record=receive] input[type=checkbox]").click(), true)`);
  await said(browser, "received");
  await open(browser, "_today");
  await browser.click(".undo");
  await said(browser, "The last entry is on another: BX-1: received.");
  await open(browser, "receiving.html");
  await until(browser, `document.querySelector("tr[data-record=receive] input[type=checkbox]").checked`, "still received");
  await browser.top();
  await browser.click(".undo");
  await said(browser, "Taken back: BX-1: received");
}

async function copies(browser) {
  await open(browser, "_record");
  const count = async () => +/(\d+) entr(?:y is|ies are) in no saved file/.exec(await browser.run(text(".unsaved")))[1];
  const entries = (await browser.run(kept)).split("\n").filter((line) => /\| (set|undo) \|/.test(line) && !/\| release \|/.test(line)).length;
  assert.strictEqual(await count(), entries, "every entry is counted");
  await open(browser, page("saw").f);
  for (let turn = entries; turn < 20; turn += 1) await tick(browser, 7, (turn - entries) % 2 === 0);
  await said(browser, "20 entries are in no saved file.", "a copy is suggested");
  await open(browser, "");
  await until(browser, `/20 entries are in no saved file/.test(${text(".left-off")})`, "on the first page too");
  await browser.click(".left-off button");
  const file = await saved();
  await until(browser, `${text(".left-off")}.indexOf("no saved file") < 0`, "all of it is saved");
  await open(browser, "_record");
  await until(browser, `${text(".unsaved")} === "All of them are in a saved file."`, "in the record too");
  await open(browser, page("saw").f);
  await browser.type("#_notes", "one more");
  await said(browser, "note one more");
  await browser.click(".opens");
  await until(browser, `${text(".menu a[href='#_record']")} === "Record (1 in no file)"`, "one more since then");
  await key(browser, "Escape");
  return fs.readFileSync(file, "utf8");
}

async function planning(browser) {
  await browser.open(home("_today"));
  const listed = `Array.prototype.map.call(document.querySelectorAll(".work li.is-taken b"), function (b) { return b.textContent; }).join("; ")`;
  await until(browser, `${text(".today-said")} === "2 steps, 1.5 of 2 hours." && ${listed} === "1.1 Saw the sides; 1.2 Glue the corners"`, "what fits into two hours");
  const rows = await browser.run(`Array.prototype.map.call(document.querySelectorAll(".panel tbody tr"), function (row) { return Array.prototype.map.call(row.cells, function (c) { return c.textContent; }).join("|"); })`);
  assert.deepStrictEqual(rows, ["Crate 1", "BX-1|Side board|4|1.1", "BX-2|Bottom board|1|1.2"]);
  for (const words of ["Nothing is ticked on the receiving list yet", "Tenon saw (1.1)", "Resin glue (1.2)", "Sanding cloth (1.2)", "From earlier steps", "Step 1.2 is signed by two: builder and second person.",
    "Step 1.2, corners: from 15 \u00b0C on 12 h until it may be handled, 2 days until it is fully cured; from 20 \u00b0C on 6 h until it may be handled, 1 day until it is fully cured; not below 15 \u00b0C.",
    "1.3 Round the feet", "The manual gives no time for it; it is not counted", "The glue of corners has to cure after step 1.2", "Waits for step 2.1 (BX-4)."]) {
    assert.strictEqual(await browser.run(`${text(".panel")}.indexOf(${quote(words)}) >= 0`), words !== "From earlier steps", words);
  }
  await browser.picture(path.join(scratch, `${kind}-today.png`));
  await browser.click("#_today-alone");
  await until(browser, `${listed} === "1.1 Saw the sides" && /It is signed by two; you are alone./.test(${text(".panel")})`, "alone");
  await browser.click("#_today-alone");
  await browser.run(`(document.querySelectorAll(".preset")[0].click(), true)`);
  await until(browser, `${text(".today-said")} === "1 step, 1 of 1 hour." && document.querySelector("#_today-hours").value === "1"`, "in one hour");
  await browser.click("label[for='_today-feet']");
  await until(browser, `${text(".today-said")} === "2 steps, 1 of 1 hour; 1 step without a time is not counted."`, "a step without a time is said to have none");
  await until(browser, `document.activeElement.id === "_today-feet"`, "the keyboard stays where it was");
  await browser.reload();
  await until(browser, `document.querySelector("#_today-feet").checked && document.querySelector("#_today-hours").value === "1"`, "the choice is kept");
  await browser.type("#_today-hours", "1,5");
  await until(browser, `/Write the hours as a number/.test(${text(".today-said")})`, "a comma is no point");
}

async function searching(browser) {
  const find = async (words) => { await browser.top(); await browser.type("input[type=search]", words); };
  const first = `document.querySelector(".results a").textContent`;
  await browser.open(home());
  await until(browser, `document.querySelector(".found-said").getAttribute("role") === "status"`, "results are announced");
  await browser.run(`(document.querySelector("input[type=search]").focus(), true)`);
  await until(browser, `Array.isArray(window.kitwrightLines)`, "the lines are read when someone searches");
  await find("locknut");
  await until(browser, `/^\\d+ found\\. Also looked for: self-locking nut\\.$/.test(${text(".found-said")}) && ${first}.indexOf("ISO 7040 M6") === 0`, "other words");
  await until(browser, `Array.prototype.some.call(document.querySelectorAll(".results a"), function (a) { return a.querySelector(".found-line mark") && /Fit the lid.*Self-locking nut/i.test(a.textContent); })`, "the line that was found");
  for (const [words, found] of [["spanner", "Wrench, 10 mm"], ["iso4017m6x30", "ISO 4017 M6x30"], ["m6 x 30", "ISO 4017 M6x30"], ["bx1", "BX-1 Side board"], ["bag b2", "Bag B2, crate 2"], ["608 mm", "1.1 Saw the sides"], ["cabinet", ""]]) {
    await find(words);
    await until(browser, `${first}.indexOf(${quote(found)}) === 0`, `${words}: ${found}`);
  }
  // Down and up by the arrow keys, and out again.
  await find("lid");
  const at = (number) => until(browser, `document.activeElement === document.querySelectorAll(".results a")[${number}]`, `result ${number}`);
  await browser.run(`(document.querySelector("input[type=search]").focus(), true)`);
  await key(browser, "ArrowDown");
  await at(0);
  await key(browser, "ArrowDown");
  await at(1);
  await key(browser, "ArrowUp");
  await key(browser, "ArrowUp");
  await until(browser, `document.activeElement === document.querySelector("input[type=search]")`, "back in the field");
  await key(browser, "Escape");
  await until(browser, `document.querySelector(".found").hidden`, "closed");
  // The page that is opened has the keyboard, at the line.
  await find("foot with the cloth");
  await until(browser, `${first}.indexOf("1.3 Round the feet") === 0`, "the step");
  await browser.run(`(document.querySelector("input[type=search]").focus(), true)`);
  await key(browser, "Enter");
  await shown(browser, page("feet").f);
  await focused(browser, "Round each foot with the cloth.", "the line that was found");
  await until(browser, `document.activeElement.tagName === "LI" && document.activeElement.classList.contains("found-here")`, "and it is marked");
  await browser.top();
  await until(browser, `document.activeElement.tagName === "IFRAME" && document.querySelector(".frame-room:not([hidden]) h1").textContent === "Step 1.3 Round the feet"`, "the shell names the page");
  // Once more on the page that is shown already, and a bag.
  await find("sanding cloth");
  await browser.run(`(function () { var a = document.querySelector(".results a[href='#${page("feet").f}']"); a.click(); return true; })()`);
  await shown(browser, page("feet").f);
  await focused(browser, "Sanding cloth", "another line of the same page");
  await find("bag b2");
  await browser.click(".results a");
  await until(browser, `document.activeElement === document.querySelector(".panel") && ${text(".panel h1")} === "Bag B2" && /ISO 4017 M6x30/.test(${text(".panel table")}) && /ISO 7040 M6/.test(${text(".panel table")}) && !/BX-/.test(${text(".panel table")})`, "a bag and what is in it");
}

(async () => {
  const profile = path.resolve(scratch, `profile-${kind}`);
  let browser = await start(profile);
  await ticking(browser);
  await browser.close();
  browser = await start(profile);
  await monthLater(browser);
  await takingBack(browser);
  const words = await copies(browser);
  await browser.close();

  browser = await start(path.resolve(scratch, `profile-${kind}-2`));
  await planning(browser);
  await searching(browser);
  const file = (name) => path.join(scratch, name);
  assert.match(await acts.offer(browser, home(), file("record.txt"), words), /^\d+ entries were added, 0 were here already/);
  await until(browser, `${text(".unsaved")} === "All of them are in a saved file."`, "what came from a file is in one");
  await open(browser, page("saw").f);
  await until(browser, `/^xxxxxx/.test(${ticks})`, "the ticks in another browser");
  await browser.close();

  // The same under another release, in which the step was changed: no tick is taken over, and it is said which there were.
  browser = await start(path.resolve(scratch, `profile-${kind}-3`));
  const older = words.split(page("saw").d).join("0123456789ab").replace(/^release \| .*$/m, "release | A, 2020-01-01");
  await acts.offer(browser, home(), file("older.txt"), older);
  await open(browser, "");
  await until(browser, `${text(".go-on b")} === "Go on at 1.1"`, "no action of a step that has changed");
  await open(browser, page("saw").f);
  await until(browser, `/^-{7}$/.test(${ticks}) && /^Ticked 20\\d\\d-\\d\\d-\\d\\d, before this step was changed. Look at it again.$/.test(${text(".has-tick .ticked-before:not([hidden])")})`, "a tick of before the change");
  await browser.close();
  console.log(`${kind}: actions ticked and gone on with a month later; undo and redo on their page; copies; today's work; search by keyboard`);
})().catch((error) => {
  console.error(error);
  process.exit(1);
});
