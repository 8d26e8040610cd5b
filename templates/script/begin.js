page.begin();
// In a frame of anyone's it is no shell.
if (window.parent === window && document.body.getAttribute("data-page") === document.body.getAttribute("data-home") && window.kitwright) { shell.begin(window.kitwright); }
if (document.readyState === "complete") { sayMissing(); } else { window.addEventListener("load", sayMissing); }
