// The first page as the shell: it shows the other pages in a frame and is the only keeper of the record, since some
// browsers give every file from disk a storage of its own.
var shell = (function () {
  var PREFIX = "kitwright/", data, frame, room, bar, panel, notice, again, here = "", asked = "", kept = true, kit = "", log = [], settings = {}, drafts = {}, going = null, follows = false;
  var pageOf = Object.create(null), stepOf = Object.create(null), shownFields = Object.create(null), secret = "kitwright-";
  // From so many entries on that are in no file a copy is suggested.
  var MANY = 20;

  // ---- keeping ----
  function name(what) { return PREFIX + data.manual + "/" + data.configuration + "/" + what; }

  function load(what) { try { return window.localStorage.getItem(name(what)); } catch (e) { kept = false; return null; } }

  function store(what, text) {
    try { window.localStorage.setItem(name(what), text); kept = window.localStorage.getItem(name(what)) === text; } catch (e) { kept = false; }
    return kept;
  }

  function of() { return { manual: data.manual, configuration: data.configuration, kit: kit, release: data.release }; }

  // What is kept, which another window may have added to.
  function reload() {
    var text = load("record/" + kit), found = text ? record.read(text) : null;
    if (found && found.log) { log = record.merge(found.log, log); }
    else if (found) { store("damaged/" + now(), text); say("The record in this browser can't be read (" + found.fault + ") A copy was set aside in the browser."); }
  }

  // The time by this machine's clock, so many milliseconds ahead of it.
  function clock(ahead) {
    var d = new Date(), two = values.two;
    d.setTime(d.getTime() + ahead);
    return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()) + " " + two(d.getHours()) + ":" + two(d.getMinutes()) + ":" + two(d.getSeconds());
  }

  // Entries more than a day ahead of this machine's clock: one of two clocks is wrong.
  function isAhead(e) { return e.at > clock(86400000); }

  function now() {
    // A clock that was set back must not turn the order of the work round; what is far ahead does not move it.
    return log.reduce(function (last, e) { return e.at > last && !isAhead(e) ? e.at : last; }, clock(0));
  }

  function keep(entries) {
    reload();
    var last = log.filter(function (e) { return e.kind === "release"; }).pop();
    if (!last || last.value !== data.release) { entries.unshift({ verb: "set", step: "-", digest: "-", kind: "release", item: "", value: data.release }); }
    entries.forEach(function (e) { e.at = now(); log.push(e); });
    var stored = store("record/" + kit, record.write(of(), log));
    showKept();
    return stored;
  }

  function showKept() {
    notice.hidden = kept;
    notice.textContent = kept ? "" : "This browser does not keep your record. Save it to a file before you close the window: Menu, Record, Save to a file.";
  }

  // A word or two in the bar, and where that leads.
  function say(words, to, label) {
    var line = bar.querySelector(".said");
    empty(line);
    line.appendChild(document.createTextNode(words));
    if (to) { line.appendChild(document.createTextNode(" ")); line.appendChild(link(to, label)); }
  }

  // How many entries are in no saved file. What was read from a file is in one.
  function counted() { return log.filter(function (e) { return e.kind !== "release"; }).length; }

  function unsaved() { return Math.max(0, counted() - (+load("saved/" + kit) || 0)); }

  function unsavedWords(n) { return n + (n === 1 ? " entry is" : " entries are") + " in no saved file."; }

  // ---- taking back and doing once more ----
  // Whether the page that is shown has a place for an entry: nothing is changed that can't be seen.
  function isShown(e) {
    var target = room && !room.hidden && !asked && pageOf[here];
    if (!target) { return false; }
    return target.s && e.step === target.s || e.step === "-" && !!shownFields[e.kind + "\u0000" + e.item];
  }

  // Where an entry was made.
  function pageOfEntry(e) {
    if (stepOf[e.step]) { return stepOf[e.step].f; }
    var title = e.kind === "check" ? data.pages.filter(function (p) { return e.item.lastIndexOf((p.n ? p.n + " " : "") + p.t, 0) === 0; })[0] : null;
    return title ? title.f : e.kind === "receive" && pageOf["receiving.html"] ? "receiving.html" : "";
  }

  function turn(way) {
    reload();
    var all = record.state(log)[way](), here = all.filter(function (t) { return isShown(t.e); }), top = here[here.length - 1], other = all[all.length - 1];
    var undoing = way === "undo", nothing = undoing ? "Nothing to undo on this page." : "Nothing to redo on this page.";
    if (!top && !other) { say(undoing ? "Nothing to undo." : "Nothing to redo."); return; }
    if (!top) { say(nothing + " The last entry is on another: " + words(other.e).replace(/\.$/, "") + ".", pageOfEntry(other.e), "Go there"); return; }
    var e = top.e, before = top.before;
    if (e.kind === "sign") { say("A signature is not taken back. Strike it out at its step, with the reason."); return; }
    if (undoing) { keep([{ verb: "undo", step: e.step, digest: before ? before.digest : "-", kind: e.kind, item: e.item, value: before ? before.value : "" }]); }
    else { keep([{ verb: "set", step: e.step, digest: e.digest, kind: e.kind, item: e.item, value: e.value }]); }
    say((undoing ? "Taken back: " : "Done once more: ") + words(e));
    tellFrame();
    tellFrame({ say: "look", kind: e.kind, item: e.item });
  }

  function showTurns() { again.hidden = !record.state(log).redo().some(function (t) { return isShown(t.e); }); }

  function words(e) {
    var what = { pull: "at hand", done: "step done", sign: "signed", measure: "measured", hours: "hours", note: "note", receive: "received", check: "checked", glued: "glued", arrived: "arrived", answer: "the maker's answer", release: "release" }[e.kind];
    var to = stepOf[e.step], action = e.kind === "action" ? e.item.split(":")[0] : "";
    if (action) { return (to ? to.n : e.step + " (not in this release)") + ", action " + action + (e.value ? " ticked" : " not ticked") + ": " + e.item.slice(action.length + 2); }
    return (to ? to.n + " " : e.step !== "-" ? e.step + " (not in this release) " : "") + (e.item ? e.item + ": " : "") + what + (e.value && e.value !== "yes" ? " " + e.value.replace(/^struck: /, "and struck out: ") : "") + (e.value || e.kind === "release" ? "" : " cleared");
  }

  // ---- the frame ----
  function waitsFor(state, step) { return work.waitsFor(data, state, step); }
  function outside(state, target) { return work.outside(state, target); }
  // Tells the page in the frame what holds, or `extra` alone: to print, to show a line.
  function tellFrame(extra) {
    if (!frame || !frame.contentWindow) { return; }
    if (extra) { extra.kitwright = secret; frame.contentWindow.postMessage(extra, atHome()); return; }
    var target = pageOf[here], mine = {}, state = record.state(log).now;
    Object.keys(state).forEach(function (k) {
      var e = state[k];
      // What was glued is asked for by the steps that wait for it.
      if (e.step === ((target && target.s) || "-") || e.kind === "glued" || e.kind === "arrived") { mine[e.kind + "\u0000" + e.item] = { value: e.value, at: e.at, digest: e.digest }; }
    });
    var done = {};
    steps().forEach(function (p) { var words = work.standing(data, state, p); if (words) { done[p.f] = words; } });
    // What a step can't be closed for.
    var own = target && target.s ? { voided: work.voided(log, target.s), waits: waitsFor(state, target.s), outside: outside(state, target) } : { voided: [], waits: [], outside: [] };
    frame.contentWindow.postMessage({ kitwright: secret, say: "state", now: mine, done: done, voided: own.voided, waits: own.waits, outside: own.outside, settings: settings }, atHome());
    showTurns();
  }

  function listen(event) {
    var m = event.data;
    // A page that has just gone has no window any more; what was typed on it still counts for the step it names. That
    // it was one of ours is known by the secret alone then.
    var speaks = frame && (event.source === frame.contentWindow || event.source === null && m && m.say === "set");
    if (!speaks || !fromHome(event.origin) || !m || m.kitwright !== secret) { return; }
    if (m.say === "home") { window.location.hash = ""; }
    if (m.say === "here" && pageOf[m.page]) {
      // The frame may still hold a page that was left before it was whole: where a page was asked for, the address leads.
      if (asked && m.page !== asked) { return; }
      here = m.page;
      if (!asked && view().page !== m.page && !room.hidden) { follows = true; window.location.replace("#" + m.page); }
      asked = "";
      document.title = (pageOf[here].n ? pageOf[here].n + " " : "") + pageOf[here].t + " \u2013 " + data.title;
      room.querySelector("h1").textContent = (pageOf[here].s ? "Step " : "") + (pageOf[here].n ? pageOf[here].n + " " : "") + pageOf[here].t;
      shownFields = Object.create(null);
      (Array.isArray(m.fields) ? m.fields : []).slice(0, 5000).forEach(function (f) { shownFields[f] = true; });
      tellFrame();
      goIn();
    }
    if (m.say === "slip" && stepOf[m.step]) { window.location.hash = "_slip-" + m.step; }
    if (m.say === "record") { window.location.hash = "_record"; }
    if (m.say === "set") { take(m); }
  }

  function take(m) {
    var target = pageOf[here], step = (target && target.s) || "-";
    var text = function (value) { return typeof value === "string" && value.length <= record.LONGEST; };
    if (m.step !== step || m.digest !== ((target && target.d) || "-") || record.KINDS.indexOf(m.kind) < 0 || !text(m.item) || !text(m.value)) { return; }
    // What has arrived has arrived for every step, and is something that was on back order.
    var ofKit = m.kind === "arrived";
    if (ofKit && !data.owed.some(function (o) { return o[1] === m.item; })) { return; }
    keep([{ verb: "set", step: ofKit ? "-" : step, digest: ofKit ? "-" : m.digest, kind: m.kind, item: m.item, value: m.value }]);
    var n = unsaved(), remind = kept && n >= MANY && (m.kind === "done" || n % MANY === 0);
    say((kept ? "Kept: " : "Not kept in the browser: ") + words(log[log.length - 1]) + (remind ? ". " + unsavedWords(n) : ""), remind ? "_record" : "", "Save a copy");
    tellFrame();
  }

  // Whoever came here by the shell goes on in the page: at the action that is next, at the line that was found, else at its text.
  function goIn() {
    if (!going || going.page !== here) { return; }
    frame.contentWindow.focus();
    tellFrame(going.next ? { say: "next" } : { say: "find", line: going.line });
    going = null;
  }

  // ---- views: the first page, a page in the frame, a panel ----
  function view() {
    var hash = decodeURIComponent(window.location.hash.slice(1)), parts = hash.split("~");
    if (hash.charAt(0) === "_" && panels[hash.slice(1).split("-")[0]]) { return { panel: hash.slice(1).split("-")[0], rest: hash.slice(hash.indexOf("-") + 1) }; }
    return pageOf[parts[0]] && parts[0] !== data.pages[0].f ? { page: parts[0], place: parts[1] || "" } : {};
  }

  // `moved`: the reader has gone to another view, and the keyboard goes along.
  function show(moved) {
    var at = view(), main = document.querySelector("main"), chosen = finder.chosen();
    finder.hide();
    closeMenu();
    // Where the page itself has led, the browser has put the keyboard into it.
    if (moved) { say(""); }
    if (follows) { follows = false; moved = false; }
    var next = at.place === "_next";
    going = at.page && (next || moved && (chosen || !at.place)) ? { page: at.page, next: next, line: chosen && chosen.page === at.page ? chosen.line : "" } : null;
    all("body > .plate, body > #_main, body > .turn, body > .foot, body > .skip").forEach(function (e) { e.hidden = !!(at.page || at.panel); });
    panel.hidden = !at.panel;
    document.body.classList.toggle("holds-frame", !!at.page);
    if (at.page) {
      var place = next ? "" : at.place, address = at.page + (place ? "#" + place : "");
      if (!frame) {
        asked = at.page;
        frame = make("iframe", { "class": "frame", name: secret, title: "Page of the manual", src: address });
        // A page that could not be read says nothing of itself.
        frame.addEventListener("load", function () { asked = ""; });
        // The page brings its own main part along.
        room = make("section", { "class": "frame-room", "aria-labelledby": "_room" }, make("h1", { "class": "apart", id: "_room" }, at.page), frame);
        document.body.insertBefore(room, panel);
      } else if ((asked || here) !== at.page || place) {
        if ((asked || here) !== at.page) { asked = at.page; }
        frame.src = address;
      }
      room.hidden = false;
      if (!asked) { goIn(); }
      showTurns();
      return;
    }
    if (room) { room.hidden = true; }
    showTurns();
    document.title = data.title + ", " + data.configuration + (data.kit ? ", kit " + data.kit : "");
    if (at.panel) {
      empty(panel);
      panels[at.panel](panel, at.rest);
      showLooks(settings);
      if (moved) { panel.focus(); window.scrollTo(0, 0); }
      return;
    }
    showNext();
    if (moved) { main.focus(); window.scrollTo(0, 0); }
  }

  function steps() { return work.steps(data); }
  function doneOf(state, target) { return work.doneOf(state, target); }

  // Where the builder left off, and what can be done now.
  function showNext() {
    var state = record.state(log).now, left = steps().filter(function (p) { return !doneOf(state, p); }), old = document.querySelector(".left-off");
    if (old) { old.parentNode.removeChild(old); }
    var box = make("div", { "class": "left-off" }), today = make("a", { "class": "go-today", href: "#_today" }, "Today\u2019s work"), place = work.place(data, log, state);
    // A step that waits is gone on with where nothing else is left.
    var first = left.filter(function (p) { return !waitsFor(state, p.s).length; })[0] || left[0], next = place ? place.page : first, action = next ? work.action(log, state, next) : null;
    if (next && log.length) {
      var done = steps().filter(function (p) { return doneOf(state, p); }).length;
      var changed = changedSteps(state).length, wrong = steps().filter(function (p) { return doneOf(state, p) && outside(state, p).length; });
      box.appendChild(make("p", {}, make("a", { "class": "go-on", href: "#" + next.f + (action && action.next ? "~_next" : "") },
        make("b", {}, "Go on at " + next.n + (action && action.next ? ", action " + action.next : "")), " ", make("span", {}, next.t)), today));
      box.appendChild(make("p", {}, (place ? "You stopped there on " + place.at.slice(0, 10) + ". " : "") + (action ? action.next ? "Action " + action.next + " of " + action.of + " is next. " : "All its actions are ticked; it is not closed yet. " : "") + done + " of " + steps().length + " steps done."));
      if (place && first && first !== place.page && data.pages.indexOf(first) < data.pages.indexOf(place.page)) { box.appendChild(make("p", {}, "The first step that is not done: ", pageLink(first), ".")); }
      if (changed) { box.appendChild(make("p", {}, link("_record", changed + (changed === 1 ? " step has" : " steps have") + " changed since you did " + (changed === 1 ? "it" : "them")), ".")); }
      if (wrong.length) { box.appendChild(make("p", {}, link("_record", wrong.length + (wrong.length === 1 ? " step is" : " steps are") + " out of tolerance"), ".")); }
      if (unsaved() >= MANY) { box.appendChild(make("p", { "class": "unsaved" }, unsavedWords(unsaved()) + " This browser alone has them. ", button("Save a copy", function () { save(); showNext(); }))); }
    } else { box.appendChild(make("p", {}, today)); }
    document.querySelector("article").insertBefore(box, document.querySelector("article h1").nextSibling);
  }

  function changedSteps(state) { return steps().filter(function (p) { var e = doneOf(state, p); return e && e.digest !== p.d; }); }

  // ---- panels ----
  var panels = {
    record: function (into) {
      reload();
      var state = record.state(log).now, hours = 0, changed = changedSteps(state), foreign = {}, said = make("p", { role: "status", "class": "import-said" });
      Object.keys(state).forEach(function (k) {
        var e = state[k];
        if (e.kind === "hours" && /^[\d.]+$/.test(e.value)) { hours += +e.value; }
        if (e.step !== "-" && !stepOf[e.step] && e.value) { foreign[e.step] = true; }
      });
      var number = make("input", { type: "text", id: "_kit", maxlength: 40, value: kit, autocomplete: "off" });
      var file = make("input", { type: "file", id: "_file", accept: ".txt,text/plain" });
      file.addEventListener("change", function () { if (file.files[0]) { open(file.files[0], said); } file.value = ""; });
      var done = steps().filter(function (p) { return doneOf(state, p); }).length;
      into.appendChild(make("h1", {}, "Record"));
      into.appendChild(make("p", {}, make("b", {}, data.configuration), ", " + data.manual + ", " + data.release + (kit ? ", kit " + kit : "")));
      var held = steps().filter(function (p) { return waitsFor(state, p.s).length; }), wrong = steps().filter(function (p) { return outside(state, p).length; });
      into.appendChild(make("p", {}, done + " of " + steps().length + " steps done, " + (Math.round(hours * 100) / 100) + " hours written down, " + log.length + " entries. ", make("b", { "class": "unsaved" }, unsaved() ? unsavedWords(unsaved()) : "All of them are in a saved file."), " The record is kept in this browser on this machine only. Save it to a file now and then."));
      // The stick of a kit knows its number.
      if (!data.kit) { into.appendChild(make("p", { "class": "no-print" }, make("label", { "for": "_kit" }, "Kit number "), number, " ", button("Use this number", function () { useKit(number.value.trim()); }))); }
      var without = data.kit && load("record/") ? record.read(load("record/")) : null;
      if (without && without.log && without.log.length) {
        into.appendChild(make("p", { "class": "no-print" }, "This browser holds a record of this configuration without a kit number, of " + without.log.length + " entries. ", button("Take it over", function () { var words = taken(load("record/")); show(); document.querySelector(".import-said").textContent = words; })));
      }
      into.appendChild(make("p", { "class": "no-print actions" }, button("Save to a file", function () { save(); show(); document.querySelector(".import-said").textContent = "Handed to the browser to be saved. Look that the file is there, and keep it off this machine too."; }), button("Print", function () { window.print(); }), make("label", { "for": "_file" }, "Open a file "), file));
      into.appendChild(said);
      if (wrong.length) {
        into.appendChild(make("h2", {}, "Out of tolerance"));
        into.appendChild(list(wrong.map(function (p) { return make("span", {}, pageLink(p), ": " + outside(state, p).join(", ") + (doneOf(state, p) ? ". The step is ticked as done." : ".")); })));
      }
      if (held.length) {
        into.appendChild(make("h2", {}, "Waiting for a back order"));
        into.appendChild(list(held.map(function (p) { return make("span", {}, pageLink(p), ": " + waitsFor(state, p.s).join(", ")); })));
      }
      if (changed.length) {
        into.appendChild(make("h2", {}, "Changed since you did them"));
        into.appendChild(list(changed.map(pageLink)));
      }
      if (Object.keys(foreign).length) { into.appendChild(make("p", {}, "In the record but not in this release: " + Object.keys(foreign).join(", ") + ". Nothing of it is lost.")); }
      into.appendChild(make("h2", {}, "Results sheet"));
      var rows = [];
      steps().forEach(function (p) {
        (p.m || []).forEach(function (m) {
          var got = work.measured(state, p, m), e = got.e;
          rows.push([p.n, m[0], m[1], e ? e.value : "", !got.found ? "" : got.how === "low" ? "TOO LOW" : got.how === "high" ? "TOO HIGH" : m[2] || m[3] ? "within" : "", e && e.value ? e.at : ""]);
        });
        // Every signature that was given, those that were struck out too.
        var current = work.voided(log, p.s);
        log.forEach(function (e) {
          if (e.step !== p.s || e.kind !== "sign" || !e.value || e.verb === "undo") { return; }
          var struck = /^struck: /.test(e.value), last = state[p.s + "\u0000sign\u0000" + e.item] === e;
          rows.push([p.n, (struck ? "Struck out, " : "Signed, ") + e.item, "", e.value.replace(/^struck: /, ""), struck ? "" : !last ? "no longer applies" : current.indexOf(e.item) >= 0 ? "VOID: changed afterwards" : e.digest !== p.d ? "step changed since" : "", e.at]);
        });
      });
      into.appendChild(table(["Step", "Measure", "Required", "Measured", "Tolerance", "When"], rows));
      into.appendChild(make("h2", {}, "Log"));
      into.appendChild(table(["When", "What"], log.slice().reverse().map(function (e) { return [e.at + (isAhead(e) ? " (after today)" : ""), (e.verb === "undo" ? "taken back: " : "") + words(e)]; })));
    },

    today: function (into) {
      reload();
      today.show(into, { data: data, log: log, state: record.state(log).now, at: clock(0).slice(0, 16), kept: load("today"), keep: function (wish) { store("today", wish); showKept(); } });
    },

    bag: function (into, rest) { finder.bag(into, +rest); },

    thing: function (into, rest) {
      var t = data.things[+rest];
      if (!t) { return; }
      into.appendChild(make("h1", {}, t.n || t.t));
      into.appendChild(make("p", {}, (t.n ? t.t + ". " : "") + (t.q ? "Quantity " + t.q + ". " : "") + (t.b ? "Bag " + t.b + ". " : "") + (t.c ? "Crate " + t.c + ". " : "") + (t.r ? t.r + "." : "")));
      into.appendChild(make("h2", {}, "Where used"));
      into.appendChild(t.p.length ? list(t.p.map(function (at) { return pageLink(data.pages[at]); })) : make("p", {}, "In no step of this manual."));
    },

    slip: function (into, rest) {
      var target = stepOf[rest], state = record.state(log).now, lines = [], id = "_slip";
      lines.push("Query to " + (data.maker || "the maker"), "Manual: " + data.manual + ", " + data.release, "Configuration: " + data.configuration, "Kit: " + (kit || "(number not given)"));
      if (target) { lines.push("Step: " + target.n + " " + target.t + " (" + target.s + ")", "Digest of the step: " + target.d); }
      else {
        lines.push("Short or damaged on arrival (number first, for example: 2 missing):");
        Object.keys(state).forEach(function (k) { var e = state[k]; if (e.kind === "receive" && /^short: /.test(e.value)) { lines.push("  " + e.item + ": " + e.value.slice(7)); } });
      }
      lines.push("", "What is asked:", "");
      var area = make("textarea", { id: id, rows: 14 }), said = make("p", { role: "status" });
      area.value = drafts[rest] || lines.join("\n");
      area.addEventListener("input", function () { drafts[rest] = area.value; });
      into.appendChild(make("h1", {}, target ? "Query slip for step " + target.n : "Query slip for the delivery"));
      into.appendChild(make("p", {}, make("label", { "for": id }, "Write below what you want to know. Send it to the maker by any way you like."), area));
      into.appendChild(make("p", { "class": "actions" },
        button("Save to a file", function () { saveText("query-" + safe(data.manual) + (target ? "-" + safe(target.s) : "") + ".txt", area.value.replace(/\n/g, "\r\n")); }),
        button("Copy", function () { area.focus(); area.select(); said.textContent = document.execCommand("copy") ? "Copied." : "This browser does not copy; mark the text and copy it by hand."; })));
      into.appendChild(said);
    },

    display: function (into) {
      into.appendChild(make("h1", {}, "Display"));
      [["units", "Lengths", ["as written", "inch fractions", "decimal inches", "millimetres"]], ["text", "Text", ["usual", "large", "larger"]], ["look", "Look", ["as the system", "light", "dark", "high contrast"]]].forEach(function (row) {
        var set = make("fieldset", {}, make("legend", {}, row[1]));
        row[2].forEach(function (title, at) {
          var box = make("input", { type: "radio", name: "_" + row[0], id: "_" + row[0] + at });
          box.checked = (settings[row[0]] || "") === looks[row[0]][at];
          box.addEventListener("change", function () { settings[row[0]] = looks[row[0]][at]; store("display", [settings.units, settings.text, settings.look].join(" ")); showKept(); showLooks(settings); tellFrame(); });
          set.appendChild(make("label", { "for": box.id }, box, " " + title));
        });
        into.appendChild(set);
      });
      into.appendChild(make("p", {}, "Lengths are worked out again from their exact values; millimetres to one place. Sentences, figures, drill sizes and the paged documents show them as written."));
    }
  };

  function safe(name) { return name.replace(/[^A-Za-z0-9+-]/g, "_"); }

  function save() {
    reload();
    saveText("record-" + safe(data.manual + "-" + data.configuration + (kit ? "-" + kit : "")) + ".txt", record.write(of(), log));
    store("saved/" + kit, String(counted()));
    showKept();
  }

  // Takes in a file: all of it or nothing, and nothing that was there is lost.
  function open(file, said) {
    if (file.size > record.LARGEST) { said.textContent = "The file is larger than any record. Nothing was changed."; return; }
    var reader = new FileReader();
    reader.onerror = function () { said.textContent = "The file can't be read. Nothing was changed."; };
    reader.onload = function () {
      var words = taken(String(reader.result));
      show();
      document.querySelector(".import-said").textContent = words;
    };
    reader.readAsText(file);
  }

  function taken(text) {
    var found = record.read(text);
    if (found.fault) { return found.fault + " Nothing was changed."; }
    // The stick of a kit once called the configuration by the kit's folder.
    var mine = [data.configuration].concat(data.kit ? ["kit-" + ("0000" + data.kit).slice(-Math.max(4, data.kit.length))] : []);
    if (found.of.manual !== data.manual || mine.indexOf(found.of.configuration) < 0) {
      return "This record is of " + found.of.manual + " " + found.of.configuration + ", not of " + data.manual + " " + data.configuration + ". Nothing was changed.";
    }
    if (found.of.kit && kit && found.of.kit !== kit) { return "This record is of kit " + found.of.kit + ", not of kit " + kit + ". Nothing was changed." + (data.kit ? "" : " Use its number first."); }
    if (found.of.kit && !kit) { useKit(found.of.kit); }
    reload();
    var before = log.length, open = unsaved();
    log = record.merge(log, found.log);
    store("saved/" + kit, String(counted() - open));
    store("record/" + kit, record.write(of(), log));
    showKept();
    tellFrame();
    var ahead = found.log.filter(isAhead), far = "";
    if (ahead.length) {
      far = " " + ahead.length + (ahead.length === 1 ? " entry is" : " entries are") + " dated after today by the clock of this machine, the last " + ahead[ahead.length - 1].at + ": one of two clocks is wrong. New entries go by this machine's clock.";
    }
    var other = found.of.release !== data.release ? " It was kept under " + found.of.release + "; steps that have changed since are marked." : "";
    return (log.length - before) + " entries were added, " + (found.log.length - (log.length - before)) + " were here already." + other + far + (kept ? "" : " The browser does not keep them.");
  }

  // A record without a number goes with the first number it is given.
  function useKit(number) {
    var there = number ? load("record/" + number) : null, mine = log;
    if (number === kit || number.length > 40) { return; }
    var saved = load("saved/" + kit);
    if (there || kit) { log = []; } else { log = mine; if (saved) { store("saved/" + number, saved); } }
    kit = number;
    store("kit", kit);
    reload();
    store("record/" + kit, record.write(of(), log));
    showKept();
    show();
  }

  // ---- the bar ----
  function closeMenu() { var menu = bar.querySelector(".menu"); menu.hidden = true; bar.querySelector(".opens").setAttribute("aria-expanded", "false"); }

  function makeBar() {
    var menu = make("ul", { "class": "menu", id: "_menu" });
    menu.hidden = true;
    [["", "First page"], ["contents.html", "All pages"], ["_today", "Today\u2019s work"], ["receiving.html", "Receiving list"], ["_slip", "Query slip"], ["_record", "Record"], ["_display", "Display"]].forEach(function (e) {
      if (/html$/.test(e[0]) && !pageOf[e[0]]) { return; }
      menu.appendChild(make("li", {}, link(e[0], e[1])));
    });
    var menuRecord = menu.querySelector("a[href='#_record']");
    menu.appendChild(make("li", {}, button("Print this page", function () { closeMenu(); if (room && !room.hidden) { tellFrame({ say: "print" }); } else { window.print(); } })));
    var opens = button("Menu", function () { finder.hide(); menu.hidden = !menu.hidden; menuRecord.textContent = "Record" + (unsaved() ? " (" + unsaved() + " in no file)" : ""); opens.setAttribute("aria-expanded", String(!menu.hidden)); }, "opens");
    opens.setAttribute("aria-expanded", "false");
    opens.setAttribute("aria-controls", "_menu");
    again = button("Redo", function () { turn("redo"); });
    again.hidden = true;
    bar = make("section", { "class": "bar-shell", "aria-label": "Tools" }, make("nav", { "class": "bar-menu", "aria-label": "Menu" }, opens, menu), finder.begin(data), button("Undo", function () { turn("undo"); }, "undo"), again, make("span", { "class": "said", role: "status" }));
    bar.addEventListener("keydown", function (e) {
      if ((e.key === "Escape" || e.key === "Esc") && !menu.hidden) { closeMenu(); opens.focus(); }
    });
    notice = make("p", { "class": "not-kept", role: "alert" });
    notice.hidden = true;
    panel = make("main", { "class": "panel", tabindex: -1 });
    panel.hidden = true;
    document.body.insertBefore(bar, document.querySelector(".skip").nextSibling);
    document.body.insertBefore(notice, bar.nextSibling);
    document.body.appendChild(panel);
  }

  // Known to this window and to the frame it makes.
  function makeSecret() {
    var bytes = new Uint8Array(16);
    window.crypto.getRandomValues(bytes);
    for (var i = 0; i < 16; i += 1) { secret += (bytes[i] + 256).toString(16).slice(1); }
  }

  function begin(given) {
    data = given;
    makeSecret();
    // Whoever opened this window has no say in it.
    try { window.opener = null; } catch (e) { /* It has none. */ }
    data.pages.forEach(function (p) { pageOf[p.f] = p; if (p.s) { stepOf[p.s] = p; } });
    document.body.className += " shell";
    makeBar();
    store("try", "1");
    kit = data.kit || load("kit") || "";
    var display = (load("display") || "").split(" ");
    settings = { units: display[0] || "", text: display[1] || "", look: display[2] || "" };
    reload();
    showLooks(settings);
    showKept();
    window.addEventListener("message", listen);
    window.addEventListener("hashchange", function () { show(true); });
    document.addEventListener("keydown", function (event) { if (isPrintKey(event) && room && !room.hidden) { event.preventDefault(); tellFrame({ say: "print" }); } });
    window.addEventListener("storage", function () { reload(); tellFrame(); });
    // A result of the page that is shown already changes no address.
    bar.addEventListener("click", function (event) {
      var link = event.target.closest && event.target.closest(".results a");
      if (link && link.getAttribute("href") === window.location.hash) { show(true); }
    });
    window.addEventListener("beforeunload", function (event) { if (!kept && log.length) { event.preventDefault(); event.returnValue = ""; } });
    document.addEventListener("click", function (event) {
      var link = event.target.closest && event.target.closest("a[href]"), to = link && link.getAttribute("href").split("#");
      if (to && to[0] && pageOf[to[0]]) { event.preventDefault(); window.location.hash = to[0] === data.pages[0].f ? "" : to[0] + (to[1] ? "~" + to[1] : ""); }
    });
    show();
  }

  return { begin: begin };
})();
