// The builder's record: a log of what was done, kept as plain text that a person can read.
//
// A line is: time | verb | step | digest of the step | kind | item | value. The verbs are `set` and `undo`; both give
// an item its value, and `undo` takes back the last `set` of its item; what is done once more is a `set` again. The item of
// the kind `action` is the action's number and first words, its value `yes` with the number of the action to go on with and
// how many there are: `yes, next 6 of 13`, or `yes, all 13`. The last line counts the lines, so that a file that was cut
// short is known. Nothing that is read is ever taken for markup.
var record = (function () {
  var FIRST = "Build record. Open it in the manual: Menu, Record, Open a file.";
  var LARGEST = 8000000, MOST = 100000, LONGEST = 4000;
  var KINDS = ["pull", "done", "sign", "measure", "hours", "note", "receive", "check", "glued", "arrived", "answer", "release", "action"];

  function written(text) {
    return text.replace(/\\/g, "\\\\").replace(/\|/g, "\\p").replace(/\r?\n|\r/g, "\\n");
  }

  function unwritten(text) {
    return text.replace(/\\(.)/g, function (_, sign) { return sign === "p" ? "|" : sign === "n" ? "\n" : sign; });
  }

  // `of` names manual, configuration, kit and release.
  function write(of, log) {
    var lines = [FIRST];
    ["manual", "configuration", "kit", "release"].forEach(function (key) { lines.push(key + " | " + written(of[key] || "")); });
    log.forEach(function (e) {
      lines.push([e.at, e.verb, e.step, e.digest, e.kind, e.item, e.value].map(written).join(" | "));
    });
    lines.push("end | " + log.length);
    return lines.join("\n") + "\n";
  }

  function entry(line) {
    var f = line.split(" | ").map(function (part) { return part.trim(); });
    if (f.length !== 7) { return "has " + f.length + " fields where 7 are needed"; }
    if (!/^\d{4}-\d\d-\d\d \d\d:\d\d:\d\d$/.test(f[0])) { return "does not begin with a date and a time"; }
    if (f[1] !== "set" && f[1] !== "undo") { return "has an unknown verb"; }
    if (f[2] !== "-" && !/^[a-z0-9][a-z0-9:_-]{0,99}$/i.test(f[2])) { return "has no step"; }
    if (f[3] !== "-" && !/^[0-9a-f]{12}$/.test(f[3])) { return "has no digest"; }
    if (KINDS.indexOf(f[4]) < 0) { return "has an unknown kind"; }
    // As it is meant, for written out it may be twice as long.
    var item = unwritten(f[5]), value = unwritten(f[6]);
    if (item.length > LONGEST || value.length > LONGEST) { return "is too long"; }
    return { at: f[0], verb: f[1], step: f[2], digest: f[3], kind: f[4], item: item, value: value };
  }

  // { of, log } or { fault } in words. All of it or nothing.
  function read(text) {
    if (text.length > LARGEST) { return { fault: "The file is larger than any record." }; }
    var lines = text.replace(/^\ufeff/, "").split(/\r?\n/), of = {}, log = [], at;
    while (lines.length && !lines[lines.length - 1].trim()) { lines.pop(); }
    if (lines[0] !== FIRST) { return { fault: "This is not a build record." }; }
    var keys = ["manual", "configuration", "kit", "release"];
    for (at = 0; at < 4; at += 1) {
      var head = (lines[at + 1] || "").split(" |");
      if (head[0] !== keys[at] || head.length !== 2) { return { fault: "Line " + (at + 2) + " does not name the " + keys[at] + "." }; }
      of[keys[at]] = unwritten(head[1].trim());
    }
    var end = /^end \| (\d+)$/.exec(lines[lines.length - 1]);
    if (!end) { return { fault: "The file was cut short: its last line is missing." }; }
    if (lines.length - 6 !== +end[1]) {
      return { fault: "The file has " + (lines.length - 6) + " entries where its last line says " + end[1] + ". Lines are missing or were added." };
    }
    if (+end[1] > MOST) { return { fault: "The file has more entries than any record." }; }
    for (at = 5; at < lines.length - 1; at += 1) {
      var found = entry(lines[at]);
      if (typeof found === "string") { return { fault: "Line " + (at + 1) + " " + found + "." }; }
      log.push(found);
    }
    return { of: of, log: log };
  }

  function key(e) { return e.step + "\u0000" + e.kind + "\u0000" + e.item; }

  // What holds now: the last value of each item. `undo()` and `redo()` give what can be taken back and done once more, in
  // the order of the log: the entry, what held before it, and its place in the log. What is done anew on a step ends what
  // could be done once more there.
  function state(log) {
    var now = {}, sets = Object.create(null), taken = Object.create(null);
    log.forEach(function (e, at) {
      var k = key(e), before = now[k] || null, stack, again;
      now[k] = e;
      if (e.kind === "release") { return; }
      stack = sets[e.step] = sets[e.step] || [];
      again = taken[e.step] = taken[e.step] || [];
      if (e.verb === "undo") {
        for (var i = stack.length - 1; i >= 0; i -= 1) {
          if (key(stack[i].e) === k) { again.push({ e: stack.splice(i, 1)[0].e, at: at }); return; }
        }
        return;
      }
      var top = again[again.length - 1];
      if (top && key(top.e) === k && top.e.value === e.value) { again.pop(); } else if (top) { again.length = 0; }
      stack.push({ e: e, before: before, at: at });
    });
    function inOrder(of) {
      var flat = [];
      Object.keys(of).forEach(function (step) { flat = flat.concat(of[step]); });
      return flat.sort(function (a, b) { return a.at - b.at; });
    }
    return { now: now, undo: function () { return inOrder(sets); }, redo: function () { return inOrder(taken); } };
  }

  function same(a, b) {
    return a.at === b.at && a.verb === b.verb && a.value === b.value && a.digest === b.digest && key(a) === key(b);
  }

  // Both logs in the order of time, what they share once. Nothing of either is lost.
  function merge(mine, theirs) {
    var i = 0, j = 0, out = [];
    while (i < mine.length && i < theirs.length && same(mine[i], theirs[i])) { out.push(mine[i]); i += 1; }
    j = i;
    var known = {};
    mine.slice(i).forEach(function (e) { known[e.at + e.verb + e.value + e.digest + key(e)] = true; });
    theirs = theirs.slice(j).filter(function (e) { return !known[e.at + e.verb + e.value + e.digest + key(e)]; });
    j = 0;
    while (i < mine.length || j < theirs.length) {
      if (j >= theirs.length || (i < mine.length && mine[i].at <= theirs[j].at)) { out.push(mine[i]); i += 1; } else { out.push(theirs[j]); j += 1; }
    }
    return out;
  }

  return { read: read, write: write, state: state, merge: merge, key: key, KINDS: KINDS, LARGEST: LARGEST, LONGEST: LONGEST };
})();
