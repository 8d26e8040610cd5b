page.begin();
if (!page.framed && document.body.getAttribute("data-page") === document.body.getAttribute("data-home") && window.kitwright) { shell.begin(window.kitwright); }
if (document.readyState === "complete") { sayMissing(); } else { window.addEventListener("load", sayMissing); }
