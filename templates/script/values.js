// Exact values: fractions of whole numbers, read from what a builder types and written in the units asked for.
// The rules are those of the paged documents: a fraction is shown only where it is exact.
var values = (function () {
  var LARGEST = 9007199254740991;

  function gcd(a, b) {
    while (b) { var rest = a % b; a = b; b = rest; }
    return a;
  }

  // None where the numbers grow beyond what is exact.
  function ratio(n, d) {
    if (d < 0) { n = -n; d = -d; }
    if (!d || Math.abs(n) > LARGEST || d > LARGEST) { return null; }
    var by = gcd(Math.abs(n), d) || 1;
    return { n: n / by, d: d / by };
  }

  function fromText(text) {
    var match = /^(-?\d+)\/(\d+)$/.exec(text || "");
    return match ? ratio(+match[1], +match[2]) : null;
  }

  // -1, 0 or 1.
  function compare(a, b) {
    var left = a.n * b.d, right = b.n * a.d;
    return left < right ? -1 : left > right ? 1 : 0;
  }

  // At most so many places, halves away from nought, no closing noughts.
  function decimal(value, places) {
    var scale = Math.pow(10, places), d = value.d, n = Math.abs(value.n) * scale;
    var whole = Math.floor(n / d), rest = n - whole * d;
    if (rest * 2 >= d) { whole += 1; }
    var text = String(Math.floor(whole / scale));
    var tail = String(whole % scale);
    while (tail.length < places) { tail = "0" + tail; }
    tail = tail.replace(/0+$/, "");
    return (value.n < 0 && whole > 0 ? "\u2212" : "") + text + (tail ? "." + tail : "");
  }

  // [text, numerator, denominator, text]; the fraction may be left out.
  function inchPieces(value) {
    if (value.d === 1 || [2, 4, 8, 16, 32, 64].indexOf(value.d) < 0) { return [decimal(value, 4) + " in"]; }
    var n = Math.abs(value.n), whole = Math.floor(n / value.d);
    return [(value.n < 0 ? "\u2212" : "") + (whole || ""), n % value.d, value.d, " in"];
  }

  function millimetres(value) {
    var mm = ratio(value.n * 127, value.d * 5);
    return mm && decimal(mm, 1) + " mm";
  }

  // A length in inches as pieces in "fraction", "decimal", "mm" or "both".
  function pieces(value, units) {
    if (units === "mm") { return [millimetres(value)]; }
    if (units === "decimal") { return [decimal(value, 4) + " in"]; }
    var out = inchPieces(value);
    if (units === "both") { out[out.length - 1] += " (" + millimetres(value) + ")"; }
    return out;
  }

  function plain(parts) {
    if (parts.length === 1) { return parts[0]; }
    return parts[0] + (/\d$/.test(parts[0]) ? " " : "") + parts[1] + "/" + parts[2] + parts[3];
  }

  function number(text) {
    var match = /^([-\u2212+]?)\s*(?:(\d{1,6})(?:[\s-]+(\d{1,4})\/(\d{1,4}))?|(\d{1,4})\/(\d{1,4})|(\d{0,6})\.(\d{1,6})|(\d{1,6})\.)$/.exec(text);
    if (!match) { return null; }
    var value;
    if (match[2] !== undefined) {
      value = match[3] === undefined ? ratio(+match[2], 1) : ratio(+match[2] * +match[4] + +match[3], +match[4]);
    } else if (match[5] !== undefined) {
      value = ratio(+match[5], +match[6]);
    } else if (match[8] !== undefined) {
      value = ratio(+(match[7] || "0") * Math.pow(10, match[8].length) + +match[8], Math.pow(10, match[8].length));
    } else {
      value = ratio(+match[9], 1);
    }
    if (value && /[-\u2212]/.test(match[1])) { value.n = -value.n; }
    return value;
  }

  // Reads a typed value as inches, or as the measure's own unit. `shown` is the unit beside the field. Returns
  // { value, text } with the unit written out, or { fault } in words.
  function read(typed, unit, shown) {
    var text = typed.replace(/\u00a0/g, " ").trim();
    if (/,/.test(text)) { return { fault: "Write a point, not a comma." }; }
    var match = /^(.*?)\s*(mm|cm|in\.?|inch|inches|"|\u2033|\u00b0 ?C|\u00b0|deg|lb|lbf|N|in-lb|in lb|N ?m|psi|bar|kg|g|V|A|ohm|\u03a9|litres?|l|L|ml|m2|m\u00b2|C|m)?$/.exec(text);
    var value = match && number(match[1]);
    if (!value) { return { fault: "This can't be read as a value. Write for example 23 15/16, 23.94 or 608 mm." }; }
    var given = match[2] || shown;
    if (unit !== "in") {
      var same = { "deg": "\u00b0", "lbf": "lb", "in lb": "in-lb", "Nm": "N m", "\u03a9": "ohm", "l": "litre", "L": "litre", "litres": "litre", "m2": "m\u00b2", "C": "\u00b0C", "\u00b0 C": "\u00b0C" };
      if ((same[given] || given) !== unit) { return { fault: "Give the value in " + unit + "." }; }
      return { value: value, text: match[1].trim() + " " + unit };
    }
    if (/^(in\.?|inch|inches|"|\u2033)$/.test(given)) { return { value: value, text: match[1].trim() + " in" }; }
    if (given === "mm") { return { value: ratio(value.n * 5, value.d * 127), text: match[1].trim() + " mm" }; }
    if (given === "m") { return { value: ratio(value.n * 5000, value.d * 127), text: match[1].trim() + " m" }; }
    if (given === "cm") { return { value: ratio(value.n * 50, value.d * 127), text: match[1].trim() + " cm" }; }
    return { fault: "Give a length, in inches or mm." };
  }

  // "", "low" or "high" against bounds that may be none.
  function judge(value, low, high) {
    if (low && compare(value, low) < 0) { return "low"; }
    if (high && compare(value, high) > 0) { return "high"; }
    return "";
  }

  function two(n) { return (n < 10 ? "0" : "") + n; }

  // A date and a time as the record writes them, and so many minutes later. By the clock on the wall: no zones.
  function later(at, minutes) {
    var d = new Date(Date.UTC(at[0], at[1] - 1, at[2], at[3], at[4]) + minutes * 60000);
    return d.getUTCFullYear() + "-" + two(d.getUTCMonth() + 1) + "-" + two(d.getUTCDate()) + " " + two(d.getUTCHours()) + ":" + two(d.getUTCMinutes());
  }

  // Reads `2026-12-01 14:30, 18 C` against the maker's times (`15/1:720:10080 20/1:480:7200`: degrees Celsius, then minutes
  // of each state) and the least temperature. Returns { at, text, until: [a time or nothing, ...] }, or { fault } in words.
  function cure(typed, times, least) {
    var text = typed.replace(/\u00a0/g, " ").trim();
    var m = /^(\d{4})-(\d\d?)-(\d\d?)[ T,]+(\d\d?):(\d\d)(?:[ ,]+([-\u2212]?\d{1,3}(?:\.\d)?) ?\u00b0? ?([CF]))?$/.exec(text);
    if (!m) { return { fault: "Write date, time and the coldest temperature, for example 2026-12-01 14:30, 18 C." }; }
    var at = [+m[1], +m[2], +m[3], +m[4], +m[5]], first = later(at, 0);
    if (first !== m[1] + "-" + two(at[1]) + "-" + two(at[2]) + " " + two(at[3]) + ":" + m[5]) { return { fault: "There is no such date or time." }; }
    if (m[6] === undefined) { return { fault: "Add the coldest temperature it will have, for example " + first + ", 18 C." }; }
    var warmth = number(m[6].replace(/^[-\u2212]/, "")), celsius;
    if (/^[-\u2212]/.test(m[6])) { warmth = ratio(-warmth.n, warmth.d); }
    celsius = m[7] === "C" ? warmth : ratio((warmth.n - 32 * warmth.d) * 5, warmth.d * 9);
    var cold = least && compare(celsius, fromText(least)) < 0, until = [], known = false;
    (times || "").split(" ").forEach(function (row) {
      var f = row.split(":"), from = fromText(f[0]);
      if (from && compare(celsius, from) >= 0) { known = true; until = f.slice(1).map(function (n) { return n ? later(at, +n) : ""; }); }
    });
    var said = first + ", " + m[6] + " " + m[7];
    if (cold) { return { fault: "TOO COLD: it does not cure. Stop and ask.", text: said }; }
    if (!known) { return { fault: "The maker gives no time for this temperature: stop and ask.", text: said }; }
    return { at: first, text: said, until: until };
  }

  function add(a, b) { return ratio(a.n * b.d + b.n * a.d, a.d * b.d); }

  return { fromText: fromText, pieces: pieces, plain: plain, read: read, judge: judge, cure: cure, two: two, decimal: decimal, add: add, compare: compare };
})();
