// What the record says of the steps, and what can be begun today. Knows no page: it works on the manual's data (`data.js`) and
// on what holds now (`record.state`).
var work = (function () {
  function value(state, step, kind, item) {
    var e = state[step + "\u0000" + kind + "\u0000" + (item || "")];
    return e && e.value ? e : null;
  }

  function steps(data) { return data.pages.filter(function (p) { return p.s; }); }

  function doneOf(state, target) { return value(state, target.s, "done"); }

  // What a step waits for and has not arrived.
  function waitsFor(data, state, step) {
    return data.owed.filter(function (o) { return o[0] === step && !value(state, "-", "arrived", o[1]); }).map(function (o) { return o[1]; });
  }

  // What was measured, and how it is judged: low, high, nothing where it is within or can't be judged.
  function measured(state, target, m) {
    var e = state[target.s + "\u0000measure\u0000" + m[0]], found = e && e.value ? values.read(e.value, m[4] || "in", "in") : null;
    return { e: e, found: found, how: found && found.value ? values.judge(found.value, values.fromText(m[2]), values.fromText(m[3])) : "" };
  }

  // The measures of a step that are out of tolerance.
  function outside(state, target) {
    return (target.m || []).filter(function (m) { return measured(state, target, m).how; }).map(function (m) { return m[0]; });
  }

  // The roles whose signature was given before something in the step was changed.
  function voided(log, step) {
    var changed = -1, signed = {};
    log.forEach(function (e, at) {
      if (e.step !== step) { return; }
      if (["check", "measure", "glued", "answer"].indexOf(e.kind) >= 0) { changed = at; }
      if (e.kind === "sign") { signed[e.item] = at; }
    });
    return Object.keys(signed).filter(function (role) { return signed[role] < changed; });
  }

  // In a word or two: done, waiting, open.
  function standing(data, state, target) {
    var e = doneOf(state, target), waits = waitsFor(data, state, target.s);
    if (!e) { return waits.length ? "waits for " + waits.join(", ") : ""; }
    return (e.digest === target.d ? "done" : "changed since") + (outside(state, target).length ? ", out of tolerance" : "") + (waits.length ? ", without " + waits.join(", ") : "");
  }

  // Where someone stopped in the actions of a step: { next, of }, `next` 0 where all are ticked. Nothing where none is ticked,
  // or where the step has changed since.
  function action(log, state, target) {
    for (var at = log.length - 1; at >= 0; at -= 1) {
      var e = log[at];
      if (e.step !== target.s || e.kind !== "action" || !e.value || state[record.key(e)] !== e) { continue; }
      var m = /^yes, (?:next (\d{1,4}) of|all) (\d{1,4})$/.exec(e.value);
      return m && e.digest === target.d ? { next: +(m[1] || 0), of: +m[2] } : null;
    }
    return null;
  }

  // Where the builder stopped: the step of the last entry, where it is not done; { page, at, action }.
  function place(data, log, state) {
    for (var at = log.length - 1; at >= 0; at -= 1) {
      var e = log[at], page = e.step === "-" ? null : data.pages.filter(function (p) { return p.s === e.step; })[0];
      if (page) { return doneOf(state, page) ? null : { page: page, at: e.at, action: action(log, state, page) }; }
    }
    return null;
  }

  function few(list) { return list.length > 4 ? list.slice(0, 3).join(", ") + " and " + (list.length - 3) + " more" : list.join(", "); }

  // How long: `90` is 1.5 h, 2880 is 2 days.
  function span(minutes) {
    if (minutes % 1440 === 0) { return minutes / 1440 + (minutes === 1440 ? " day" : " days"); }
    return minutes < 60 ? minutes + " min" : values.decimal({ n: minutes, d: 60 }, 2) + " h";
  }

  // The maker's times of a bond in words.
  function cures(times, least) {
    var said = times.split(" ").filter(function (row) { return row; }).map(function (row) {
      var f = row.split(":"), degrees = values.decimal(values.fromText(f[0]), 1);
      return "from " + degrees + " \u00b0C on " + (f[1] ? span(+f[1]) + " until it may be handled, " : "") + (f[2] ? span(+f[2]) + " until it is fully cured" : "");
    });
    return (said.length ? said.join("; ") : "the manual gives no time: ask the maker") + (least ? "; not below " + values.decimal(values.fromText(least), 1) + " \u00b0C" : "");
  }

  // How long something has to cure before it is waited for no longer.
  function passing(times) {
    return times.split(" ").filter(function (row) { return /:\d/.test(row); }).map(function (row) {
      return span(+row.split(":")[1]) + " from " + values.decimal(values.fromText(row.split(":")[0]), 1) + " \u00b0C on";
    }).join(", ") || "the manual gives no time, ask the maker";
  }

  // Why a step can't be begun, line by line; nothing where it can. `ready`: the pages of the steps that are done, or will be.
  function hindrances(data, state, number, ready, at) {
    var page = data.pages[number], out = [], short = [], missing = [], counted;
    var waits = (page.w || []).filter(function (w) { return !ready[w[0]]; });
    if (waits.length) {
      out.push("Waits for " + waits.map(function (w) { return "step " + data.pages[w[0]].n + (w[1] ? " (" + w[1] + ")" : ""); }).join(", ") + ".");
    }
    var owed = waitsFor(data, state, page.s);
    if (owed.length) { out.push("On back order: " + few(owed) + "."); }
    counted = isCounted(state);
    data.picks.forEach(function (p) {
      if (p[0] !== number) { return; }
      var name = data.things[p[1]].n, e = value(state, "-", "receive", name), lack = e && /^short: ([^]*)$/.exec(e.value);
      if (lack) { short.push(name + " (" + lack[1] + ")"); }
      // Without a count, and what came later, is no shortage.
      else if (counted && !e && values.fromText(p[2]).n > 0 && !value(state, "-", "arrived", name)) { missing.push(name); }
    });
    if (short.length) { out.push("Short or damaged on arrival: " + few(short) + "."); }
    if (missing.length) { out.push("Not ticked on the receiving list: " + few(missing) + "."); }
    (page.c || []).forEach(function (c) {
      var by = data.pages[c[1]], e = value(state, by.s, "glued", c[0]), found = e && values.cure(e.value, c[2], c[3]);
      if (!e) { out.push((ready[c[1]] === "today" ? "The glue of " + c[0] + " has to cure after step " + by.n + ": " + passing(c[2]) : "When " + c[0] + " was glued is not written down at step " + by.n) + "."); }
      else if (found.fault || !found.until[0]) { out.push(c[0] + ": " + (found.fault || "the maker gives no time: stop and ask.")); }
      else if (found.until[0] > at) { out.push("The glue of " + c[0] + " cures until " + found.until[0] + "."); }
    });
    return out;
  }

  // Whether anyone has counted what arrived.
  function isCounted(state) {
    return Object.keys(state).some(function (k) { return k.lastIndexOf("-\u0000receive\u0000", 0) === 0 && state[k].value; });
  }

  // Which steps are done in so many hours, each taken in the order of the manual: those that were begun first, then what can be begun
  // and still fits. `wish`: { hours: an exact number, alone, out: { step: true }, take: { step: true } }. `at`: now, as in
  // the record. Gives { steps: [{ page, number, hours, begun, hindered, notes, skips, signs, taken, today }], hours }.
  function plan(data, log, state, wish, at) {
    var ready = {}, begun = {}, spent = { n: 0, d: 1 }, all = [];
    data.pages.forEach(function (p, number) {
      if (!p.s) { return; }
      if (doneOf(state, p)) { ready[number] = "done"; return; }
      all.push({ page: p, number: number, hours: p.h ? values.fromText(p.h) : null, begun: false, action: action(log, state, p), signs: p.o || [], taken: false });
    });
    Object.keys(state).forEach(function (k) { var e = state[k]; if (e.value && e.step !== "-") { begun[e.step] = true; } });
    all.forEach(function (s) { s.begun = !!begun[s.page.s]; });
    function consider(s) {
      s.hindered = hindrances(data, state, s.number, ready, at);
      // Steps of the manual's order that are left out by it, though it does not wait for them.
      s.skips = all.filter(function (o) { return o.number < s.number && !ready[o.number]; });
      s.turn = !s.skips.some(function (o) { return o.page.n.split(".")[0] !== s.page.n.split(".")[0]; });
      var helped = !wish.alone || s.signs.length < 2, sum = s.hours && values.add(spent, s.hours);
      s.fits = !!sum && values.compare(sum, wish.hours) <= 0;
      s.helped = helped;
      s.taken = !wish.out[s.page.s] && (!!wish.take[s.page.s] || !s.hindered.length && helped && s.fits && s.turn);
      if (s.taken) {
        if (s.hours) { spent = sum; }
        if (!s.hindered.length) { ready[s.number] = "today"; }
      }
    }
    all.filter(function (s) { return s.begun; }).forEach(consider);
    all.filter(function (s) { return !s.taken; }).forEach(consider);
    all.forEach(function (s) { s.skips = s.skips.filter(function (o) { return !ready[o.number]; }); });
    return { steps: all, hours: spent };
  }

  // What some steps pull, by crate and bag: [{ crate, bag, rows: [{ thing, hand, amount, unit, steps }] }].
  function pulls(data, chosen) {
    var sums = {}, out = [];
    data.picks.forEach(function (p) {
      var page = data.pages[p[0]];
      if (!chosen[page.s]) { return; }
      var k = [p[5], p[4], p[1], p[3]].join("\u0000"), amount = values.fromText(p[2]);
      if (sums[k]) { sums[k].amount = values.add(sums[k].amount, amount); sums[k].steps.push(page); }
      else { sums[k] = { pick: p, thing: data.things[p[1]], hand: p[6], unit: p[3], amount: amount, steps: [page] }; }
    });
    Object.keys(sums).map(function (k) { return sums[k]; }).sort(function (a, b) {
      var x = a.pick, y = b.pick;
      return x[5].localeCompare(y[5], "en", { numeric: true }) || x[4].localeCompare(y[4], "en", { numeric: true }) || x[1] - y[1];
    }).forEach(function (row) {
      var last = out[out.length - 1];
      if (!last || last.crate !== row.pick[5] || last.bag !== row.pick[4]) { last = { crate: row.pick[5], bag: row.pick[4], rows: [] }; out.push(last); }
      last.rows.push(row);
    });
    return out;
  }

  return { value: value, steps: steps, doneOf: doneOf, waitsFor: waitsFor, measured: measured, outside: outside, voided: voided, standing: standing, action: action, place: place, isCounted: isCounted, cures: cures, plan: plan, pulls: pulls };
})();
