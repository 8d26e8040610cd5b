// A page: turning to the next, figures enlarged, and, inside the shell, the builder's record.
var page = (function () {
  var body = document.body, number = 0;
  // The shell gives its frame a name that nobody else knows; in a frame of anyone else's a page keeps no record.
  var secret = window.parent !== window && /^kitwright-[0-9a-f]{32}$/.test(window.name) ? window.name : "", framed = !!secret;
  var step = body.getAttribute("data-step"), digest = body.getAttribute("data-digest"), units = "";
  var fields = [], names = {}, closing = function () {};

  function tell(message) {
    message.kitwright = secret;
    // Pages from disk have no origin that could be named; the shell looks at who is speaking.
    window.parent.postMessage(message, atHome());
  }

  function set(kind, item, value) {
    tell({ say: "set", step: step || "-", digest: digest || "-", kind: kind, item: item, value: value });
  }

  // A field knows its kind and item, and shows the entry it is handed.
  function field(kind, item, show, element) { fields.push({ kind: kind, item: item, show: show, element: element }); }

  // Keeps what is typed when the field is left, when typing rests, and when the page goes: a battery that dies loses a
  // second. Half a measure is no fault yet while it is typed.
  function typed(input, keep) {
    var waits = null, last = null;
    function now(resting) {
      clearTimeout(waits);
      waits = null;
      if (input.value !== last && keep(resting) !== false) { last = input.value; }
    }
    input.addEventListener("focus", function () { last = input.value; });
    input.addEventListener("input", function () { clearTimeout(waits); waits = setTimeout(function () { now(true); }, 1000); });
    input.addEventListener("change", function () { now(false); });
    window.addEventListener("pagehide", function () { if (waits !== null) { now(true); } });
  }

  function tick(row, kind, item) {
    var box = make("input", { type: "checkbox", "aria-label": { receive: "Received: ", pull: "At hand: ", check: "Checked: " }[kind] + item });
    box.addEventListener("change", function () { set(kind, item, box.checked ? "yes" : ""); });
    var target = make("label", { "class": "tick-target" }, box);
    var drawn = row.querySelector(".tick-box");
    if (drawn) { drawn.parentNode.replaceChild(target, drawn); }
    else { row.cells[0].insertBefore(target, row.cells[0].firstChild); }
    if (kind === "receive") { short(row, item, box); return; }
    field(kind, item, function (e) { box.checked = !!e && e.value === "yes"; }, box);
  }

  function short(row, item, box) {
    number += 1;
    var input = make("input", { type: "text", maxlength: 200, "aria-label": "Short or damaged: " + item, placeholder: "short or damaged?" });
    typed(input, function () { set("receive", item, input.value ? "short: " + input.value : ""); });
    row.cells[row.cells.length - 2].appendChild(make("span", { "class": "short" }, input));
    field("receive", item, function (e) {
      var value = e ? e.value : "", words = /^short: ([^]*)$/.exec(value);
      box.checked = value === "yes";
      // A shortage is taken back by emptying its field, not by a tick that wipes it.
      box.disabled = !!words;
      if (document.activeElement !== input) { input.value = words ? words[1] : ""; }
    }, input);
  }

  function measure(row, item) {
    var unit = row.getAttribute("data-unit") || "in", id = "_measure-" + (number += 1);
    var low = values.fromText(row.getAttribute("data-low")), high = values.fromText(row.getAttribute("data-high"));
    var cell = row.cells[row.cells.length - 1];
    var input = make("input", { type: "text", inputmode: "text", autocomplete: "off", maxlength: 40, "aria-label": "Measured: " + item, "aria-describedby": id });
    var verdict = make("span", { "class": "verdict", id: id, role: "status" });
    var shown = make("span", { "class": "measured-unit" }, unit);
    empty(cell);
    cell.appendChild(make("span", { "class": "measured" }, input, " ", shown));
    cell.appendChild(verdict);
    function beside() { return unit === "in" ? (units === "mm" || !units && body.getAttribute("data-units") === "mm" ? "mm" : "in") : unit; }
    // The unit that a bare number is read in; a value that names its own needs no other behind it.
    function label() { shown.textContent = /[a-z\u00b0%"]/i.test(input.value) ? "" : beside(); }
    input.addEventListener("input", label);
    var faulty = false;
    function say(text) {
      var found = text ? values.read(text, unit, beside()) : null;
      var how = !found ? "" : found.fault ? "fault" : low || high ? values.judge(found.value, low, high) || "good" : "kept";
      verdict.textContent = { "": "", fault: found && found.fault + " Not kept.", low: "TOO LOW: out of tolerance", high: "TOO HIGH: out of tolerance", good: "Within tolerance", kept: "Written down" }[how];
      verdict.className = "verdict verdict-" + (how || "none");
      input.setAttribute("aria-invalid", how === "low" || how === "high" || how === "fault" ? "true" : "false");
      faulty = how === "fault";
      return found;
    }
    typed(input, function (resting) {
      var text = input.value.trim(), found = text && resting ? values.read(text, unit, beside()) : null;
      if (found && found.fault) { return false; }
      found = say(text);
      if (!found) { set("measure", item, ""); } else if (!found.fault) { set("measure", item, found.text); }
      return true;
    });
    field("measure", item, function (e) {
      // What is being typed, or was not understood, stays to be corrected.
      if (!(document.activeElement === input && input.value || faulty)) {
        input.value = e ? e.value : "";
        say(input.value);
      }
      label();
    }, input);
  }

  // When it was glued, and how cold it will be: until when it has to be left alone.
  function glued(row, item) {
    var times = row.getAttribute("data-cures"), least = row.getAttribute("data-least");
    var id = "_glued-" + (number += 1), cell = row.cells[row.cells.length - 1];
    var input = make("input", { type: "text", autocomplete: "off", maxlength: 40, "aria-label": "Glued: " + item, "aria-describedby": id, placeholder: "2026-12-01 14:30, 18 C" });
    var verdict = make("span", { "class": "verdict", id: id, role: "status" });
    empty(cell);
    cell.appendChild(make("span", { "class": "measured glued-at" }, input));
    cell.appendChild(verdict);
    function say(text) {
      var found = text ? values.cure(text, times, least) : null;
      var until = found && found.until || [];
      verdict.textContent = !found ? "" : found.fault ? found.fault + (found.text ? "" : " Not kept.") :
        (until[0] ? "May be handled from " + until[0] + ". " : "") + "Fully cured at " + until[1] + ".";
      verdict.className = "verdict verdict-" + (!found ? "none" : found.fault ? "fault" : "kept");
      input.setAttribute("aria-invalid", found && found.fault ? "true" : "false");
      return found;
    }
    typed(input, function (resting) {
      var text = input.value.trim();
      if (resting && text && !values.cure(text, times, "").text) { return false; }
      var found = say(text);
      if (!found) { set("glued", item, ""); } else if (found.text) { set("glued", item, found.text); }
      return true;
    });
    field("glued", item, function (e) {
      if (document.activeElement === input && input.value) { return; }
      input.value = e ? e.value : "";
      say(input.value);
    }, input);
  }

  // What another step has glued, and from when on this one may begin.
  function cured(row, item) {
    var last = row.cells.length - 1, when = row.cells[last - 1], until = row.cells[last];
    var verdict = make("span", { "class": "verdict", role: "status" });
    empty(when);
    empty(until);
    until.appendChild(verdict);
    field("glued", item, function (e) {
      var found = e && e.value ? values.cure(e.value, row.getAttribute("data-cures"), row.getAttribute("data-least")) : null;
      when.textContent = e && e.value ? e.value : "not written down yet";
      verdict.textContent = !found ? "Write down when it was glued, at its step." : found.fault || found.until[0] || "The maker gives no time: stop and ask.";
      verdict.className = "verdict verdict-" + (found && !found.fault && found.until[0] ? "kept" : "fault");
    });
  }

  // What was on back order, and when it came.
  function arrived(row, item) {
    var cell = row.cells[row.cells.length - 1], box = make("input", { type: "checkbox", id: "_arrived-" + (number += 1) }), when = make("span", { role: "status" });
    empty(cell);
    cell.appendChild(make("label", { "class": "arrived", "for": box.id }, box, " arrived"));
    cell.appendChild(when);
    box.addEventListener("change", function () { set("arrived", item, box.checked ? "yes" : ""); });
    field("arrived", item, function (e) {
      box.checked = !!e && e.value === "yes";
      when.textContent = box.checked ? " " + e.at.slice(0, 10) : "";
    }, box);
  }

  // A signature stays: it is struck out with a reason and can be read for ever. What is changed on the page after it makes it
  // void; the second person is another one.
  function sign(line) {
    var role = line.getAttribute("data-role"), id = "_strike-" + (number += 1);
    var input = make("input", { type: "text", maxlength: 80, autocomplete: "off", "aria-label": "Name or initials: " + role, placeholder: "name or initials" });
    var when = make("span", { "class": "signed", role: "status" }), reason = make("input", { type: "text", id: id, maxlength: 200, autocomplete: "off" });
    var act = button("Sign", function () {
      var name = input.value.trim();
      if (!name) { when.textContent = "Type a name or initials first."; input.focus(); }
      else if (Object.keys(names).some(function (other) { return other !== role && names[other].toLowerCase() === name.toLowerCase(); })) {
        when.textContent = "Not signed: " + name + " has signed this step already. The second person is another one.";
      } else { set("sign", role, name); }
    });
    var strike = button("Strike out", function () {
      if (reason.value.trim()) { set("sign", role, "struck: " + names[role] + ", " + reason.value.trim()); reason.value = ""; }
      else { when.textContent = "Write first why it is struck out."; reason.focus(); }
    });
    var why = make("span", { "class": "strike" }, make("label", { "for": id }, "Why "), reason, strike);
    why.hidden = true;
    input.addEventListener("keydown", function (event) { if (event.key === "Enter") { event.preventDefault(); act.click(); } });
    input.addEventListener("input", function () { if (!names[role]) { when.textContent = input.value.trim() ? "Not signed yet: press Sign." : ""; } });
    line.appendChild(make("div", { "class": "sign-here" }, input, act, when, why));
    field("sign", role, function (e, voided) {
      var struck = e && /^struck: ([^]*)$/.exec(e.value), signed = e && e.value && !struck ? e.value : "", isVoid = signed && voided.indexOf(role) >= 0;
      why.hidden = !signed;
      input.readOnly = !!signed && !isVoid;
      act.disabled = input.readOnly;
      if (signed) {
        if (document.activeElement !== input || input.readOnly) { input.value = signed; }
        when.textContent = "Signed " + e.at + (isVoid ? ". VOID: something was changed on this page afterwards. Look at it and sign once more." : e.digest !== digest ? ". The step has changed since." : "");
      } else if (struck) { when.textContent = "Struck out " + e.at + ": " + struck[1]; if (names[role]) { input.value = ""; } }
      else if (names[role]) { when.textContent = ""; input.value = ""; }
      if (signed) { names[role] = signed; } else { delete names[role]; }
    });
  }

  function atTheEnd() {
    var done = make("input", { type: "checkbox", id: "_done" }), said = make("p", { "class": "changed", role: "status" });
    var hours = make("input", { type: "text", inputmode: "decimal", id: "_hours", maxlength: 6, autocomplete: "off" });
    var note = make("textarea", { id: "_notes", rows: 3, maxlength: 3000 });
    var answer = make("input", { type: "text", id: "_answer", maxlength: 80, autocomplete: "off" });
    var asks = make("p", { "class": "asks", role: "alert" }), answered = make("p", {}, make("label", { "for": "_answer" }, "Number of the maker's answer"), " ", answer);
    var holds = make("p", { "class": "holds", role: "status" });
    asks.hidden = answered.hidden = true;
    typed(answer, function () { set("answer", "", answer.value.trim()); });
    done.addEventListener("change", function () { set("done", "", done.checked ? "yes" : ""); });
    // A value out of tolerance, or what is not there, closes the step to the tick; only the maker's answer opens it.
    closing = function (waits, outside) {
      asks.hidden = !waits.length && !outside.length;
      answered.hidden = !outside.length;
      asks.textContent = (outside.length ? "STOP AND ASK: " + outside.join(", ") + (outside.length === 1 ? " is" : " are") + " out of tolerance. Do not go on. Ask the maker, and write down the number of the answer. " : "") +
        (waits.length ? "This step waits for " + waits.join(", ") + "." : "");
      // A hold point blocks what it closes.
      var held = all(".group-inspect .tick-target input").filter(function (box) { return !box.checked; }).length;
      var open = done.checked ? "" : actions.missing();
      holds.textContent = (held && !done.checked ? "Inspect first: " + held + (held === 1 ? " point is" : " points are") + " not ticked. " : "") + open;
      done.disabled = !done.checked && (held > 0 || waits.length > 0 || outside.length > 0 && !/\d/.test(answer.value));
    };
    typed(hours, function () {
      if (/^(\d{1,4}(\.\d{1,2})?)?$/.test(hours.value.trim())) { set("hours", "", hours.value.trim()); said.textContent = ""; }
      else { said.textContent = "Write hours as a number, for example 1.5. Not kept."; }
    });
    typed(note, function () { set("note", "", note.value); });
    document.querySelector("article").appendChild(make("section", { "class": "group group-record", "aria-labelledby": "_record" },
      make("h2", { id: "_record" }, "Your record"),
      asks, answered, holds,
      make("label", { "class": "done", "for": "_done" }, done, " Step done"), said,
      make("p", {}, make("label", { "for": "_hours" }, "Hours it took"), " ", hours),
      make("p", {}, make("label", { "for": "_notes" }, "Notes"), note),
      make("p", {}, button("Ask the maker about this step", function () { tell({ say: "slip", step: step }); }))));
    field("done", "", function (e) {
      done.checked = !!e && e.value === "yes";
      said.textContent = done.checked ? "Done " + e.at + (e.digest !== digest ? ". THIS STEP HAS CHANGED SINCE. Read it again and check your work." : "") : "";
      said.className = "changed" + (done.checked && e.digest !== digest ? " changed-since" : "");
    }, done);
    [["answer", answer], ["hours", hours], ["note", note]].forEach(function (f) {
      field(f[0], "", function (e) { if (document.activeElement !== f[1]) { f[1].value = e ? e.value : ""; } }, f[1]);
    });
  }

  // Lists of steps say which are done.
  function showDone(done) {
    all(".contents a[href]").forEach(function (link) {
      var word = done[link.getAttribute("href")] || "", mark = link.querySelector(".entry-done");
      if (!mark && word) { mark = link.appendChild(make("span", { "class": "entry-done" })); }
      if (mark) { mark.textContent = word; mark.className = "entry-done" + (word === "done" ? " is-done" : /^waits/.test(word) ? " is-waiting" : ""); }
    });
  }

  function listen(event) {
    var m = event.data;
    if (event.source !== window.parent || !fromHome(event.origin) || !m || m.kitwright !== secret) { return; }
    if (m.say === "print") { window.print(); }
    if (m.say === "next" && !actions.goOn()) { showLine(""); }
    if (m.say === "find") { showLine(String(m.line || "")); }
    if (m.say === "look") { fields.forEach(function (f) { if (f.element && f.kind === m.kind && f.item === m.item) { showField(f.element); } }); }
    if (m.say === "state") {
      units = m.settings.units;
      showLooks(m.settings);
      showDone(m.done || {});
      fields.forEach(function (f) { f.show(m.now[f.kind + "\u0000" + f.item], m.voided || []); });
      actions.mark();
      closing(m.waits || [], m.outside || []);
    }
  }

  function highlight(element) {
    all(".found-here").forEach(function (e) { e.classList.remove("found-here"); });
    element.classList.add("found-here");
  }

  // What was taken back or done once more, seen.
  function showField(element) {
    var box = element.getBoundingClientRect();
    highlight(element.closest && (element.closest("li, tr, .sign-off") || element.closest("p, label")) || element);
    if (box.top < 0 || box.bottom > window.innerHeight) { toView(element); }
  }

  // The line that a search has found, as well as its words tell: into view, marked, and the keyboard goes there. Without a line
  // it goes to the text.
  function showLine(line) {
    var main = document.querySelector("main"), wanted = {}, best = null, most = 0;
    search.words(line).forEach(function (word) { wanted[word] = true; });
    all("li, tr, p, dd, figcaption, pre, h1, h2, h3, h4", main).forEach(function (element) {
      var found = {}, hits = 0, others = 0;
      search.words(element.textContent).forEach(function (word) {
        if (found[word]) { return; }
        found[word] = true;
        if (Object.prototype.hasOwnProperty.call(wanted, word)) { hits += 1; } else { others += 1; }
      });
      if (hits - others / 4 > most) { most = hits - others / 4; best = element; }
    });
    if (!best) { main.focus(); return; }
    for (var shut = best.parentNode; shut && shut !== main; shut = shut.parentNode) { if (shut.tagName === "DETAILS") { shut.open = true; shut.setAttribute("open", ""); } }
    best.setAttribute("tabindex", "-1");
    highlight(best);
    best.focus();
    toView(best);
  }

  // The width of a drawing in pixels, as it is drawn: an inch is 25.4 mm and 96 pixels.
  function natural(svg) { return parseFloat(svg.getAttribute("width")) * 96 / 25.4; }

  // Large, and pushed about by finger, mouse or arrow keys.
  function enlarge(picture, opener) {
    var scale = 1, inner = picture.cloneNode(true), image = inner.querySelector("img"), wide;
    if (image) {
      wide = Math.min(Math.max(image.getAttribute("width"), 300), window.innerWidth - 24);
      ["srcset", "sizes"].forEach(function (name) { image.removeAttribute(name); });
    } else {
      wide = natural(inner.querySelector("svg"));
    }
    all("[id]", inner).forEach(function (e) { e.removeAttribute("id"); });
    all("a", inner).forEach(function (e) { e.removeAttribute("href"); });
    inner.style.maxWidth = "none";
    var room = make("div", { "class": "room", tabindex: 0, "aria-label": "Picture. Arrow keys move it." }, inner);
    function size(by) {
      scale = Math.min(8, Math.max(.25, scale * by));
      inner.style.width = Math.round(wide * scale) + "px";
    }
    function close() { document.body.removeChild(box); opener.focus(); }
    var first = button("Close", close);
    var box = make("div", { "class": "enlarged", role: "dialog", "aria-modal": "true", "aria-label": "Enlarged figure" },
      make("p", { "class": "tools" }, first, button("Larger", function () { size(1.5); }), button("Smaller", function () { size(1 / 1.5); })), room);
    // What the numbers in it mean, where it is as large as the window.
    var told = opener.parentNode.querySelector("figcaption"), from = null;
    if (told) {
      told = told.cloneNode(true);
      all("[id]", told).forEach(function (e) { e.removeAttribute("id"); });
      all("a", told).forEach(function (e) { e.removeAttribute("href"); });
      room.appendChild(told);
    }
    room.addEventListener("mousedown", function (e) { from = { x: e.clientX + room.scrollLeft, y: e.clientY + room.scrollTop }; e.preventDefault(); room.focus(); });
    room.addEventListener("mousemove", function (e) { if (from && e.buttons) { room.scrollLeft = from.x - e.clientX; room.scrollTop = from.y - e.clientY; } });
    room.addEventListener("dblclick", function () { size(1.5); });
    box.addEventListener("keydown", function (e) {
      e.stopPropagation();
      if (e.key === "Escape" || e.key === "Esc") { close(); }
      if (e.key === "Tab") {
        var stops = all("button, .room", box), at = stops.indexOf(document.activeElement) + (e.shiftKey ? -1 : 1);
        stops[(at + stops.length) % stops.length].focus();
        e.preventDefault();
      }
    });
    size(1);
    document.body.appendChild(box);
    first.focus();
  }

  function figures() {
    body.className += " enlarges";
    all("figure > .picture").forEach(function (picture) {
      var act = button("Enlarge", function () { enlarge(picture, act); }, "enlarge");
      picture.parentNode.insertBefore(act, picture.nextSibling);
      picture.querySelector("img").addEventListener("click", function () { enlarge(picture, act); });
    });
    // The compiler's own drawings only where the window is too narrow for their lettering.
    all(".drawing > .sheet").forEach(function (sheet) {
      var svg = sheet.querySelector("svg");
      if (!svg || svg.getBoundingClientRect().width >= natural(svg) * .9) { return; }
      var act = button("Enlarge", function () { enlarge(sheet, act); }, "enlarge");
      sheet.parentNode.insertBefore(act, sheet.nextSibling);
      svg.addEventListener("click", function () { enlarge(sheet, act); });
    });
  }

  function turn(selector) {
    var link = document.querySelector(".turn " + selector);
    if (link) { link.click(); }
    return !!link;
  }

  function turning() {
    document.addEventListener("keydown", function (event) {
      if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey || isTyping(event.target)) { return; }
      var way = { ArrowRight: ".turn-next", Right: ".turn-next", ArrowLeft: ".turn-previous", Left: ".turn-previous" }[event.key];
      if (way && turn(way)) { event.preventDefault(); }
    });
    var from = null;
    document.addEventListener("touchstart", function (event) {
      var t = event.touches[0];
      from = event.touches.length === 1 && !isTyping(event.target) && !document.querySelector(".enlarged") ? { x: t.clientX, y: t.clientY } : null;
    });
    document.addEventListener("touchend", function (event) {
      var t = event.changedTouches[0];
      if (!from) { return; }
      var across = t.clientX - from.x, down = Math.abs(t.clientY - from.y);
      from = null;
      if (Math.abs(across) > 90 && down < 50) { turn(across < 0 ? ".turn-next" : ".turn-previous"); }
    });
  }

  // Alone, a page keeps no record and says where one is kept.
  function alone() {
    var home = body.getAttribute("data-home");
    var where = home + "#" + body.getAttribute("data-page");
    document.querySelector("article").insertBefore(make("p", { "class": "alone" }, make("a", { href: where }, "Open this page in the manual"), " to search, tick off and keep your record."), document.querySelector("article").firstChild);
  }

  function inTheShell() {
    body.className += " framed";
    document.addEventListener("keydown", function (event) { if (isPrintKey(event)) { event.preventDefault(); window.print(); } });
    window.addEventListener("message", listen);
    var home = body.getAttribute("data-home");
    document.addEventListener("click", function (event) {
      var link = event.target.closest && event.target.closest("a[href]");
      if (link && link.getAttribute("href") === home) { event.preventDefault(); tell({ say: "home" }); }
    });
    // Whether it has arrived by now is said behind the title.
    all(".contents a strong").forEach(function (word) { if (/waits for a back order/.test(word.textContent)) { word.parentNode.removeChild(word); } });
    all("[data-record]").forEach(function (row) {
      var kind = row.getAttribute("data-record"), item = row.getAttribute("data-item");
      if (kind === "measure") { measure(row, item); } else if (kind === "glued") { glued(row, item); } else if (kind === "cured") { cured(row, item); } else if (kind === "arrived") { arrived(row, item); } else { tick(row, kind, item); }
    });
    all("article li > .tick-box").forEach(function (drawn) {
      var item = drawn.parentNode, words = item.textContent.replace(/\s+/g, " ").trim();
      tick(item, "check", ((step ? "" : document.title + ": ") + words).slice(0, 300));
    });
    if (step) { actions.begin({ field: field, set: set, digest: digest }); }
    all(".sign-off").forEach(sign);
    var first = body.getAttribute("data-page") === "results.html" && document.querySelector("article table");
    if (first) {
      first.parentNode.insertBefore(make("p", { "class": "no-print" }, "This sheet is to be written on by hand. What you typed at the steps is on the results sheet of your record: ", button("Open the record", function () { tell({ say: "record" }); })), first);
    }
    if (step) { atTheEnd(); }
    tell({ say: "here", page: body.getAttribute("data-page"), step: step || "-", fields: fields.map(function (f) { return f.kind + "\u0000" + f.item; }) });
  }

  function begin() {
    figures();
    turning();
    if (body.getAttribute("data-page") !== body.getAttribute("data-home")) { if (framed) { inTheShell(); } else { alone(); } }
    else if (framed) { tell({ say: "home" }); }
  }

  return { begin: begin, framed: framed };
})();
