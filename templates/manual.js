// Turning the pages by key. Classic script, ECMAScript 5, no network: pages open from disk in old browsers.
// Everything can be read and reached without it.
(function () {
  "use strict";

  function target(selector) {
    var link = document.querySelector(".turn " + selector);
    return link ? link.getAttribute("href") : null;
  }

  function isTyping(element) {
    return /^(INPUT|TEXTAREA|SELECT)$/.test(element.tagName) || element.isContentEditable;
  }

  document.addEventListener("keydown", function (event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey || isTyping(event.target)) {
      return;
    }
    var key = event.key;
    var to = null;
    if (key === "ArrowRight" || key === "Right") {
      to = target(".turn-next");
    } else if (key === "ArrowLeft" || key === "Left") {
      to = target(".turn-previous");
    }
    if (to) {
      event.preventDefault();
      window.location.href = to;
    }
  });
})();
