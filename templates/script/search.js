// Finding pages, things and bags by words. Every word typed has to be met: as it is, with or without the dashes in it, as a
// beginning, or with a slip of the finger (one from 4 signs, two from 8). A number that is met as it is comes first. What
// was typed is also looked for in other words for the same thing, and a length by its value, whatever unit it is typed in.
var search = (function () {
  var EXACT = 100, BEGINS = 40, SLIP = 10, OTHERWISE = .8, MOST_READINGS = 24;

  function words(text) {
    return text.toLowerCase().split(/[\s,;()"\u00d7]+/).map(function (word) {
      return word.replace(/^[^a-z0-9\u00c0-\uffff]+|[^a-z0-9\u00c0-\uffff]+$/g, "");
    }).filter(function (word) { return word; });
  }

  // Without dashes, points and strokes: `an415a` of `an4-15a`.
  function flat(word) { return word.replace(/[^a-z0-9\u00c0-\uffff]+/g, ""); }

  // Insertions, deletions, changes and swaps of neighbours between two words, or `most` + 1 where there are more.
  function slips(a, b, most) {
    if (Math.abs(a.length - b.length) > most) { return most + 1; }
    var before = [], last = [], now, i, j;
    for (j = 0; j <= b.length; j += 1) { last[j] = j; }
    for (i = 1; i <= a.length; i += 1) {
      now = [i];
      var least = i;
      for (j = 1; j <= b.length; j += 1) {
        var change = a.charCodeAt(i - 1) === b.charCodeAt(j - 1) ? 0 : 1;
        now[j] = Math.min(last[j] + 1, now[j - 1] + 1, last[j - 1] + change);
        if (i > 1 && j > 1 && a.charCodeAt(i - 1) === b.charCodeAt(j - 2) && a.charCodeAt(i - 2) === b.charCodeAt(j - 1)) {
          now[j] = Math.min(now[j], before[j - 2] + 1);
        }
        if (now[j] < least) { least = now[j]; }
      }
      if (least > most) { return most + 1; }
      before = last; last = now;
    }
    return last[b.length];
  }

  // How well a word of the manual meets a typed one; 0 where it does not. `without`: the word without its dashes, where it
  // has any. A length (`=3/2`) is met by itself alone.
  function meets(typed, word, without) {
    if (word === typed) { return EXACT; }
    if (typed.charAt(0) === "=" || word.charAt(0) === "=") { return 0; }
    if (without === undefined) { without = flat(word); }
    var bare = flat(typed);
    if (without && without === bare) { return EXACT; }
    if (word.lastIndexOf(typed, 0) === 0 || without && bare.length > 2 && without.lastIndexOf(bare, 0) === 0) { return BEGINS; }
    var most = typed.length >= 8 ? 2 : typed.length >= 4 ? 1 : 0;
    // A number with another digit is another number.
    if (!most || /\d/.test(typed)) { return 0; }
    var found = slips(typed, word, most);
    return found <= most ? SLIP / found : 0;
  }

  // What is worked out once for a manual: words without their dashes, lengths, other words.
  function prepared(data) {
    if (!data.prepared) {
      var bare = {};
      data.prepared = {
        without: data.words.map(function (word) { var f = flat(word); bare[f] = true; return f === word || word.charAt(0) === "=" ? "" : f; }),
        bare: bare,
        lengths: data.words.filter(function (word) { return word.charAt(0) === "="; }).map(function (word) { return { word: word, value: values.fromText(word.slice(1)) }; }),
        groups: (data.everyday || []).map(function (group) { return group.map(function (phrase) { return { text: phrase, words: words(phrase) }; }); })
      };
    }
    return data.prepared;
  }

  // One word for another, in the plural too; the last one typed may be on its way.
  function isWord(typed, word, unfinished) {
    return typed === word || typed === word + "s" || typed === word + "es" || typed + "s" === word || unfinished && typed.length > 3 && word.lastIndexOf(typed, 0) === 0;
  }

  function swapped(typed, at, count, by) { return typed.slice(0, at).concat(by, typed.slice(at + count)); }

  // The lengths of the manual that a chunk of the query may mean: as inches or as millimetres, as these are shown.
  function lengthsOf(chunk, lengths) {
    var unit = /[a-z"\u2033]/i.test(chunk), found = [];
    ["in", "mm"].forEach(function (shown) {
      var read = unit && shown === "mm" ? {} : values.read(chunk, "in", shown);
      if (!read.value) { return; }
      var asMm = /m\s*$/i.test(chunk) || !unit && shown === "mm", style = asMm ? "mm" : "decimal", as = values.plain(values.pieces(read.value, style));
      lengths.forEach(function (l) {
        if (values.compare(l.value, read.value) === 0 || values.plain(values.pieces(l.value, style)) === as) { found.push(l.word); }
      });
    });
    return found;
  }

  // What a query may mean: lists of words, each with its worth and with the other word that it was read by. That other word
  // stands in `words` from `from` on to before `to`, and is met by itself and its plural alone: nobody has typed it.
  function readings(data, text) {
    var typed = words(text), known = prepared(data), out = [{ words: typed, worth: 1, by: "", from: 0, to: 0 }], at, count;
    function add(list, worth, by, from, to) {
      var same = out.some(function (r) { return r.words.join(" ") === list.join(" "); });
      if (!same && out.length < MOST_READINGS) { out.push({ words: list, worth: worth, by: by, from: from || 0, to: to || 0 }); }
    }
    if (!typed.length) { return []; }
    // A number typed with gaps: `an4 15a`, `m6 x 30`.
    for (at = 0; at < typed.length; at += 1) {
      for (count = 2; count <= 6 && at + count <= typed.length; count += 1) {
        var joined = flat(typed.slice(at, at + count).join(""));
        if (/\d/.test(joined) && Object.prototype.hasOwnProperty.call(known.bare, joined)) { add(swapped(typed, at, count, [joined]), 1, ""); }
      }
    }
    // Other words for the same thing.
    known.groups.forEach(function (group) {
      group.forEach(function (phrase) {
        for (var i = 0; i + phrase.words.length <= typed.length; i += 1) {
          var same = phrase.words.every(function (word, n) { return isWord(typed[i + n], word, i + n === typed.length - 1); });
          if (!same) { continue; }
          group.forEach(function (other) {
            if (other !== phrase) { add(swapped(typed, i, phrase.words.length, other.words), OTHERWISE, other.text, i, i + other.words.length); }
          });
        }
      });
    });
    // A length by its value.
    var raw = text.trim().split(/\s+/);
    for (at = 0; at < raw.length; at += 1) {
      for (count = 3; count > 0; count -= 1) {
        var chunk = raw.slice(at, at + count).join(" ");
        if (at + count > raw.length || !/\d/.test(chunk)) { continue; }
        lengthsOf(chunk, known.lengths).forEach(function (word) {
          add(words(raw.slice(0, at).join(" ")).concat([word], words(raw.slice(at + count).join(" "))), 1, "");
        });
      }
    }
    return out;
  }

  // How well a word of the manual meets the word of a reading at a place in it.
  function meetsIn(reading, at, word, without) {
    var typed = reading.words[at];
    if (at < reading.from || at >= reading.to) { return meets(typed, word, without); }
    return word === typed || word === typed + "s" || without === typed ? EXACT : 0;
  }

  // Places, best first, at most `most`. Equal ones stay in the manual's order. `plain`: as it is typed alone.
  function find(data, text, most, plain) {
    var met = Object.create(null), total = {};
    // The best points of a word at each place.
    function best(reading, turn) {
      var k = (turn >= reading.from && turn < reading.to ? "!" : "") + reading.words[turn];
      if (met[k]) { return met[k]; }
      var points = met[k] = {}, without = prepared(data).without;
      data.words.forEach(function (known, at) {
        var how = meetsIn(reading, turn, known, without[at]);
        if (!how) { return; }
        var posts = data.posts[at];
        for (var i = 0; i < posts.length; i += 2) {
          var worth = how * posts[i + 1];
          if (!(points[posts[i]] >= worth)) { points[posts[i]] = worth; }
        }
      });
      return points;
    }
    readings(data, text).slice(0, plain ? 1 : MOST_READINGS).forEach(function (reading) {
      var sum = null;
      reading.words.forEach(function (word, turn) {
        var points = best(reading, turn), next = {};
        Object.keys(sum || points).forEach(function (place) { if (points[place]) { next[place] = (sum ? sum[place] : 0) + points[place]; } });
        sum = next;
      });
      Object.keys(sum || {}).forEach(function (place) {
        var worth = sum[place] * reading.worth;
        if (!(total[place] >= worth)) { total[place] = worth; }
      });
    });
    return Object.keys(total).map(Number).sort(function (a, b) { return total[b] - total[a] || a - b; }).slice(0, most);
  }

  // The words of a line, and the pieces of those with dashes in them.
  function wordsOf(line) {
    var here = words(line);
    here.slice().forEach(function (word) { if (flat(word) !== word) { here = here.concat(words(word.replace(/[^a-z0-9\u00c0-\uffff]+/g, " "))); } });
    return here;
  }

  // The same as it is looked for in lines: a length as the manual writes it.
  function written(data, reading) {
    var list = [];
    reading.words.forEach(function (word) {
      if (word.charAt(0) !== "=") { list.push(word); return; }
      list = list.concat(words(values.plain(values.pieces(values.fromText(word.slice(1)), data.units))));
    });
    return { words: list, worth: reading.worth, by: reading.by, from: reading.from, to: reading.to, text: list.join(" ") };
  }

  // The line among these that answers a query best: { line, how, by }: `how` is 2 where a reading stands in it word for word,
  // 1 where each of its words does, 0 else; `by` is the other word that the query was read by. `memo` keeps what was compared.
  function line(data, lines, text, memo) {
    var most = 0, found = { line: "", how: 0, by: "" }, all = readings(data, text).map(function (r) { return written(data, r); });
    lines.forEach(function (candidate) {
      var here = memo["_" + candidate] || (memo["_" + candidate] = { words: wordsOf(candidate), text: " " + words(candidate).join(" ") });
      all.forEach(function (reading) {
        var sum = 0, whole = reading.words.length > 0, exact = here.text.indexOf(" " + reading.text) >= 0;
        reading.words.forEach(function (typed, at) {
          var best = 0, strict = at >= reading.from && at < reading.to ? "!" : "?";
          for (var i = 0; i < here.words.length && best < EXACT; i += 1) {
            var k = strict + typed + " " + here.words[i];
            if (memo[k] === undefined) { memo[k] = meetsIn(reading, at, here.words[i]); }
            best = Math.max(best, memo[k]);
          }
          sum += best;
          whole = whole && best > 0;
        });
        sum = sum * reading.worth + (sum && exact ? EXACT * 1000 : sum && whole ? EXACT * 100 : 0);
        if (sum > most) { most = sum; found = { line: candidate, how: exact ? 2 : whole ? 1 : 0, by: reading.by }; }
      });
    });
    return found;
  }

  // The pieces of a line, in turn not met and met by the query: `["Torque the ", "nuts", "."]`.
  function pieces(data, found, text) {
    var out = [""], all = readings(data, text).map(function (r) { return written(data, r); });
    found.split(/(\s+)/).forEach(function (piece) {
      var met = all.some(function (r) {
        return words(piece).some(function (word) { return r.words.some(function (typed, at) { return meetsIn(r, at, word, flat(word)) > 0; }); });
      });
      if ((out.length % 2 === 0) !== met) { out.push(""); }
      out[out.length - 1] += piece;
    });
    return out;
  }

  return { find: find, readings: readings, line: line, pieces: pieces, words: words, slips: slips, meets: meets, flat: flat };
})();
