// Finding pages and things by words. Every word typed has to be met: as it is, as a beginning, or with a slip of the
// finger (one from 4 signs, two from 8). A number that is met as it is comes first.
var search = (function () {
  var EXACT = 100, BEGINS = 40, SLIP = 10;

  function words(text) {
    return text.toLowerCase().split(/[\s,;()"\u00d7]+/).map(function (word) {
      return word.replace(/^[^a-z0-9\u00c0-\uffff]+|[^a-z0-9\u00c0-\uffff]+$/g, "");
    }).filter(function (word) { return word; });
  }

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

  // How well a word of the manual meets a typed one; 0 where it does not.
  function meets(typed, word) {
    if (word === typed) { return EXACT; }
    if (word.lastIndexOf(typed, 0) === 0) { return BEGINS; }
    var most = typed.length >= 8 ? 2 : typed.length >= 4 ? 1 : 0;
    // A number with another digit is another number.
    if (!most || /\d/.test(typed)) { return 0; }
    var found = slips(typed, word, most);
    return found <= most ? SLIP / found : 0;
  }

  // Places, best first, at most `most`. Equal ones stay in the manual's order.
  function find(data, text, most) {
    var typed = words(text), total = {};
    if (!typed.length) { return []; }
    typed.forEach(function (word, turn) {
      var best = {};
      data.words.forEach(function (known, at) {
        var how = meets(word, known);
        if (!how) { return; }
        var posts = data.posts[at];
        for (var i = 0; i < posts.length; i += 2) {
          var points = how * posts[i + 1];
          if (!(best[posts[i]] >= points)) { best[posts[i]] = points; }
        }
      });
      if (turn === 0) { total = best; return; }
      Object.keys(total).forEach(function (place) {
        if (best[place]) { total[place] += best[place]; } else { delete total[place]; }
      });
    });
    return Object.keys(total).map(Number).sort(function (a, b) { return total[b] - total[a] || a - b; }).slice(0, most);
  }

  return { find: find, words: words, slips: slips, meets: meets };
})();
