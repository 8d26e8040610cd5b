// Checks the parts of the pages' script that work out something, without a browser:
// - the search against a plain reference that tries every word of every page, on random queries with slips;
// - lengths against whole-number arithmetic without limit, and against what the compiler wrote on the pages;
// - the record: what is written is read again, whatever the text; what is cut or changed anywhere is refused or the
//   same; merging loses nothing.
// Prints how long a key stroke takes to answer over 2,000 steps.
//
// Usage: node scripts.cjs SCRIPTS MANUAL
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");

const [scripts, manual] = process.argv.slice(2);
// eslint-disable-next-line no-new-func
const part = (name) => new Function(`"use strict"; ${fs.readFileSync(path.join(scripts, `${name}.js`), "utf8")}; return ${name};`)();
const search = part("search");
const values = part("values");
const record = part("record");
const window = {};
// eslint-disable-next-line no-new-func
new Function("window", fs.readFileSync(path.join(manual, "data.js"), "utf8"))(window);
const data = window.kitwright;

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
  if (typed === word) return 100;
  if (word.startsWith(typed)) return 40;
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
  assert.deepStrictEqual(search.find(data, query, 1e9), expected, query);
  answered += expected.length > 0 ? 1 : 0;
}
assert(answered > 20, `random queries that find something: ${answered}`);
for (const thing of data.things.filter((t) => t.n)) {
  const first = search.find(data, thing.n, 1)[0];
  assert.strictEqual((data.things[first - data.pages.length] || {}).n, thing.n, `${thing.n} comes first`);
}

const steps = 2000;
const large = { words: [], posts: [], pages: [], things: [] };
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
const many = Array.from({ length: 20000 }, (_, i) => entry(i % 3600));
const before = Date.now();
assert.strictEqual(record.read(record.write(of, many)).log.length, 20000);

console.log(`60 queries as the reference answers them, ${answered} with an answer; ${written} lengths; a key stroke over ${steps} steps and ${large.words.length} words: median ${strokes[strokes.length >> 1].toFixed(1)} ms, slowest ${strokes[strokes.length - 1].toFixed(1)} ms; 20000 entries written and read in ${Date.now() - before} ms`);
