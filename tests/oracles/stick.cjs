// Uses a stick as a builder would, in one browser, from disk: starts, searches, ticks, measures, signs, reloads, closes the
// browser and comes back, takes back, saves the record, reads it into another browser, is handed bad records,
// prints; then once more with storage refused.
//
// Usage: NODE_PATH=... node stick.cjs FOLDER SCRATCH chromium|firefox EXECUTABLE
// FOLDER holds START-HERE.html. SCRATCH is an empty folder. Prints what was done; ends with 1 where a check failed.
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");
const { pathToFileURL } = require("url");

const [folder, scratch, kind, executable] = process.argv.slice(2);
const at = (name) => {
  const [file, place] = name.split("#");
  return pathToFileURL(path.join(path.resolve(folder), file)).href + (place ? `#${place}` : "");
};
const downloads = path.join(path.resolve(scratch), `saved-${kind}`);
fs.mkdirSync(downloads, { recursive: true });

const window = {};
// eslint-disable-next-line no-new-func
new Function("window", fs.readFileSync(path.join(folder, "manual/data.js"), "utf8"))(window);
const data = window.kitwright;

const acts = require("./browsers.cjs")(kind, executable, downloads);
const { start, until, shown, wait, quote, inspect, saved } = acts;
const text = (selector) => `(document.querySelector(${quote(selector)}) || {}).textContent`;
const row = (record, item) => `tr[data-record=${quote(record)}][data-item=${quote(item)}]`;

// A step that pulls something, measures a length between two bounds and is signed.
function suitable() {
  const exact = (t) => { const [n, d] = t.split("/").map(Number); return n / d; };
  for (const page of data.pages.filter((p) => p.s && p.m)) {
    const html = fs.readFileSync(path.join(folder, "manual", page.f), "utf8");
    const m = page.m.find((row) => row[2] && row[3] && row[4] === "in");
    const pull = /data-record="pull" data-item="([A-Z][^"&]*)"/.exec(html);
    if (m && pull && html.includes("sign-off")) {
      return { page, pull: pull[1], item: m[0], good: (exact(m[2]) + exact(m[3])) / 2, bad: exact(m[3]) + 1 };
    }
  }
  throw new Error("no step with a pull, a measure and a signature");
}

const pulls = (page) => fs.readFileSync(path.join(folder, "manual", page.f), "utf8").includes('data-record="pull"');

async function use(browser, step) {
  const { page, pull, item, good, bad } = step;
  await browser.open(at("START-HERE.html"));
  await browser.click(".doors a");
  await until(browser, `document.body.className.indexOf("shell") > 0`, "the shell");
  await until(browser, `document.querySelector(".not-kept").hidden`, "the record is kept");

  const number = data.things.find((thing) => thing.k === "hardware").n;
  await browser.type("input[type=search]", number.toLowerCase());
  await until(browser, `document.querySelector(".results a").textContent.indexOf(${quote(number)}) === 0`, "exact number first");
  const title = data.pages.map((p) => p.t.split(" ")).flat().filter((word) => /^[a-z]{7,}$/.test(word)).sort((a, b) => b.length - a.length)[0];
  const slip = title.slice(0, 2) + title[3] + title[2] + title.slice(4);
  await browser.type("input[type=search]", slip);
  await until(browser, `document.querySelector(".results").textContent.indexOf(${quote(title)}) >= 0`, `${slip} finds ${title}`);
  await browser.type("input[type=search]", page.n + " " + page.t);
  await until(browser, `document.querySelector(".results a").getAttribute("href") === ${quote("#" + page.f)}`, "the step is found");
  await browser.click(".results a");
  await shown(browser, page.f);
  await until(browser, `!!document.querySelector("#_done")`, "the step shows its record");
  // What is pulled folds to one line.
  await browser.click(".region-pull > summary");
  await browser.click(`${row("pull", pull)} input`);
  await browser.type(`${row("measure", item)} input`, "nonsense");
  await until(browser, `/Not kept/.test(${text(row("measure", item) + " .verdict")})`, "nonsense is refused");
  await browser.type(`${row("measure", item)} input`, `${bad}`);
  await until(browser, `/TOO HIGH/.test(${text(row("measure", item) + " .verdict")})`, "out of tolerance is seen");
  await browser.type(`${row("measure", item)} input`, `${(good * 25.4).toFixed(3)} mm`);
  await until(browser, `/Within/.test(${text(row("measure", item) + " .verdict")})`, "within tolerance, in millimetres");
  await inspect(browser);
  await browser.type(".sign-here input", "<b>J. Doe</b>");
  await browser.click(".sign-here button");
  await until(browser, `/^Signed 20/.test(${text(".signed")})`, "signed");
  await browser.type("#_hours", "1.5");
  await browser.type("#_notes", "first line\nsecond | line \\ <script>alert(1)</script>");
  await browser.click("#_done");
  await until(browser, `/^Done 20/.test(${text(".group-record .changed")})`, "done");
}

async function holds(browser, step, how) {
  await browser.open(at(`manual/index.html#${step.page.f}`));
  await shown(browser, step.page.f);
  await until(browser, `/^Done 20/.test(${text(".group-record .changed")})`, `${how}: done`);
  await until(browser, `document.querySelector(${quote(row("pull", step.pull) + " input")}).checked`, `${how}: pulled`);
  await until(browser, `/Within/.test(${text(row("measure", step.item) + " .verdict")})`, `${how}: measured`);
  await until(browser, `document.querySelector(".sign-here input").value === "<b>J. Doe</b>"`, `${how}: the name as typed`);
  await until(browser, `document.querySelector("#_notes").value.indexOf("second | line \\\\ <script>") > 0`, `${how}: the note as typed`);
  await until(browser, `document.querySelectorAll("article b b, article script").length === 0`, `${how}: no markup`);
}

// What a builder does on a day: two more steps, and a third that is left after the first part is at hand.
async function day(browser, steps) {
  for (const [at, step] of steps.entries()) {
    await browser.open(opened(step));
    await shown(browser, step.f);
    await until(browser, `!!document.querySelector("#_done")`, `step ${step.n} opens`);
    const ticks = await browser.run(`document.querySelectorAll("tr[data-record=pull] input").length`);
    assert(ticks > 0, `step ${step.n} pulls something`);
    for (let tick = 0; tick < (at < steps.length - 1 ? ticks : 1); tick += 1) {
      await browser.run(`document.querySelectorAll("tr[data-record=pull] input")[${tick}].click()`);
    }
    // The page tells the shell, which keeps it: a window that is closed before that has nothing to come back to.
    await browser.top();
    await until(browser, `JSON.stringify(localStorage).indexOf(${quote(`| ${step.s} | ${step.d} | pull | `)}) > 0`, `what is at hand for step ${step.n} is kept`);
    await shown(browser, step.f);
    if (at < steps.length - 1) {
      await inspect(browser);
      await until(browser, `!document.querySelector("#_done").disabled`, `step ${step.n} can be closed`);
      await browser.click("#_done");
      await until(browser, `/^Done 20/.test(${text(".group-record .changed")})`, `step ${step.n} is done`);
    }
  }
}

const opened = (step) => at(`manual/index.html#${step.f}`);

// A month later: the first page says where to go on, the step that was left is as it was, and what is done now is dated now.
async function monthLater(browser, first, steps) {
  const left = steps[steps.length - 1];
  await browser.open(at("manual/index.html"));
  await browser.run(`(function () { var Before = Date; window.Date = function () { return new Before(Before.now() + 31 * 864e5); }; return true; })()`);
  const open = data.pages.find((p) => p.s && p !== first && !steps.slice(0, -1).includes(p));
  await until(browser, `/${steps.length} of \\d+ steps done/.test(${text(".left-off")})`, "the steps that are done");
  await until(browser, `document.querySelector(".go-on").getAttribute("href") === ${quote("#" + left.f)}`, "the step that was left");
  await until(browser, `document.querySelector(".left-off p:nth-child(3) a").getAttribute("href") === ${quote("#" + open.f)}`, "and the first that is not done");
  await browser.run(`(window.location.hash = ${quote(left.f)}, true)`);
  await shown(browser, left.f);
  await until(browser, `!!document.querySelector("#_done") && document.querySelectorAll("tr[data-record=pull] input:checked").length === 1`, "the step that was left, as it was");
  assert.strictEqual(await browser.run(`document.querySelector("#_done").checked`), false, "and not done");
  await inspect(browser);
  await until(browser, `!document.querySelector("#_done").disabled`, "it can be closed");
  await browser.click("#_done");
  await until(browser, `/^Done 20/.test(${text(".group-record .changed")})`, "done a month later");
  const when = (await browser.run(text(".group-record .changed"))).slice(5, 15);
  const days = (Date.parse(when) - Date.now()) / 864e5;
  assert(days > 29 && days < 33, `the day of ${when}`);
}

// The picking list of two steps against the pick list that the compiler wrote (RFC 4180).
async function bench(browser, steps) {
  const rows = fs.readFileSync(path.join(folder, "pick-lists.csv"), "utf8").replace(/^\ufeff/, "").trim().split(/\r?\n/)
    .map((line) => [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].map((m) => m[1].replace(/^"|"$/g, "").replace(/""/g, '"')));
  const column = (name) => { const found = rows[0].indexOf(name); assert(found >= 0, `${name} in ${rows[0]}`); return found; };
  const expected = {};
  rows.slice(1).filter((row) => steps.some((step) => step.n === row[column("number")])).forEach((row) => {
    const key = row[column("designation")];
    expected[key] = (expected[key] || 0) + parseFloat(row[column("quantity")]);
  });
  await browser.open(at("manual/index.html#_today"));
  await until(browser, `document.querySelectorAll(".work input").length > 10`, "the steps to choose from");
  // One after the other: what is taken or left out changes what else is proposed.
  for (const step of data.pages.filter((p) => p.s)) {
    await browser.run(`(function () { var box = document.getElementById(${quote(`_today-${step.s}`)}); if (box && box.checked !== ${steps.includes(step)}) { box.click(); } return true; })()`);
  }
  const lines = await browser.run(`Array.prototype.map.call(document.querySelectorAll(".panel tbody tr:not(.subheading)"), function (row) { return [row.cells[0].textContent || row.cells[1].textContent, row.cells[2].textContent]; })`);
  const found = {};
  lines.forEach(([item, amount]) => { found[item] = (found[item] || 0) + parseFloat(amount); });
  assert.deepStrictEqual(Object.entries(found).sort(), Object.entries(expected).sort(), "what two steps pull together");
  return lines.length;
}

// A shortage on arrival, and a question about a step: both go onto a slip that names kit, release and step.
async function slips(browser, step) {
  await browser.open(at("manual/index.html#receiving.html"));
  await shown(browser, "receiving.html");
  await until(browser, `document.querySelectorAll(".short input").length > 20`, "the receiving list");
  const item = await browser.run(`document.querySelectorAll(".short input")[3].parentNode.parentNode.parentNode.getAttribute("data-item")`);
  await browser.run(`(function () { var input = document.querySelectorAll(".short input")[3]; input.value = "one <i>bent</i>"; input.dispatchEvent(new Event("change")); document.querySelectorAll("tr[data-record=receive] input[type=checkbox]")[1].click(); return true; })()`);
  await until(browser, `document.querySelectorAll("tr[data-record=receive] input[type=checkbox]")[3].disabled`, "no tick wipes a shortage");
  await browser.top();
  await until(browser, `JSON.stringify(localStorage).indexOf("short: one <i>bent") > 0`, "the shortage is kept");
  await browser.open(at("manual/index.html#_slip"));
  await until(browser, `!!document.querySelector("#_slip")`, "the slip");
  const delivery = await browser.run(`document.querySelector("#_slip").value`);
  for (const words of [data.manual, data.release, data.configuration, "Kit: ", `${item}: one <i>bent</i>`]) assert(delivery.includes(words), `${words} on the slip: ${delivery}`);
  assert.strictEqual(delivery.split("Short or damaged on arrival (number first, for example: 2 missing):")[1].trim().split("\n")[0].trim(), `${item}: one <i>bent</i>`, "what arrived is not on the slip");
  await browser.open(at(`manual/index.html#_slip-${step.s}`));
  await until(browser, `!!document.querySelector("#_slip") && document.querySelector("#_slip").value.indexOf("Step: ") > 0`, "the slip of a step");
  const query = await browser.run(`document.querySelector("#_slip").value`);
  for (const words of [data.manual, data.release, `${step.n} ${step.t}`, step.s, step.d]) assert(query.includes(words), `${words} on the slip: ${query}`);
}

// What is typed is kept when typing rests, and when the page goes; a hold point takes a tick.
async function typing(browser, step, next) {
  const note = (words) => browser.run(`(function () { var note = document.querySelector("#_notes"); note.value = ${quote(words)}; note.dispatchEvent(new Event("input")); return true; })()`);
  const stored = (words, what) => browser.top().then(() => until(browser, `JSON.stringify(localStorage).indexOf(${quote(words)}) > 0`, what));
  for (const [words, go] of [["typed, then nothing", false], ["typed, then gone", true]]) {
    await browser.top();
    await browser.open(opened(step));
    await shown(browser, step.f);
    await until(browser, `!!document.querySelector("#_notes")`, "a place for notes");
    await note(words);
    if (go) {
      await browser.top();
      await browser.run(`(window.location.hash = ${quote(next.f)}, true)`);
    }
    await stored(words, words);
  }
  const hold = data.pages.find((p) => /<li class="tick">/.test(fs.readFileSync(path.join(folder, "manual", p.f), "utf8")));
  await browser.open(opened(hold));
  await shown(browser, hold.f);
  await until(browser, `!!document.querySelector("li .tick-target input")`, "a hold point to tick");
  await browser.run(`(document.querySelector("li .tick-target input").click(), true)`);
  await stored(" | check | ", "the hold point is kept");
}

// Who goes on before a page is whole comes to the last that was asked for, not back to the one before.
async function hurry(browser, from, over, to) {
  await browser.top();
  await browser.open(opened(from));
  await shown(browser, from.f);
  await browser.top();
  await browser.run(`(function () { window.addEventListener("message", function (event) { if (event.data.say === "here" && event.data.page === ${quote(over.f)}) { window.location.hash = ${quote(to.f)}; } }, true); window.location.hash = ${quote(over.f)}; return true; })()`);
  await shown(browser, to.f);
  await browser.top();
  await until(browser, `window.location.hash === ${quote(`#${to.f}`)}`, "the address of the last page");
  // Back at once, while the next is on its way.
  await browser.run(`(function () { window.location.hash = ${quote(from.f)}; setTimeout(function () { window.location.hash = ${quote(to.f)}; }, 1); return true; })()`);
  await wait(500);
  await shown(browser, to.f);
  await browser.top();
  await until(browser, `window.location.hash === ${quote(`#${to.f}`)}`, "the page that was never left");
}

const offer = (browser, words, name) => acts.offer(browser, at("manual/index.html"), path.join(scratch, name), words);

(async () => {
  const step = suitable();
  const profile = path.resolve(scratch, `profile-${kind}`);
  let browser = await start(profile);
  await use(browser, step);
  await browser.top();
  await browser.reload();
  await holds(browser, step, "after a reload");
  await browser.picture(path.join(scratch, `${kind}-step.png`));
  await browser.close();

  browser = await start(profile);
  await holds(browser, step, "after a restart");
  await browser.top();
  await browser.click(".bar-shell > button:not(.opens)");
  await shown(browser, step.page.f);
  await until(browser, `!document.querySelector("#_done").checked`, "undo takes the last back");
  await browser.click("#_done");
  await until(browser, `/^Done 20/.test(${text(".group-record .changed")})`, "done again");
  const others = data.pages.filter((p) => p.s && p !== step.page && pulls(p)).slice(2, 5);
  await day(browser, others);
  await browser.close();

  browser = await start(profile);
  await monthLater(browser, step.page, others);
  await browser.top();
  const left = data.pages.filter((p) => p.s && p !== step.page && !others.includes(p) && pulls(p));
  const added = await bench(browser, [left[1], left[left.length - 1]]);
  await slips(browser, step.page);
  await typing(browser, others[0], others[1]);
  await hurry(browser, ...others);
  await browser.top();
  await holds(browser, step, "after all that");
  await browser.open(at("manual/index.html"));
  await until(browser, `/4 of \\d+ steps done/.test(${text(".left-off")})`, "the first page says where the builder left off");
  await browser.open(at("manual/index.html#_record"));
  await until(browser, `document.querySelectorAll(".panel table").length === 2`, "results and log");
  await browser.picture(path.join(scratch, `${kind}-record.png`));
  await browser.click(".actions button");
  const file = await saved();
  const words = fs.readFileSync(file, "utf8");
  fs.writeFileSync(path.join(scratch, `${kind}.pdf`), await browser.pdf());

  const lines = words.split("\n");
  const bad = {
    "another-kit.txt": [words.replace(/^configuration \| .*$/m, "configuration | OTHER"), /is of .* OTHER/],
    "cut-short.txt": [words.slice(0, Math.floor(words.length / 2)), /cut short/],
    "line-missing.txt": [lines.filter((_, number) => number !== 6).join("\n"), /Lines are missing/],
    "edited.txt": [words.replace(" | set | ", " | sett | "), /Line \d+ has an unknown verb/],
    "markup.txt": [`<html><img src=x onerror=alert(1)>${words}`, /not a build record/],
    "empty.txt": ["\n", /not a build record/],
    "large.txt": [Buffer.alloc(100 << 20, "x"), /larger than any record/],
  };
  for (const [name, [content, expected]] of Object.entries(bad)) {
    const answer = await offer(browser, content, name);
    assert.match(answer, expected, name);
    assert.match(answer, /Nothing was changed/, name);
  }
  await holds(browser, step, "after bad records");
  // The same record under a later release, in which the step has changed.
  const earlier = words.split(step.page.d).join("0123456789ab").replace(/^release \| .*$/m, "release | A, 2020-01-01");
  await browser.close();

  browser = await start(path.resolve(scratch, `profile-${kind}-2`));
  assert.match(await offer(browser, words, "record.txt"), /^\d+ entries were added, 0 were here already/);
  await holds(browser, step, "in another browser");
  assert.match(await offer(browser, words, "record.txt"), /^0 entries were added/);
  await browser.close();

  browser = await start(path.resolve(scratch, `profile-${kind}-3`));
  assert.match(await offer(browser, earlier, "earlier.txt"), /kept under A, 2020-01-01/);
  await browser.open(at(`manual/index.html#${step.page.f}`));
  await shown(browser, step.page.f);
  await until(browser, `/THIS STEP HAS CHANGED SINCE/.test(${text(".group-record .changed")})`, "a changed step is marked");
  await browser.close();

  browser = await start(path.resolve(scratch, `profile-${kind}-4`), true);
  await browser.open(at("manual/index.html"));
  await until(browser, `!document.querySelector(".not-kept").hidden && /does not keep/.test(${text(".not-kept")})`, "refused storage is said");
  await browser.open(at(`manual/${step.page.f}`));
  await until(browser, `/Open this page in the manual/.test(${text(".alone")})`, "a page alone says where the record is");
  await browser.close();
  console.log(`${kind}: step ${step.page.n} and ${others.length} more, a month between; ${added} lines on the bench; ${lines.length - 7} entries, record of ${words.length} bytes`);
})().catch((error) => {
  console.error(error);
  process.exit(1);
});
