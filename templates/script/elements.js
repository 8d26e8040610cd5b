// Small pieces that pages and shell share: making elements, looks, what is missing, saving and reading files.

// An element with attributes; text and elements go in as they come. Text is never read as markup.
function make(tag, attributes) {
  var element = document.createElement(tag);
  Object.keys(attributes || {}).forEach(function (name) {
    if (typeof attributes[name] === "function") { element.addEventListener(name, attributes[name]); }
    else if (attributes[name] !== null) { element.setAttribute(name, attributes[name]); }
  });
  for (var i = 2; i < arguments.length; i += 1) {
    var child = arguments[i];
    if (child !== null && child !== undefined) { element.appendChild(typeof child === "string" ? document.createTextNode(child) : child); }
  }
  return element;
}

function all(selector, inside) { return Array.prototype.slice.call((inside || document).querySelectorAll(selector)); }

function empty(element) { while (element.firstChild) { element.removeChild(element.firstChild); } }

// Whether a message can come from a page of this manual, as far as its origin tells: pages from disk have none.
function fromHome(origin) {
  return window.location.protocol === "file:" ? origin === "null" || origin === "file://" || origin === "" : origin === window.location.origin;
}

// Whom a message is for.
function atHome() { return window.location.protocol === "file:" ? "*" : window.location.origin; }

// The browser's own key for printing would print the shell without the page in its frame.
function isPrintKey(event) { return (event.ctrlKey || event.metaKey) && !event.altKey && /^p$/i.test(event.key); }

function isTyping(element) {
  return /^(INPUT|TEXTAREA|SELECT)$/.test(element.tagName) && element.type !== "checkbox" || element.isContentEditable;
}

// Every length on the page in the units asked for, from its exact value.
function showUnits(units) {
  all(".value[data-inches]").forEach(function (element) {
    if (!element.asWritten) { element.asWritten = element.innerHTML; }
    var value = values.fromText(element.getAttribute("data-inches"));
    if (!units || !value) { element.innerHTML = element.asWritten; return; }
    var parts = values.pieces(value, units);
    empty(element);
    if (parts.length === 1) { element.appendChild(document.createTextNode(parts[0])); return; }
    element.appendChild(document.createTextNode(parts[0] + (/\d$/.test(parts[0]) ? " " : "")));
    element.appendChild(make("span", { "class": "fraction" }, make("sup", {}, String(parts[1])), "/", make("sub", {}, String(parts[2]))));
    element.appendChild(document.createTextNode(parts[3]));
  });
}

var looks = { units: ["", "fraction", "decimal", "mm"], text: ["", "large", "larger"], look: ["", "light", "dark", "contrast"] };

// Takes settings only as far as they are known ones.
function showLooks(settings) {
  var root = document.documentElement;
  ["text", "look"].forEach(function (name) {
    var value = looks[name].indexOf(settings[name]) > 0 ? settings[name] : "";
    if (value) { root.setAttribute("data-" + name, value); } else { root.removeAttribute("data-" + name); }
  });
  showUnits(looks.units.indexOf(settings.units) > 0 ? settings.units : "");
}

// Says at the top of the page what the copy lacks.
function sayMissing() {
  var missing = all("img").filter(function (image) { return image.complete && !image.naturalWidth; })
    .map(function (image) { return image.getAttribute("src"); });
  // The style sheet takes the page's margin away.
  if (window.getComputedStyle(document.body).marginTop !== "0px") { missing.push("style.css"); }
  if (document.querySelector("script[src='data.js']") && !window.kitwright) { missing.push("data.js"); }
  if (missing.length) {
    var note = make("p", { "class": "missing", role: "alert" }, "This copy is not whole. Missing or damaged: " + missing.join(", ") + ". Do not build from it; copy it again.");
    document.body.insertBefore(note, document.body.firstChild);
  }
}

// Brings an element into the upper part of the window, at once.
function toView(element) {
  var root = document.documentElement;
  root.style.scrollBehavior = "auto";
  window.scrollTo(window.scrollX, Math.max(0, element.getBoundingClientRect().top + window.scrollY - window.innerHeight / 4));
  root.style.scrollBehavior = "";
}

// Hands a text to the reader as a file.
function saveText(name, text) {
  var link = make("a", { download: name, href: URL.createObjectURL(new Blob([text], { type: "text/plain;charset=utf-8" })) });
  document.body.appendChild(link);
  link.click();
  document.body.removeChild(link);
}

function button(words, act, kind) { return make("button", { type: "button", "class": kind || "", click: act }, words); }

// A table; a row of one cell is a subheading over all of it.
function table(head, rows) {
  var top = make("tr", {}), body = make("tbody", {});
  head.forEach(function (title) { top.appendChild(make("th", { scope: "col" }, title)); });
  rows.forEach(function (cells) {
    var row = make("tr", cells.length === 1 ? { "class": "subheading" } : {});
    cells.forEach(function (cell, at) {
      row.appendChild(make(at ? "td" : "th", at ? { "data-label": head[at] } : { scope: cells.length === 1 ? "rowgroup" : "row", colspan: cells.length === 1 ? head.length : null }, cell));
    });
    body.appendChild(row);
  });
  return make("table", { "class": "table" }, make("thead", {}, top), body);
}

function list(items) {
  var out = make("ul", {});
  items.forEach(function (item) { out.appendChild(make("li", {}, item)); });
  return out;
}

// A link to a view of the shell, and to a page in it.
function link(to, text) { return make("a", { href: "#" + to }, text); }

function pageLink(target) { return link(target.f, (target.n ? target.n + " " : "") + target.t); }
