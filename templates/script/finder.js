// The search of the shell: the field, what it finds with the lines that were found, and the way there by keyboard alone.
var finder = (function () {
  var MOST = 30, data, bags = [], lines = null, input, box, said, results, going;

  // The bags as places of their own behind pages and things, and the words by which they are found.
  function withBags(given) {
    var byName = {}, words = {}, names, posts;
    given.things.forEach(function (t) {
      if (!t.b) { return; }
      var k = t.c + "\u0000" + t.b;
      byName[k] = byName[k] || { bag: t.b, crate: t.c, things: [] };
      byName[k].things.push(t);
    });
    bags = Object.keys(byName).map(function (k) { return byName[k]; }).sort(function (a, b) {
      return a.crate.localeCompare(b.crate, "en", { numeric: true }) || a.bag.localeCompare(b.bag, "en", { numeric: true });
    });
    bags.forEach(function (bag, at) {
      var place = given.pages.length + given.things.length + at;
      function put(word, worth) { words["_" + word] = words["_" + word] || {}; words["_" + word][place] = Math.max(words["_" + word][place] || 0, worth); }
      put("bag", 8);
      put(bag.bag.toLowerCase(), 40);
      if (bag.crate) { put("crate", 2); put(bag.crate.toLowerCase(), 8); }
      bag.things.forEach(function (t) { search.words(t.n + " " + t.t).forEach(function (word) { put(word, 1); }); });
    });
    names = Object.keys(words);
    posts = names.map(function (word) {
      var flat = [];
      Object.keys(words[word]).forEach(function (place) { flat.push(+place, words[word][place]); });
      return flat;
    });
    return { words: given.words.concat(names.map(function (word) { return word.slice(1); })), posts: given.posts.concat(posts), everyday: given.everyday, units: given.units };
  }

  // The lines of the pages are read when someone searches, not before.
  function wantLines() {
    if (lines) { return; }
    lines = [];
    document.body.appendChild(make("script", { src: "lines.js", load: function () { lines = window.kitwrightLines || []; look(); }, error: function () { lines = null; look(); } }));
  }

  function inBag(t) { return (t.b ? "Bag " + t.b : "No bag") + (t.c ? ", crate " + t.c : ""); }

  function steps(t) { return t.p.length ? t.p.length + (t.p.length === 1 ? " step" : " steps") : "in no step"; }

  // What a place is: where it leads, its title, its kind, the lines in which it says what it is.
  function described(at) {
    var target = data.pages[at], t = data.things[at - data.pages.length], bag = bags[at - data.pages.length - data.things.length];
    if (target) { return { to: target.f, title: (target.n ? target.n + " " : "") + target.t, kind: "", lines: (lines || [])[at] || [] }; }
    if (t) {
      return { to: "_thing-" + (at - data.pages.length), title: (t.n ? t.n + " " : "") + t.t, kind: t.k + (t.k === "part" || t.k === "hardware" ? ", " + inBag(t) : "") + ", " + steps(t), lines: t.r ? [t.r] : [] };
    }
    return { to: "_bag-" + bags.indexOf(bag), title: "Bag " + bag.bag + (bag.crate ? ", crate " + bag.crate : ""), kind: bag.things.length + (bag.things.length === 1 ? " item" : " items"), lines: bag.things.map(function (x) { return x.n + " " + x.t; }) };
  }

  // At most so much of a line, around what was found in it.
  function excerpt(found, text) {
    var out = make("span", { "class": "found-line" }), cut = search.pieces(data.searched, found, text), before = cut[0];
    if (before.length > 70) { cut[0] = "\u2026" + before.slice(before.length - 60).replace(/^\S*/, ""); }
    var room = 170;
    cut.forEach(function (piece, at) {
      if (room <= 0) { return; }
      var shown = piece.length > room ? piece.slice(0, room).replace(/\S*$/, "") + "\u2026" : piece;
      room -= piece.length;
      out.appendChild(at % 2 ? make("mark", {}, shown) : document.createTextNode(shown));
    });
    return out;
  }

  // What is found, with its line. What was found in other words alone has to have them in one line; pages that have the
  // query in one line, word for word, come before those that have it here and there.
  function foundFor(typed) {
    var plain = {}, memo = {}, out;
    search.find(data.searched, typed, 1e9, true).forEach(function (at) { plain[at] = true; });
    out = search.find(data.searched, typed, MOST).map(function (at) {
      var d = described(at), isPage = at < data.pages.length;
      d.found = search.line(data.searched, isPage ? d.lines.concat([d.title]) : d.lines.concat([d.title, d.kind]), typed, memo);
      d.isPage = isPage;
      d.keep = !isPage || !d.lines.length || plain[at] || d.found.how || !d.found.line;
      return d;
    }).filter(function (d) { return d.keep; });
    function having(how) { return out.filter(function (d) { return (d.isPage ? d.found.how : 2) === how; }); }
    return having(2).concat(having(1), having(0));
  }

  function look() {
    var typed = input.value, found, others = [];
    empty(results);
    box.hidden = !typed.trim();
    if (box.hidden) { said.textContent = ""; return; }
    found = foundFor(typed);
    found.forEach(function (d) {
      var line = d.found.line === d.title || d.found.line === d.kind ? "" : d.found.line;
      if (d.found.by && others.indexOf(d.found.by) < 0) { others.push(d.found.by); }
      results.appendChild(make("li", {}, make("a", { href: "#" + d.to, click: function () { going = { page: d.to, line: d.isPage ? line : "" }; close(); } },
        make("span", { "class": "found-title" }, d.title), line ? excerpt(line, typed) : null, d.kind ? make("span", { "class": "found-kind" }, d.kind) : null)));
    });
    said.textContent = (found.length ? (found.length === MOST ? "The best " + MOST : String(found.length)) + " found." : "No page has these words.") +
      (others.length ? " Also looked for: " + others.slice(0, 3).join(", ") + "." : "") + (lines === null ? " lines.js is missing: the lines can\u2019t be shown." : "");
  }

  function links() { return all("a", results); }

  function close() { box.hidden = true; input.value = ""; said.textContent = ""; }

  function keys(event) {
    var list = links(), at = list.indexOf(document.activeElement), to = null;
    if (box.hidden) { return; }
    if (event.key === "Escape" || event.key === "Esc") { close(); input.focus(); return; }
    if (event.key === "Enter" && event.target === input && list[0]) { list[0].click(); event.preventDefault(); return; }
    if (event.key === "ArrowDown" || event.key === "Down") { to = list[Math.min(at + 1, list.length - 1)]; }
    if (event.key === "ArrowUp" || event.key === "Up") { to = at > 0 ? list[at - 1] : input; }
    if (at >= 0 && event.key === "Home") { to = list[0]; }
    if (at >= 0 && event.key === "End") { to = list[list.length - 1]; }
    if (to) { event.preventDefault(); to.focus(); }
  }

  // The field and what belongs to it, for the bar.
  function begin(given) {
    data = given;
    data.searched = withBags(given);
    input = make("input", { type: "search", "aria-label": "Search the manual", "aria-controls": "_found", "aria-describedby": "_found-said", placeholder: "Search", autocomplete: "off", input: look, focus: wantLines });
    said = make("p", { "class": "found-said", id: "_found-said", role: "status" });
    results = make("ul", { "class": "results", id: "_found" });
    box = make("section", { "class": "found", "aria-label": "Found" }, said, results);
    box.hidden = true;
    var whole = make("div", { "class": "finder", role: "search", keydown: keys }, input, box);
    return whole;
  }

  // What was chosen last, once: the page, and the line that was found in it.
  function chosen() { var was = going; going = null; return was; }

  function hide() { if (box) { box.hidden = true; } }

  function bag(into, number) {
    var b = bags[number];
    if (!b) { return; }
    into.appendChild(make("h1", {}, "Bag " + b.bag));
    if (b.crate) { into.appendChild(make("p", {}, "In crate " + b.crate + ".")); }
    into.appendChild(table(["Number", "Item", "Quantity", "Steps"], b.things.map(function (t) {
      return [link("_thing-" + data.things.indexOf(t), t.n), t.t + (t.r ? "; " + t.r : ""), t.q, t.p.map(function (at) { return data.pages[at].n; }).join(", ")];
    })));
  }

  return { begin: begin, chosen: chosen, hide: hide, close: close, bag: bag };
})();
