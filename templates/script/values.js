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
    var match = /^(.*?)\s*(mm|cm|in\.?|inch|inches|"|\u2033|\u00b0|deg|lb|lbf|N|in-lb|in lb|N ?m|psi)?$/.exec(text);
    var value = match && number(match[1]);
    if (!value) { return { fault: "This can't be read as a value. Write for example 23 15/16, 23.94 or 608 mm." }; }
    var given = match[2] || shown;
    if (unit !== "in") {
      var same = { "deg": "\u00b0", "lbf": "lb", "in lb": "in-lb", "Nm": "N m" };
      if ((same[given] || given) !== unit) { return { fault: "Give the value in " + unit + "." }; }
      return { value: value, text: match[1].trim() + " " + unit };
    }
    if (/^(in\.?|inch|inches|"|\u2033)$/.test(given)) { return { value: value, text: match[1].trim() + " in" }; }
    if (given === "mm") { return { value: ratio(value.n * 5, value.d * 127), text: match[1].trim() + " mm" }; }
    if (given === "cm") { return { value: ratio(value.n * 50, value.d * 127), text: match[1].trim() + " cm" }; }
    return { fault: "Give a length, in inches or mm." };
  }

  // "", "low" or "high" against bounds that may be none.
  function judge(value, low, high) {
    if (low && compare(value, low) < 0) { return "low"; }
    if (high && compare(value, high) > 0) { return "high"; }
    return "";
  }

  function add(a, b) { return ratio(a.n * b.d + b.n * a.d, a.d * b.d); }

  return { fromText: fromText, pieces: pieces, plain: plain, read: read, judge: judge, decimal: decimal, add: add, compare: compare };
})();
