// Damaged build records, made at random from a stored one: reading never throws, never takes long, and takes only what it
// can write out and read again.
//
// Usage: node records.cjs SCRIPTS CORPUS SEED COUNT
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");

const [scripts, corpus, seed, count] = process.argv.slice(2);
// eslint-disable-next-line no-new-func
const record = new Function(`"use strict"; ${fs.readFileSync(path.join(scripts, "record.js"), "utf8")}; return record;`)();
const seeds = fs.readdirSync(corpus).sort().map((name) => fs.readFileSync(path.join(corpus, name), "utf8"));

let state = (Number(seed) * 48271 + 1) % 2147483647;
const dice = (n) => { state = (state * 48271) % 2147483647; return state % n; };
const pick = (list) => list[dice(list.length)];
const WORDS = [" | ", "|", "\n", "\r\n", "\\", "\\p", "\\n", "set", "undo", "end | 4", "end | 99999999999", "__proto__", "constructor",
  "<script>", "\u0000", "\u202e", "\ufeff", "2026-02-31 25:61:61", "9999-12-31 23:59:59", "-", "toString", "\ud800"];

function damaged() {
  let text = pick(seeds);
  for (let n = 1 + dice(5); n; n -= 1) {
    const at = dice(text.length + 1), end = Math.min(text.length, at + dice(40));
    const part = text.slice(at, end);
    text = [
      () => text.slice(0, at) + text.slice(end),
      () => text.slice(0, at),
      () => text.slice(0, at) + pick(WORDS) + text.slice(at),
      () => text.slice(0, at) + part.repeat(2 + dice(300)) + text.slice(at),
      () => text.slice(0, at) + String.fromCharCode(dice(65536)) + text.slice(at + 1),
      () => text.slice(0, at) + pick(WORDS).repeat(dice(3000)) + text.slice(at),
    ][dice(6)]();
  }
  return text;
}

let taken = 0, slowest = 0;
for (let n = 0; n < Number(count); n += 1) {
  const text = n < seeds.length ? seeds[n] : damaged();
  const began = process.hrtime.bigint();
  let read;
  try {
    read = record.read(text);
  } catch (error) {
    throw new Error(`run ${n} of seed ${seed}: ${error.stack}\n${JSON.stringify(text.slice(0, 2000))}`);
  }
  slowest = Math.max(slowest, Number(process.hrtime.bigint() - began) / 1e6);
  assert(slowest < 5000, `run ${n} of seed ${seed} took ${slowest} ms`);
  if (typeof read.fault === "string") {
    assert(read.fault.length > 0 && read.fault.length < 500, `run ${n}: ${read.fault}`);
    continue;
  }
  taken += 1;
  // Spaces at the ends of a value are no part of it, so the first writing may take some off.
  const again = record.read(record.write(read.of, read.log));
  assert(!again.fault && again.log.length === read.log.length, `run ${n} of seed ${seed}: ${again.fault}`);
  assert.deepStrictEqual(record.read(record.write(again.of, again.log)), again, `run ${n} of seed ${seed}`);
}
assert(taken > 0, "not even the stored record is taken");
console.log(`record: ${count} runs from seed ${seed}, ${taken} taken, slowest ${slowest.toFixed(1)} ms`);
