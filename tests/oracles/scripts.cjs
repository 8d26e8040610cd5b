// Checks the parts of the pages' script that work out something, without a browser:
// - the search against a plain reference that tries every word of every page, on random queries with slips; what people type in
//   a workshop (numbers without dashes, other words for a thing, bags, lengths in other units) on two manuals;
// - lengths against whole-number arithmetic without limit, and against what the compiler wrote on the pages;
// - the record: what is written is read again, whatever the text; what is cut or changed anywhere is refused or the
//   same; merging loses nothing; what can be taken back and done once more against a plain model of it;
// - today's work on a manual of five steps, worked out by hand: what can be begun in how many hours, and why not.
// Prints how long a key stroke takes to answer over 2,000 steps.
//
// Usage: node scripts.cjs SCRIPTS MANUAL BOX
// BOX: the pages of tests/cases/box.
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");

const [scripts, manual, box] = process.argv.slice(2);
const text = (name) => fs.readFileSync(path.join(scripts, `${name}.js`), "utf8");
// A part with those that it builds on.
// eslint-disable-next-line no-new-func
const part = (name, ...below) => new Function(`"use strict"; ${below.concat(name).map(text).join("\n")}; return ${name};`)();
const values = part("values");
const search = part("search", "values");
const record = part("record");
const work = part("work", "values", "record");
const read = (folder, name) => {
  const window = {};
  // eslint-disable-next-line no-new-func
  new Function("window", fs.readFileSync(path.join(folder, name), "utf8"))(window);
  return window;
};
const data = read(manual, "data.js").kitwright;

let seed = 20240229;
const dice = (n) => { seed = (seed * 48271) % 2147483647; return seed % n; };
const pick = (list) => list[dice(list.length)];

// ---- search ----
// The optimal string alignment distance, straight from its definition.
function distance(a, b) {
  const d = Array.from({ length: a.length + 1 }, (_, i) => Array.from({ length: b.length + 1 }, (_, j) => (i && j ? 0 : i + j)));
  for (let i = 1; i <= a.length; i += 1) {
    for (let j = 1; j <= b.length; j += 1) {
      d[i][j] = Math.min(d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) d[i][j] = Math.min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.length][b.length];
}

function quality(typed, word) {
  if (word.startsWith("=")) return 0;
  const [bare, short] = [word, typed].map((w) => [...w].filter((c) => /[a-z0-9]/.test(c) || c >= "\u00c0").join(""));
  if (typed === word || bare === short && bare !== word) return 100;
  if (word.startsWith(typed) || bare !== word && short.length > 2 && bare.startsWith(short)) return 40;
  const allowed = typed.length < 4 || /\d/.test(typed) ? 0 : typed.length < 8 ? 1 : 2;
  const found = distance(typed, word);
  return allowed && found <= allowed ? 10 / found : 0;
}

function reference(text) {
  const typed = search.words(text);
  const places = new Set(data.posts.flatMap((posts) => posts.filter((_, at) => at % 2 === 0)));
  const scored = [];
  for (const place of places) {
    let total = 0;
    const every = typed.every((word) => {
      let best = 0;
      data.words.forEach((known, at) => {
        for (let i = 0; i < data.posts[at].length; i += 2) {
          if (data.posts[at][i] === place) best = Math.max(best, quality(word, known) * data.posts[at][i + 1]);
        }
      });
      total += best;
      return best > 0;
    });
    if (every) scored.push([place, total]);
  }
  return scored.sort((a, b) => b[1] - a[1] || a[0] - b[0]).map(([place]) => place);
}

function slip(word) {
  const at = dice(word.length);
  const letter = "abcdefghijklmnopqrstuvwxyz"[dice(26)];
  return pick([word.slice(0, at) + word.slice(at + 1), word.slice(0, at) + letter + word.slice(at), word.slice(0, at) + letter + word.slice(at + 1),
    word.slice(0, at) + (word[at + 1] || "") + word[at] + word.slice(at + 2), word, word.slice(0, at + 1)]);
}

let answered = 0;
for (let turn = 0; turn < 60; turn += 1) {
  const query = Array.from({ length: 1 + dice(2) }, () => slip(pick(data.words))).join(" ");
  if (!search.words(query).length) continue;
  const expected = reference(query);
  assert.deepStrictEqual(search.find(data, query, 1e9, true), expected, query);
  // Other readings add to it and take nothing away.
  const all = new Set(search.find(data, query, 1e9));
  assert(expected.every((place) => all.has(place)), query);
  answered += expected.length > 0 ? 1 : 0;
}
assert(answered > 20, `random queries that find something: ${answered}`);
for (const thing of data.things.filter((t) => t.n)) {
  const first = search.find(data, thing.n, 1)[0];
  assert.strictEqual((data.things[first - data.pages.length] || {}).n, thing.n, `${thing.n} comes first`);
}

// What people type. The first thing, or a line of the first page that is found, is what they meant.
const lines = read(manual, "lines.js").kitwrightLines;
assert.deepStrictEqual(lines.map((l) => l.length > 0), data.pages.map((p, at) => lines[at].length > 0 && ["step", "text", "section", "title"].includes(p.r)), "lines of the pages that are searched");
for (const name of ["data.js", "lines.js"]) assert(!/[<\u2028\u2029]/.test(fs.readFileSync(path.join(manual, name), "utf8")), `${name} holds nothing that could be taken for markup`);
const thingsOf = (typed) => search.find(data, typed, 1e9).map((at) => data.things[at - data.pages.length]).filter((t) => t);
const linesOf = (typed) => search.find(data, typed, 1e9).filter((at) => at < data.pages.length).map((at) => search.line(data, lines[at], typed, {})).filter((l) => l.how);
for (const thing of data.things.filter((t) => /-/.test(t.n))) {
  for (const typed of [thing.n.replace(/-/g, ""), thing.n.replace(/-/g, " "), thing.n.toLowerCase().replace(/[^a-z0-9]/g, "")]) {
    assert(thingsOf(typed).some((t) => t.n === thing.n), `${typed} finds ${thing.n}`);
  }
}
const elastic = (t) => /self-locking nut/i.test(t.t);
assert(data.things.some(elastic) && !data.words.includes("locknut"), "the manual says self-locking nut alone");
for (const typed of ["locknut", "Locknuts", "lock nut", "lockn"]) {
  assert(data.things.filter(elastic).every((t) => thingsOf(typed).includes(t)), `${typed} finds every self-locking nut`);
  assert(linesOf(typed).some((l) => /self-locking nut/i.test(l.line) && l.by === "self-locking nut"), `${typed} shows the line`);
}
for (const [typed, meant] of [["spanner", /wrench/i], ["split pin", /cotter pin/i], ["tape measure", /steel tape/i]]) {
  assert(thingsOf(typed).some((t) => meant.test(t.t)), `${typed}: ${meant}`);
}
// Every length of a measure is found in inches as the manual writes it, and in millimetres as the pages can show it.
let lengthsFound = 0;
for (const [number, page] of data.pages.entries()) {
  for (const m of (page.m || []).filter((row) => /^\d+( \d+\/\d+)? in /.test(row[1]))) {
    const inches = /^(\d+(?: \d+\/\d+)?) in /.exec(m[1])[1], value = values.read(inches, "in", "in").value;
    for (const typed of [`${inches} in`, values.plain(values.pieces(value, "mm")), values.plain(values.pieces(value, "mm")).replace(" mm", "mm")]) {
      assert(search.find(data, typed, 1e9).includes(number), `${typed} finds ${page.n}`);
      assert(search.line(data, lines[number], typed, {}).line.includes(inches), `${typed} shows ${inches}`);
    }
    lengthsFound += 1;
  }
}
assert(lengthsFound > 3, "lengths to look for");
const figure = lines.flatMap((page, number) => page.map((l) => [number, /^(Figure (\d+\.\d+-\d+)):/.exec(l)])).filter(([, m]) => m);
assert(figure.length > 20, "figures to look for");
for (const [number, [, label]] of figure.slice(0, 20)) {
  assert(search.find(data, label, 3).includes(number), `${label} is on its page`);
}
const kitLine = search.pieces(data, "Fit the AN4-15A, then the self-locking nut.", "locknut");
assert.deepStrictEqual(kitLine, ["Fit the AN4-15A, then the ", "self-locking", " ", "nut."], "what was met");

const steps = 2000;
const large = { words: [], posts: [], pages: [], things: [], everyday: data.everyday, units: data.units };
for (let w = 0; w < 20000; w += 1) {
  large.words.push(pick(data.words) + w.toString(36));
  large.posts.push(Array.from({ length: 2 * (1 + dice(30)) }, (_, i) => (i % 2 ? 1 + dice(8) : dice(steps))));
}
const strokes = [];
for (const word of ["shroud", "mast-foot", "turnbuckle", "an4-15a", "left side stay"]) {
  for (let length = 1; length <= word.length; length += 1) {
    const before = process.hrtime.bigint();
    search.find(large, word.slice(0, length), 30);
    strokes.push(Number(process.hrtime.bigint() - before) / 1e6);
  }
}
strokes.sort((a, b) => a - b);

// ---- values ----
function exactDecimal(n, d, places) {
  const scale = 10n ** BigInt(places);
  const up = (BigInt(Math.abs(n)) * scale * 2n + BigInt(d)) / (2n * BigInt(d));
  const tail = String(up % scale).padStart(places, "0").replace(/0+$/, "");
  return `${n < 0 && up ? "\u2212" : ""}${up / scale}${tail ? `.${tail}` : ""}`;
}
for (let turn = 0; turn < 5000; turn += 1) {
  const n = dice(2000000) - 1000000;
  const d = pick([1, 2, 3, 4, 8, 16, 32, 64, 127, 1000, 635, 10000]);
  const value = values.fromText(`${n}/${d}`);
  assert.strictEqual(values.plain(values.pieces(value, "decimal")), `${exactDecimal(n, d, 4)} in`);
  assert.strictEqual(values.plain(values.pieces(value, "mm")), `${exactDecimal(n * 127, d * 5, 1)} mm`);
  const fraction = values.plain(values.pieces(value, "fraction"));
  const again = values.read(fraction, "in", "in");
  if (/\//.test(fraction)) assert.strictEqual(values.compare(again.value, value), 0, fraction);
  const [low, high] = [dice(1000) - 500, dice(1000) - 500].sort((a, b) => a - b);
  const judged = values.judge(value, { n: low, d: 16 }, { n: high, d: 16 });
  const [left, right] = [BigInt(n) * 16n, BigInt(d)];
  assert.strictEqual(judged, left < BigInt(low) * right ? "low" : left > BigInt(high) * right ? "high" : "");
}
for (const [typed, unit, shown, inches] of [["23 15/16", "in", "in", "383/16"], ["23-15/16 in", "in", "mm", "383/16"], ["608", "in", "mm", "3040/127"],
  ["25.4mm", "in", "in", "1/1"], [".5", "in", "in", "1/2"], ["-1/32", "in", "in", "-1/32"], ["30", "\u00b0", "\u00b0", "30/1"], ["30 deg", "\u00b0", "\u00b0", "30/1"], ["2.54 cm", "in", "in", "1/1"]]) {
  const found = values.read(typed, unit, shown);
  assert(found.value && values.compare(found.value, values.fromText(inches)) === 0, `${typed} reads as ${JSON.stringify(found)}`);
}
for (const typed of ["", "1,5", "abc", "1/0", "1 2 3", "--1", "1e9", "NaN", "30 lb", "1.2.3", "Infinity"]) assert(values.read(typed, "in", "in").fault, typed);
assert(values.read("30 mm", "\u00b0", "\u00b0").fault, "a length is no angle");
assert.strictEqual(values.read("12.5 V", "V", "V").text, "12.5 V");
assert.strictEqual(values.read("20 C", "\u00b0C", "\u00b0C").text, "20 \u00b0C");
assert(values.read("20 C", "V", "V").fault, "a temperature is no voltage");

// When a bond has cured: the dates by the language's own calendar (ECMAScript Date, UTC).
const times = "15/1:1440:14400 20/1:720:10080", least = "15/1";
for (let n = 0; n < 500; n += 1) {
  const at = new Date(Date.UTC(2016 + dice(30), dice(12), 1 + dice(28), dice(24), dice(60)));
  const typed = at.toISOString().slice(0, 16).replace("T", " "), celsius = dice(40) - 5;
  const found = values.cure(`${typed}, ${celsius} C`, times, least);
  const after = (minutes) => new Date(at.getTime() + minutes * 60000).toISOString().slice(0, 16).replace("T", " ");
  if (celsius < 15) { assert(/TOO COLD/.test(found.fault), typed); continue; }
  assert.deepStrictEqual(found.until, celsius < 20 ? [after(1440), after(14400)] : [after(720), after(10080)], typed);
}
assert.strictEqual(values.cure("2026-12-01 14:30, 68 F", times, least).until[0], "2026-12-02 02:30");
for (const typed of ["2026-02-30 10:00, 20 C", "2026-12-01, 20 C", "yesterday", "2026-12-01 25:00, 20 C", "2026-12-01 14:30"]) assert(values.cure(typed, times, least).fault, typed);
assert(values.cure("2026-12-01 14:30, 12 C", "", "").fault, "no time is known");

let written = 0;
for (const name of fs.readdirSync(manual).filter((file) => file.endsWith(".html"))) {
  const html = fs.readFileSync(path.join(manual, name), "utf8");
  for (const [, inches, inner] of html.matchAll(/<span class="value" data-inches="([^"]+)">((?:[^<]|<span class="fraction">.*?<\/span>)*)<\/span>/g)) {
    assert.strictEqual(values.plain(values.pieces(values.fromText(inches), data.units)), inner.replace(/<[^>]*>/g, ""), `${name}: ${inches}`);
    written += 1;
  }
}
assert(written > 100, "lengths on the pages");

// ---- the record ----
const sign = () => pick(["a", " ", "|", "\\", "\n", " | ", "\\n", "é", "<b>", "\u2028", "p", "\t"]);
const words = () => Array.from({ length: dice(12) }, sign).join("").trim();
const entry = (second) => ({ at: `2024-02-29 10:${String(Math.floor(second / 60)).padStart(2, "0")}:${String(second % 60).padStart(2, "0")}`,
  verb: "set", step: pick(["-", "fit-mast", "tang:left"]), digest: pick(["-", "0123456789ab"]), kind: pick(record.KINDS), item: words(), value: words() });
const of = { manual: "SK-100", configuration: "ICE+claw", kit: "31", release: "B | 2024" };
for (let turn = 0; turn < 300; turn += 1) {
  const log = Array.from({ length: dice(20) }, (_, second) => entry(second));
  const text = record.write(of, log);
  const found = record.read(text);
  assert.deepStrictEqual(found, { of, log }, text);
  assert.deepStrictEqual(record.read(text.replace(/\n/g, "\r\n")), { of, log });
  const cut = record.read(text.slice(0, dice(text.length - 1)));
  assert(cut.fault || cut.log.length === log.length, "a cut file is refused");
  const shared = dice(log.length + 1);
  const other = log.slice(0, shared).concat(Array.from({ length: dice(9) }, (_, i) => entry(shared + i)));
  const merged = record.merge(log, other);
  for (const e of log.concat(other)) assert(merged.some((m) => JSON.stringify(m) === JSON.stringify(e)), "nothing is lost");
  assert(merged.every((e, i) => !i || merged[i - 1].at <= e.at), "in the order of time");
  assert.deepStrictEqual(record.merge(merged, other), merged, "twice is once");
}
// What can be taken back and done once more, against a plain model: the values of each page as a stack of whole states.
for (let turn = 0; turn < 200; turn += 1) {
  const log = [], model = {};
  for (let second = 0; second < 60; second += 1) {
    const step = pick(["a", "b"]), at = `2024-02-29 10:00:${String(second).padStart(2, "0")}`;
    const past = model[step] = model[step] || { stack: [{}], at: 0 };
    const state = record.state(log), own = (list) => list.filter((t) => t.e.step === step);
    assert.strictEqual(own(state.undo()).length, past.at, "how much can be taken back");
    assert.strictEqual(own(state.redo()).length, past.stack.length - 1 - past.at, "how much can be done once more");
    const act = dice(3);
    if (act === 0 && past.at > 0) {
      const { e, before } = own(state.undo()).pop();
      log.push({ at, verb: "undo", step, digest: "-", kind: e.kind, item: e.item, value: before ? before.value : "" });
      past.at -= 1;
    } else if (act === 1 && past.at < past.stack.length - 1) {
      const { e } = own(state.redo()).pop();
      log.push({ at, verb: "set", step, digest: "-", kind: e.kind, item: e.item, value: e.value });
      past.at += 1;
    } else {
      const item = pick(["1: Saw", "2: File"]), value = `yes, ${second}`;
      log.push({ at, verb: "set", step, digest: "-", kind: "action", item, value });
      past.stack = past.stack.slice(0, past.at + 1).concat({ ...past.stack[past.at], [item]: value });
      past.at += 1;
    }
    const now = record.state(log).now;
    for (const item of ["1: Saw", "2: File"]) {
      const e = now[`${step}\u0000action\u0000${item}`];
      assert.strictEqual((e && e.value) || "", model[step].stack[model[step].at][item] || "", "what holds");
    }
  }
}
// A record of before there were ticks at the actions is read as it was.
const older = record.read(["Build record. Open it in the manual: Menu, Record, Open a file.", "manual | M", "configuration | C", "kit | ", "release | A",
  "2020-01-01 10:00:00 | set | saw | 0123456789ab | pull | P-1 | yes", "2020-01-01 10:00:01 | undo | saw | - | pull | P-1 | ", "end | 2", ""].join("\n"));
assert(!older.fault && record.state(older.log).undo().length === 0 && record.state(older.log).redo().length === 1, "an older record");

// ---- today's work, worked out by hand ----
// 1.1 saw (1 h, makes the sides), 1.2 glue (0.5 h, takes the sides, makes the carcass, two sign), 1.3 feet (no time), 2.1 lid
// (0.5 h), 2.2 fit (0.75 h, after `window`, which is for the tall box and passes `lid` on; takes the carcass; its corners
// must have cured: 2 days from 15 C on, 1 day from 20 C on).
const plan = (() => {
  const fresh = () => read(box, "data.js").kitwright;
  const given = fresh();
  const at = (id) => given.pages.findIndex((p) => p.s === id);
  const page = (id) => given.pages[at(id)];
  assert.deepStrictEqual(["saw", "glue", "feet", "lid", "fit"].map((id) => page(id).n), ["1.1", "1.2", "1.3", "2.1", "2.2"]);
  assert.deepStrictEqual(["saw", "glue", "feet", "lid", "fit"].map((id) => page(id).h), ["1/1", "1/2", undefined, "1/2", "3/4"]);
  assert.deepStrictEqual([page("saw").w, page("glue").w, page("feet").w, page("lid").w], [undefined, [[at("saw"), "sides"]], undefined, undefined]);
  assert.deepStrictEqual(page("fit").w, [[at("glue"), "carcass"], [at("lid"), "BX-4"]]);
  assert.deepStrictEqual([page("glue").o, page("fit").o], [["builder", "second person"], undefined]);
  assert.deepStrictEqual(page("glue").g, [["corners", "15/1:720:2880 20/1:360:1440", "15/1"]]);
  assert.deepStrictEqual(page("fit").c, [["corners", at("glue"), "15/1:2880 20/1:1440", "15/1"]]);

  let log;
  const put = (step, kind, item, value) => log.push({ at: "2026-12-01 08:00:00", verb: "set", step, digest: step === "-" ? "-" : page(step).d, kind, item, value });
  const done = (...ids) => ids.forEach((id) => put(id, "done", "", "yes"));
  const ask = (hours, more = {}, now = "2026-12-01 09:00", of = fresh()) => {
    const found = work.plan(of, log, record.state(log).now, { hours: values.fromText(hours), alone: false, out: {}, take: {}, ...more }, now);
    const why = {};
    found.steps.forEach((s) => { why[s.page.s] = s.hindered.join(" "); });
    return { taken: found.steps.filter((s) => s.taken).map((s) => s.page.s), hours: found.hours, why, steps: found.steps };
  };
  log = [];
  let found = ask("2/1");
  assert.deepStrictEqual([found.taken, found.hours], [["saw", "glue"], { n: 3, d: 2 }]);
  assert.deepStrictEqual([found.why.feet, found.why.lid], ["", ""], "both can be begun: one has no time, one is of the next section");
  assert.strictEqual(found.steps.find((s) => s.page.s === "feet").hours, null, "no time is no nought");
  assert.deepStrictEqual(found.steps.find((s) => s.page.s === "lid").skips.map((s) => s.page.s), ["feet"]);
  assert.strictEqual(found.why.fit, "Waits for step 2.1 (BX-4). The glue of corners has to cure after step 1.2: 2 days from 15 \u00b0C on, 1 day from 20 \u00b0C on.");
  assert.deepStrictEqual(ask("1/1").taken, ["saw"], "the glue does not fit");
  assert.deepStrictEqual(ask("1/2").taken, [], "nothing fits");
  assert.deepStrictEqual(ask("2/1", { alone: true }).taken, ["saw"], "two sign the glue");
  assert.deepStrictEqual(ask("2/1", { out: { saw: true } }).taken, [], "without the sides there is nothing to glue");
  assert.deepStrictEqual(ask("3/2", { take: { feet: true } }).taken, ["saw", "glue", "feet"]);
  assert.deepStrictEqual(ask("3/2", { take: { feet: true } }).hours, { n: 3, d: 2 }, "and no time is made up for it");
  assert.deepStrictEqual(ask("2/1", { take: { feet: true } }).taken, ["saw", "glue", "feet", "lid"], "with the feet the section is at its end");
  // What was begun comes first.
  put("lid", "action", "1: Round the edges of the lid.", "yes, all 1");
  put("saw", "action", "1: Mark the first side.", "yes, next 2 of 7");
  assert.deepStrictEqual(ask("1/1").taken, ["saw"]);
  assert.deepStrictEqual(work.place(given, log, record.state(log).now), { page: page("saw"), at: "2026-12-01 08:00:00", action: { next: 2, of: 7 } });
  done("saw");
  assert.strictEqual(work.place(given, log, record.state(log).now), null, "a step that is done is not gone on with");
  log = [];
  done("saw", "glue", "feet");
  assert.strictEqual(ask("1/4").why.fit, "Waits for step 2.1 (BX-4). When corners was glued is not written down at step 1.2.");
  put("glue", "glued", "corners", "2026-12-01 10:00, 18 C");
  found = ask("2/1", {}, "2026-12-03 09:59");
  assert.deepStrictEqual([found.taken, found.why.fit], [["lid"], "The glue of corners cures until 2026-12-03 10:00."]);
  assert.deepStrictEqual(ask("2/1", {}, "2026-12-03 10:00").taken, ["lid", "fit"]);
  put("glue", "glued", "corners", "2026-12-01 10:00, 21 C");
  assert.deepStrictEqual(ask("2/1", {}, "2026-12-02 10:00").taken, ["lid", "fit"], "warmer, a day less");
  put("glue", "glued", "corners", "2026-12-01 10:00, 12 C");
  assert(/corners: TOO COLD/.test(ask("2/1", {}, "2026-12-09 10:00").why.fit), "too cold never cures");
  // What is there.
  put("-", "receive", "BX-4", "short: split");
  assert.strictEqual(ask("2/1").why.lid, "Short or damaged on arrival: BX-4 (split).");
  put("-", "receive", "BX-4", "");
  put("-", "receive", "BX-1", "yes");
  assert.strictEqual(ask("2/1").why.lid, "Not ticked on the receiving list: BX-4.");
  put("-", "receive", "BX-4", "yes");
  assert.strictEqual(ask("2/1").why.lid, "");
  const owing = { ...fresh(), owed: [["lid", "BX-4"]] };
  assert.strictEqual(ask("2/1", {}, "2026-12-01 09:00", owing).why.lid, "On back order: BX-4.");
  put("-", "arrived", "BX-4", "yes");
  assert.strictEqual(ask("2/1", {}, "2026-12-01 09:00", owing).why.lid, "");
  const fetched = work.pulls(given, { saw: true, glue: true, fit: true });
  assert.deepStrictEqual(fetched.map((f) => [f.crate, f.bag, f.rows.map((r) => `${r.amount.n} ${r.thing.n}`)]),
    [["1", "", ["4 BX-1", "1 BX-2"]], ["2", "B2", ["4 ISO 4017 M6x30", "4 ISO 7040 M6"]], ["2", "B3", ["8 ISO 7089 6"]]]);
  // The manual's own everyday words, and a number with gaps.
  const boxLines = read(box, "lines.js").kitwrightLines;
  const finds = (typed) => search.find(given, typed, 1e9).map((place) => (given.pages[place] || given.things[place - given.pages.length]));
  assert(finds("cabinet").includes(page("glue")) && search.readings(given, "cabinet").some((r) => r.by === "carcass"), "a word of the manual's own");
  for (const typed of ["m6 x 30", "ISO4017 M6x30", "iso4017m6x30"]) assert.strictEqual(finds(typed)[0].n, "ISO 4017 M6x30", typed);
  assert.strictEqual(search.line(given, boxLines[at("saw")], "608 mm", {}).line.includes("23 15/16"), true, "608 mm is 23 15/16 in");
  return "today's work of five steps as by hand";
})();

const many = Array.from({ length: 20000 }, (_, i) => entry(i % 3600));
const before = Date.now();
assert.strictEqual(record.read(record.write(of, many)).log.length, 20000);

console.log(`${plan}; ${figure.length} figures and ${lengthsFound} lengths to look for; 60 queries as the reference answers them, ${answered} with an answer; ${written} lengths; a key stroke over ${steps} steps and ${large.words.length} words: median ${strokes[strokes.length >> 1].toFixed(1)} ms, slowest ${strokes[strokes.length - 1].toFixed(1)} ms; 20000 entries written and read in ${Date.now() - before} ms`);
