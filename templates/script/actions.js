// The actions of a step: a tick for each, which one is next, and which callouts show what it names. In the record an action is its number and its first words,
// so that in a step that has changed no other one is taken for it.
var actions = (function () {
  var rows = [], digest = "";

  // As they are written: before any length on the page is shown in other units.
  function words(item) {
    var copy = item.cloneNode(true);
    all(".values, .change-mark, .note-mark, ol, ul, table, figure", copy).forEach(function (e) { e.parentNode.removeChild(e); });
    var text = copy.textContent.replace(/\s+/g, " ").trim();
    return text.length > 60 ? text.slice(0, 61).replace(/\s\S*$/, "").slice(0, 60) : text;
  }

  function left() { return rows.filter(function (row) { return !row.box.checked; }); }

  function names(text, name) {
    var at = text.indexOf(name), joins = /[\w\/-]/;
    while (at >= 0) {
      if (!joins.test(text.charAt(at - 1)) && !joins.test(text.charAt(at + name.length))) { return true; }
      at = text.indexOf(name, at + 1);
    }
    return false;
  }

  // The callouts of what an action names, with its values: bold in the figures and in what stands below them.
  function light(item) {
    var text = item ? item.textContent : "";
    all(".legend li[id]").forEach(function (line) {
      var name = line.querySelector("strong"), spot = document.getElementById(line.id.replace("_line-", "_mark-"));
      var lit = !!item && !!name && names(text, name.textContent);
      line.classList.toggle("is-lit", lit);
      if (spot) { spot.classList.toggle("is-lit", lit); }
    });
  }

  function next() {
    var open = left();
    return open.length && open.length < rows.length ? open[0].item : null;
  }

  // Where to go on: the first that is not ticked, once one is.
  function mark() {
    var open = left(), begun = open.length < rows.length;
    light(next());
    rows.forEach(function (row) {
      row.item.classList.toggle("is-next", begun && row === open[0]);
      row.item.classList.toggle("is-ticked", row.box.checked);
    });
  }

  function add(item, number, seen, tools) {
    var name = number + ": " + words(item), box, said;
    seen[name] = (seen[name] || 0) + 1;
    if (seen[name] > 1) { name += " (" + seen[name] + ")"; }
    box = make("input", { type: "checkbox", "aria-label": "Action " + name + ": done" });
    said = make("p", { "class": "ticked-before" });
    said.hidden = true;
    box.addEventListener("change", function () {
      mark();
      var open = left();
      tools.set("action", name, !box.checked ? "" : open.length ? "yes, next " + open[0].number + " of " + rows.length : "yes, all " + rows.length);
    });
    item.addEventListener("mouseenter", function () { light(item); });
    item.addEventListener("mouseleave", function () { light(next()); });
    item.addEventListener("focusin", function () { light(item); });
    item.classList.add("has-tick");
    item.insertBefore(make("label", { "class": "tick-target action-tick" }, box), item.firstChild);
    item.appendChild(said);
    rows.push({ item: item, number: number, box: box });
    tools.field("action", name, function (e) {
      var yes = !!e && /^yes/.test(e.value), old = yes && e.digest !== digest;
      box.checked = yes && !old;
      said.hidden = !old;
      said.textContent = old ? "Ticked " + e.at.slice(0, 10) + ", before this step was changed. Look at it again." : "";
    }, box);
  }

  // `tools`: how the page keeps a field, and how it says what was done.
  function begin(tools) {
    var seen = {};
    digest = tools.digest;
    all(".group-do > ol, .group-do > .changed > ol").forEach(function (list) {
      var number = +list.getAttribute("start") || 1;
      Array.prototype.forEach.call(list.children, function (item) {
        if (item.tagName === "LI" && !item.classList.contains("tick")) { add(item, number, seen, tools); }
        number += 1;
      });
    });
  }

  // Brings the action to go on with into the middle of the window.
  function goOn() {
    var next = left()[0];
    if (!next) { return false; }
    next.box.focus();
    toView(next.item);
    return true;
  }

  // In words, where some are ticked and others are not.
  function missing() {
    var open = left();
    if (!open.length || open.length === rows.length) { return ""; }
    return "Not ticked: " + (open.length === 1 ? "action " : "actions ") + open.map(function (row) { return row.number; }).join(", ") + ".";
  }

  return { begin: begin, mark: mark, goOn: goOn, missing: missing };
})();
