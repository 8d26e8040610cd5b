// The view of today's work: what can be begun in the hours that there are, and what it takes.
var today = (function () {
  function plural(n, word) { return n + " " + word + (n === 1 ? "" : "s"); }

  function hoursWords(hours) { return values.decimal(hours, 2) + (hours.n === hours.d ? " hour" : " hours"); }

  // What is to be said of a step in the list, a line each.
  function facts(s) {
    var out = [(s.hours ? hoursWords(s.hours) : "The manual gives no time for it; it is not counted") + (s.signs.length ? "; signed by " + s.signs.join(" and ") : "") + "."];
    if (s.begun) { out.push("Begun" + (s.action ? s.action.next ? ": go on with action " + s.action.next + " of " + s.action.of : ": all actions are ticked, close it" : "") + "."); }
    (s.page.g || []).forEach(function (g) { out.push("Glue of " + g[0] + ": " + work.cures(g[1], g[2]) + "."); });
    return out;
  }

  function why(s) {
    var out = s.hindered.slice();
    if (!s.helped) { out.push("It is signed by two; you are alone."); }
    if (!s.hindered.length && !s.fits && s.hours && !s.taken) { out.push("Longer than the time that is left."); }
    if (s.skips.length && !s.hindered.length) {
      out.push("Before it in the manual, and not done: " + (s.skips.length > 4 ? s.skips.slice(0, 3).map(function (o) { return o.page.n; }).join(", ") + " and " + (s.skips.length - 3) + " more" : s.skips.map(function (o) { return o.page.n; }).join(", ")) + ". The manual does not say that it waits for " + (s.skips.length === 1 ? "it" : "them") + ".");
    }
    return out;
  }

  // `tools`: data, log, state, at (now), kept (the wish as it was stored), keep(wish).
  function show(into, tools) {
    var data = tools.data, kept = (tools.kept || "").split("|"), wish = { hours: 2, alone: kept[1] === "alone", out: {}, take: {} };
    var form = make("div", { "class": "no-print" }), said = make("p", { "class": "today-said", role: "status" }), out = make("div", {});
    if (/^\d{1,2}(\.\d{1,2})?$/.test(kept[0]) && +kept[0] > 0) { wish.hours = +kept[0]; }
    // What was taken or left out by hand holds for the day.
    if (kept[2] === tools.at.slice(0, 10)) {
      (kept[3] || "").split(" ").forEach(function (s) { if (s) { wish.take[s] = true; } });
      (kept[4] || "").split(" ").forEach(function (s) { if (s) { wish.out[s] = true; } });
    }

    function keep() { tools.keep([wish.hours, wish.alone ? "alone" : "", tools.at.slice(0, 10), Object.keys(wish.take).join(" "), Object.keys(wish.out).join(" ")].join("|")); }

    var presets = [1, 2, 4, 8].map(function (n) {
      return button(n + " h", function () { wish.hours = n; own.value = String(n); keep(); draw(); }, "preset");
    });
    var own = make("input", { type: "text", inputmode: "decimal", id: "_today-hours", maxlength: 5, autocomplete: "off", value: String(wish.hours) });
    own.addEventListener("input", function () {
      var typed = own.value.trim();
      if (!/^\d{1,2}(\.\d{1,2})?$/.test(typed) || !+typed) { said.textContent = "Write the hours as a number, for example 1.5."; return; }
      wish.hours = +typed;
      keep();
      draw();
    });
    var alone = make("input", { type: "checkbox", id: "_today-alone" });
    alone.checked = wish.alone;
    alone.addEventListener("change", function () { wish.alone = alone.checked; keep(); draw(); });
    form.appendChild(make("p", { "class": "today-hours" }, make("label", { "for": "_today-hours" }, "I have "), own, make("span", {}, "hours")));
    presets.forEach(function (b) { form.firstChild.appendChild(b); });
    form.appendChild(make("p", {}, make("label", { "class": "today-alone", "for": "_today-alone" }, alone, " I am alone: nobody else can sign")));

    function choice(s) {
      var box = make("input", { type: "checkbox", id: "_today-" + s.page.s });
      box.checked = s.taken;
      box.addEventListener("change", function () {
        delete wish.take[s.page.s];
        delete wish.out[s.page.s];
        wish[box.checked ? "take" : "out"][s.page.s] = true;
        keep();
        draw();
        var again = document.getElementById(box.id);
        for (var e = again; e && e !== into; e = e.parentNode) { if (e.tagName === "DETAILS") { e.setAttribute("open", ""); } }
        if (again) { again.focus(); }
      });
      var item = make("li", { "class": s.taken ? "is-taken" : "" }, make("label", { "class": "work-choice", "for": box.id }, box, make("b", {}, s.page.n + " " + s.page.t)), make("a", { "class": "work-open", href: "#" + s.page.f + (s.action && s.action.next ? "~_next" : ""), "aria-label": "Open " + s.page.n + " " + s.page.t }, "Open"));
      why(s).forEach(function (line) { item.appendChild(make("p", { "class": s.hindered.length || !s.helped ? "work-why" : "work-note" }, line)); });
      facts(s).forEach(function (line) { item.appendChild(make("p", { "class": "work-note" }, line)); });
      return item;
    }

    function group(title, steps, shut) {
      if (!steps.length) { return; }
      var items = make("ul", { "class": "work" });
      steps.forEach(function (s) { items.appendChild(choice(s)); });
      if (shut) { out.appendChild(make("details", { "class": "no-print" }, make("summary", {}, title + " (" + steps.length + ")"), items)); return; }
      out.appendChild(make("h2", {}, title));
      out.appendChild(items);
    }

    function needs(chosen) {
      var steps = chosen.map(function (s) { return s.page; }), named = {}, rows = [];
      steps.forEach(function (p) { named[p.s] = true; });
      var atHand = function (p, thing) { return work.value(tools.state, p.s, "pull", thing.n) ? p.n + " (at hand)" : p.n; };
      work.pulls(data, named).forEach(function (place) {
        rows.push([(place.crate ? "Crate " + place.crate : "No crate given") + (place.bag ? ", bag " + place.bag : "")]);
        place.rows.forEach(function (row) {
          rows.push([row.thing.n, row.thing.t + (row.hand ? ", " + row.hand : "") + (row.thing.r ? "; " + row.thing.r : ""), values.decimal(row.amount, 3) + (row.unit ? " " + row.unit : ""), row.steps.map(function (p) { return atHand(p, row.thing); }).join(", ")]);
        });
      });
      out.appendChild(make("h2", {}, "Fetch"));
      out.appendChild(rows.length ? table(["Number", "Item", "Quantity", "Steps"], rows) : make("p", {}, "Nothing out of the crates."));
      var made = [];
      chosen.forEach(function (s) { (s.page.w || []).forEach(function (w) { if (w[1] && made.indexOf(w[1]) < 0 && !named[data.pages[w[0]].s]) { made.push(w[1]); } }); });
      if (made.length) { out.appendChild(make("p", {}, make("b", {}, "From earlier steps: "), made.join(", ") + ".")); }
      [["tool", "Tools"], ["consumable", "Consumables"]].forEach(function (kind) {
        var found = data.things.filter(function (t) { return t.k === kind[0] && t.p.some(function (at) { return named[data.pages[at].s]; }); });
        if (!found.length) { return; }
        out.appendChild(make("h2", {}, kind[1]));
        out.appendChild(list(found.map(function (t) {
          return t.t + " (" + t.p.map(function (at) { return data.pages[at]; }).filter(function (p) { return named[p.s]; }).map(function (p) { return p.n; }).join(", ") + ")";
        })));
      });
      var two = chosen.filter(function (s) { return s.signs.length > 1; });
      if (two.length) {
        out.appendChild(make("h2", {}, "Who else"));
        out.appendChild(list(two.map(function (s) { return "Step " + s.page.n + " is signed by two: " + s.signs.join(" and ") + "."; })));
      }
      var glues = [];
      steps.forEach(function (p) { (p.g || []).forEach(function (g) { glues.push("Step " + p.n + ", " + g[0] + ": " + work.cures(g[1], g[2]) + "."); }); });
      if (glues.length) { out.appendChild(make("h2", {}, "What has to cure afterwards")); out.appendChild(list(glues)); }
    }

    function draw() {
      var hours = { n: Math.round(wish.hours * 100), d: 100 }, plan = work.plan(data, tools.log, tools.state, { hours: hours, alone: wish.alone, out: wish.out, take: wish.take }, tools.at);
      var taken = plan.steps.filter(function (s) { return s.taken; }), can = plan.steps.filter(function (s) { return !s.taken && !s.hindered.length; }), not = plan.steps.filter(function (s) { return !s.taken && s.hindered.length; });
      var untimed = taken.filter(function (s) { return !s.hours; }).length;
      presets.forEach(function (b) { b.setAttribute("aria-pressed", String(b.textContent === wish.hours + " h")); });
      empty(out);
      said.textContent = (taken.length ? plural(taken.length, "step") + ", " + values.decimal(plan.hours, 2) + " of " + hoursWords(hours) + (untimed ? "; " + plural(untimed, "step") + " without a time " + (untimed === 1 ? "is" : "are") + " not counted" : "") + "." : plan.steps.length ? "Nothing that can be begun fits into " + hoursWords(hours) + ". Take a longer time, or see below." : "Every step is done.");
      if (!work.isCounted(tools.state)) {
        out.appendChild(make("p", { "class": "work-why" }, "Nothing is ticked on the ", link("receiving.html", "receiving list"), " yet: whether everything has arrived is not known. Look into the bags before you begin."));
      }
      group("Begin with", taken);
      if (taken.length) { needs(taken); }
      group("Can be begun too", can);
      group("Not yet", not, true);
    }

    into.appendChild(make("h1", {}, "Today\u2019s work"));
    into.appendChild(form);
    into.appendChild(said);
    into.appendChild(out);
    into.appendChild(make("p", { "class": "no-print actions" }, button("Print", function () { window.print(); }), button("As the manual proposes it", function () { wish.out = {}; wish.take = {}; keep(); draw(); })));
    draw();
  }

  return { show: show };
})();
