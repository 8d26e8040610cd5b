// Checks that the pages need no more of a browser than Chrome 54 and Firefox 50 had, both of autumn 2016:
// - every script is ECMAScript 5 (npm `acorn`), and of the names that it calls by, each is in those browsers by
//   some interface or method of that name (npm `@mdn/browser-compat-data`);
// - every property, keyword, function, selector, at-rule and media feature of the style sheet and of the pages' own styles is in
//   them, but for those named below, without which a page still reads well (npm `css-tree`);
// - every element and attribute of the pages is in them, but likewise.
//
// Usage: NODE_PATH=... node baseline.cjs MANUAL
"use strict";

const fs = require("fs");
const path = require("path");
const acorn = require("acorn");
const walk = require("acorn-walk");
const csstree = require("css-tree");
const known = require("@mdn/browser-compat-data");

const OLDEST = { chrome: 54, firefox: 50 };
// What a browser that does not know it leaves out, and what is lost by that.
const LEFT_OUT = {
  "property accent-color": "ticks have the browser's own colour",
  "property color-scheme": "fields stay light in the dark",
  "property print-color-adjust": "marks print without their ground; word and frame stay",
  "property scroll-behavior": "jumps are not smooth",
  "property scroll-padding": "a target stands at the very edge",
  "property scroll-padding-top": "a target stands at the very edge",
  "property text-decoration-thickness": "links have the usual line",
  "property text-size-adjust": "a telephone may choose the size",
  "property text-underline-offset": "links have the usual line",
  "property break-after": "page-break-after says the same",
  "property break-inside": "page-break-inside says the same",
  "keyword position: sticky": "the links to the next page stand at the end of it",
  "keyword justify-content: space-between": "what stands at both ends stands at one",
  "keyword page-break-after: avoid": "a heading may be the last line of a printed sheet",
  "property columns": "choices stand below one another",
  "property orphans": "a line may stand alone on a printed sheet",
  "property widows": "a line may stand alone on a printed sheet",
  "name touches": "pages are turned by their buttons, not by a swipe",
  "name changedTouches": "pages are turned by their buttons, not by a swipe",
  "selector ::marker": "numbers are plain",
  "media prefers-color-scheme": "the page is light until it is told otherwise",
  "media prefers-contrast": "contrast is chosen under Display",
  "media prefers-reduced-motion": "nothing moves",
  "media forced-colors": "the system's colours are not known there",
};

const faults = new Set();
const used = new Set();
const fault = (what, where) => { if (LEFT_OUT[what]) used.add(what); else faults.add(`${what} (${where})`); };

// Whether a feature is in both browsers, if not to its last corner; none where nothing is known of it.
function supported(compat) {
  if (!compat || !compat.support) return undefined;
  return Object.entries(OLDEST).every(([browser, version]) => [].concat(compat.support[browser]).some((s) => {
    if (!s || !s.version_added || s.flags || s.prefix || s.alternative_name) return false;
    const added = s.version_added === "preview" ? Infinity : parseFloat(String(s.version_added).replace("≤", ""));
    return added <= version && !(s.version_removed && parseFloat(s.version_removed) <= version);
  }));
}

// ---- scripts ----
// Every name by which something of the browser's can be called, with whether any of that name is old enough.
const names = new Map();
(function collect(tree, name) {
  if (tree.__compat && name) names.set(name, names.get(name) || supported(tree.__compat) === true);
  Object.entries(tree).forEach(([key, below]) => key !== "__compat" && collect(below, key.replace(/_(static|event)$/, "")));
})({ api: known.api, builtins: known.javascript.builtins }, "");

["prototype", ...Object.keys(known.css.properties)].forEach((name) => names.set(name.replace(/-(.)/g, (_, letter) => letter.toUpperCase()), true));

// Names that the scripts give themselves, all together: the pages' data is one script and what reads it another.
const own = new Set();

function parsed(text, where) {
  let tree;
  try { tree = acorn.parse(text, { ecmaVersion: 5 }); } catch (error) { fault(`script ${error.message}`, where); return null; }
  walk.full(tree, (node) => {
    if (node.type === "Property") own.add(node.key.name || node.key.value);
    if (node.type === "VariableDeclarator" || node.type === "FunctionDeclaration") own.add(node.id.name);
    if (/^Function/.test(node.type)) node.params.forEach((p) => own.add(p.name));
    if (node.type === "AssignmentExpression" && node.left.type === "MemberExpression" && !node.left.computed) own.add(node.left.property.name);
  });
  return tree;
}

function script(tree, where) {
  let seen = 0;
  walk.full(tree, (node) => {
    const name = node.type === "MemberExpression" && !node.computed ? node.property.name : node.type === "Identifier" ? node.name : null;
    if (!name || own.has(name)) return;
    seen += 1;
    if (names.get(name) === false) fault(`name ${name}`, where);
    else if (!names.has(name) && node.type === "MemberExpression") fault(`unknown name ${name}`, where);
  });
  return seen;
}
// ---- styles ----
function style(text, context, where) {
  const tree = csstree.parse(text, { context, parseCustomProperty: false, onParseError: (e) => fault(`style ${e.message}`, where) });
  csstree.walk(tree, {
    visit: undefined,
    enter(node) {
      if (node.type === "Declaration") {
        const property = node.property;
        if (/^--|^-webkit-|^-moz-/.test(property) || property === "word-wrap") return;
        const of = known.css.properties[property];
        const there = supported(of && of.__compat);
        if (there === undefined) fault(`unknown property ${property}`, where);
        if (there === false) fault(`property ${property}`, where);
        if (there && node.value.type === "Value") {
          csstree.walk(node.value, (v) => {
            if (v.type === "Identifier" && of[v.name] && supported(of[v.name].__compat) === false) fault(`keyword ${property}: ${v.name}`, where);
            if (v.type === "Identifier" && known.css.types.color.system && known.css.types.color[v.name]) fault(`keyword ${property}: ${v.name}`, where);
            if (v.type === "Function" && known.css.types[v.name] && supported(known.css.types[v.name].__compat) === false) fault(`function ${v.name}`, where);
            if (v.type === "Function" && !/^(var|calc|rect|rgba?|attr|url)$/.test(v.name)) fault(`function ${v.name}`, where);
          });
        }
      }
      if (node.type === "PseudoClassSelector" || node.type === "PseudoElementSelector") {
        const of = known.css.selectors[node.name];
        if (!of || supported(of.__compat) === undefined) fault(`unknown selector ${node.name}`, where);
        else if (!supported(of.__compat)) fault(`selector ${node.type === "PseudoClassSelector" ? ":" : "::"}${node.name}`, where);
      }
      if (node.type === "Atrule" && !supported((known.css["at-rules"][node.name] || {}).__compat)) fault(`at-rule @${node.name}`, where);
      if (node.type === "Feature") {
        const name = node.name.replace(/^(min|max)-/, "");
        if (!supported((known.css["at-rules"].media[name] || {}).__compat)) fault(`media ${name}`, where);
      }
    },
  });
}

// ---- markup ----
function markup(text, where) {
  for (const [, tag, rest] of text.matchAll(/<([a-z][a-z0-9]*)((?:\s+[a-z-]+(?:="[^"]*")?)*)\s*\/?>/gi)) {
    const of = known.html.elements[tag] || known.svg.elements[tag];
    if (!of) { fault(`unknown element ${tag}`, where); continue; }
    if (supported(of.__compat) === false) fault(`element ${tag}`, where);
    for (const [, name] of rest.matchAll(/\s([a-z-]+)(?:="[^"]*")?/g)) {
      const attribute = (of[name] && of[name].__compat) || (known.html.global_attributes[name] || {}).__compat;
      if (supported(attribute) === false) fault(`attribute ${tag} ${name}`, where);
    }
    const inner = /\sstyle="([^"]*)"/.exec(rest);
    if (inner) style(inner[1], "declarationList", where);
  }
}

const folder = process.argv[2];
let [pages, called] = [0, 0];
const trees = [];
for (const file of fs.readdirSync(folder).sort()) {
  const text = () => fs.readFileSync(path.join(folder, file), "utf8");
  if (file.endsWith(".js")) trees.push([parsed(text(), file), file]);
  if (file.endsWith(".css")) style(text(), "stylesheet", file);
  if (file.endsWith(".html")) { markup(text(), file); pages += 1; }
}
for (const [tree, file] of trees) if (tree) called += script(tree, file);
if (pages < 2 || called < 200) fault(`only ${pages} pages and ${called} names were seen`, folder);
// What is no longer needed is not to be left standing here.
Object.keys(LEFT_OUT).filter((what) => !used.has(what)).forEach((what) => faults.add(`not used any more: ${what}`));
[...faults].forEach((line) => console.log(line));
console.log(`${pages} pages, ${called} names, ${faults.size} faults`);
process.exit(faults.size === 0 ? 0 : 1);
